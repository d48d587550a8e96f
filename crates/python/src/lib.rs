//! The part of the Python package in Rust: JSON in, JSON out, and tables of Arrow in and out. Types,
//! functions and errors are in `python/guardcell/`.

mod capsule;
mod table;
mod work;

use guardcell::Error;
use guardcell::calls::named;
use pyo3::prelude::*;
use pyo3::types::PyBytes;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Answers a call: whether it was answered, and the answer or the error as JSON. Other threads of
/// Python run meanwhile.
#[pyfunction]
fn answer<'py>(py: Python<'py>, name: &str, request: &[u8]) -> (bool, Bound<'py, PyBytes>) {
    let (answered, text) = py.detach(|| {
        // Nothing that it borrows is seen again after it unwound.
        let done = catch_unwind(AssertUnwindSafe(|| named(name)?.run(request)));
        match done.unwrap_or_else(|_| Err(Error::internal("the calculation broke off"))) {
            Ok(answer) => (true, answer),
            Err(e) => (false, serde_json::to_vec(&e).unwrap_or_default()),
        }
    });
    (answered, PyBytes::new(py, &text))
}

/// The example request of a call, as JSON; `None` if no call has this name.
#[pyfunction]
fn example(name: &str) -> Option<&'static str> {
    guardcell::calls::find(name).map(guardcell::calls::AnyCall::example)
}

/// The part in Rust.
#[pymodule]
#[pyo3(name = "_native")]
fn native(module: &Bound<'_, PyModule>) -> PyResult<()> {
    module.add("VERSION", env!("CARGO_PKG_VERSION"))?;
    module.add_function(wrap_pyfunction!(answer, module)?)?;
    module.add_function(wrap_pyfunction!(example, module)?)?;
    module.add_function(wrap_pyfunction!(table::table, module)?)?;
    module.add_function(wrap_pyfunction!(table::prepare, module)?)?;
    module.add_class::<table::Asked>()?;
    module.add_class::<table::Answers>()?;
    module.add_class::<table::Errors>()
}
