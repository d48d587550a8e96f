//! A call over the rows of a table: streams of record batches in and out.

use crate::capsule::{self, Batches};
use crate::work::Work;
use arrow_array::{RecordBatch, RecordBatchReader as _};
use arrow_schema::ArrowError;
use guardcell::{Code, Error};
use guardcell_table::batch::{Asked as Prepared, Options, errors, errors_schema};
use pyo3::exceptions::PyRuntimeError;
use pyo3::prelude::*;
use pyo3::types::{PyBytes, PyCapsule};
use serde::Deserialize;
use serde_json::{Map, Value};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// What is asked of all rows alike, as it comes from Python.
#[derive(Deserialize)]
struct Asking {
    #[serde(default)]
    columns: Vec<String>,
    #[serde(default)]
    error_column: Option<String>,
    #[serde(default)]
    constants: Map<String, Value>,
}

/// The thing asked for, or the error as JSON.
type Or<'py, T> = (Option<T>, Option<Bound<'py, PyBytes>>);

fn or<T>(py: Python<'_>, made: Result<T, Error>) -> Or<'_, T> {
    match made {
        Ok(made) => (Some(made), None),
        Err(e) => (None, Some(PyBytes::new(py, &serde_json::to_vec(&e).unwrap_or_default()))),
    }
}

fn prepared(name: &str, input: &arrow_schema::SchemaRef, asking: &[u8]) -> Result<Prepared, Error> {
    let call = guardcell::calls::named(name)?;
    let asking: Asking = serde_json::from_slice(asking).map_err(|e| {
        Error::new(Code::WrongForm, format!("the options cannot be read: {e}"), "see the help")
    })?;
    let mut options = Options::default();
    options.columns = asking.columns;
    options.error_column = asking.error_column;
    options.constants = asking.constants;
    Prepared::new(call, input, options)
}

/// Answers every row of a table.
#[pyfunction]
pub(crate) fn table<'py>(
    py: Python<'py>,
    name: &str,
    data: &Bound<'py, PyAny>,
    asking: &[u8],
    threads: usize,
) -> PyResult<Or<'py, Answers>> {
    let source = capsule::import(data)?;
    let asked = prepared(name, &source.schema(), asking);
    Ok(or(py, asked.map(|asked| Answers::new(Work::new(source, asked.clone(), threads), asked))))
}

/// Prepares a call for tables with these columns.
#[pyfunction]
pub(crate) fn prepare<'py>(
    py: Python<'py>,
    name: &str,
    schema: &Bound<'py, PyAny>,
    asking: &[u8],
) -> PyResult<Or<'py, Asked>> {
    let input = capsule::import_schema(schema)?;
    Ok(or(py, prepared(name, &input, asking).map(Asked)))
}

/// A call that is ready for tables with the same columns.
#[pyclass(frozen)]
pub(crate) struct Asked(Prepared);

#[pymethods]
impl Asked {
    /// Answers every row of a table.
    fn table(&self, data: &Bound<'_, PyAny>, threads: usize) -> PyResult<Answers> {
        let source = capsule::import(data)?;
        Ok(Answers::new(Work::new(source, self.0.clone(), threads), self.0.clone()))
    }

    /// The columns of the answers.
    fn __arrow_c_schema__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyCapsule>> {
        capsule::export_schema(py, self.0.schema())
    }
}

/// What the answers and the errors of one table share.
type Shared = Arc<Mutex<Work>>;

/// A panic while rows were answered leaves nothing half written that is read again.
fn locked(shared: &Shared) -> MutexGuard<'_, Work> {
    shared.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Answers, made as they are read. They may be exported often, for some readers export once to see
/// the columns and again to read, but only one export can be read.
#[pyclass(frozen)]
pub(crate) struct Answers {
    asked: Prepared,
    work: Shared,
    exports: AtomicUsize,
    /// The export that reads, counted from 1.
    reader: Arc<AtomicUsize>,
}

impl Answers {
    fn new(work: Work, asked: Prepared) -> Self {
        let (exports, reader) = (AtomicUsize::new(0), Arc::default());
        Self { asked, work: Arc::new(Mutex::new(work)), exports, reader }
    }
}

#[pymethods]
impl Answers {
    /// The stream of answers.
    #[pyo3(signature = (requested_schema=None))]
    fn __arrow_c_stream__<'py>(
        &self,
        py: Python<'py>,
        requested_schema: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyCapsule>> {
        // Another schema is a wish, by the specification.
        let _ = requested_schema;
        let number = self.exports.fetch_add(1, Ordering::Relaxed) + 1;
        let (work, reader) = (Arc::clone(&self.work), Arc::clone(&self.reader));
        let batches = std::iter::from_fn(move || {
            match reader.compare_exchange(0, number, Ordering::AcqRel, Ordering::Acquire) {
                Err(other) if other != number => {
                    let twice = "these answers were read already: ask for them again";
                    Some(Err(ArrowError::CDataInterface(twice.to_owned())))
                }
                _ => next(&work),
            }
        });
        let schema = Arc::clone(self.asked.schema());
        capsule::export(py, Batches { schema, batches })
    }

    /// The columns of the answers.
    fn __arrow_c_schema__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyCapsule>> {
        capsule::export_schema(py, self.asked.schema())
    }

    /// The errors, as another table: complete when the answers have been read.
    #[getter]
    fn errors(&self) -> Errors {
        Errors(Arc::clone(&self.work))
    }
}

fn next(work: &Shared) -> Option<Result<RecordBatch, ArrowError>> {
    let mut work = locked(work);
    let batch = match work.fetch()? {
        Ok(batch) => batch,
        Err(e) => return Some(Err(e)),
    };
    // Some readers hold the lock of the interpreter while they read; whoever reads, it is let go.
    let (work, mut answered) = (&mut *work, None);
    Python::try_attach(|py| py.detach(|| answered = Some(work.answer(&batch))));
    Some(answered.unwrap_or_else(|| work.answer(&batch)))
}

/// The rows that could not be answered, with their errors.
#[pyclass(frozen)]
pub(crate) struct Errors(Shared);

#[pymethods]
impl Errors {
    /// The stream of errors.
    #[pyo3(signature = (requested_schema=None))]
    fn __arrow_c_stream__<'py>(
        &self,
        py: Python<'py>,
        requested_schema: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyCapsule>> {
        let _ = requested_schema;
        let batch = py.detach(|| {
            let work = locked(&self.0);
            work.ended.then(|| errors(work.failed.iter().map(|(row, e)| (*row, e))))
        });
        let Some(batch) = batch else {
            return Err(PyRuntimeError::new_err(
                "the errors are complete when the answers have been read: read them first",
            ));
        };
        let batches = std::iter::once(batch);
        capsule::export(py, Batches { schema: errors_schema(), batches })
    }

    /// The columns of the errors.
    fn __arrow_c_schema__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyCapsule>> {
        capsule::export_schema(py, &errors_schema())
    }

    /// How many rows could not be answered so far.
    fn __len__(&self, py: Python<'_>) -> usize {
        py.detach(|| locked(&self.0).failed.len())
    }
}
