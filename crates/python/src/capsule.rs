//! The PyCapsule interface of Arrow, so that any library of tables gives and takes rows without a
//! copy. The one file with `unsafe`: two structures that come from C.

use arrow_array::ffi::FFI_ArrowSchema;
use arrow_array::ffi_stream::{FFI_ArrowArrayStream, RecordBatchStreamReader};
use arrow_array::{RecordBatch, RecordBatchReader};
use arrow_schema::{ArrowError, Schema, SchemaRef};
use pyo3::exceptions::{PyTypeError, PyValueError};
use pyo3::prelude::*;
use pyo3::types::PyCapsule;
use std::ffi::CStr;
use std::sync::Arc;

const STREAM: &CStr = c"arrow_array_stream";
const SCHEMA: &CStr = c"arrow_schema";

/// Asks an object for a capsule.
fn capsule<'py>(object: &Bound<'py, PyAny>, method: &str) -> PyResult<Bound<'py, PyCapsule>> {
    let Some(ask) = object.getattr_opt(method)? else {
        let kind = object.get_type().fully_qualified_name()?;
        return Err(PyTypeError::new_err(format!(
            "{kind} has no {method}; give a table, a record batch, a reader or a data frame of \
             pyarrow, polars, pandas or DuckDB"
        )));
    };
    Ok(ask.call0()?.cast_into::<PyCapsule>()?)
}

/// Takes over the rows of any object with `__arrow_c_stream__`.
pub(crate) fn import(object: &Bound<'_, PyAny>) -> PyResult<RecordBatchStreamReader> {
    let capsule = capsule(object, "__arrow_c_stream__")?;
    let stream = capsule.pointer_checked(Some(STREAM))?;
    // SAFETY: a capsule of this name holds an ArrowArrayStream, which is moved out: what remains in
    // the capsule is marked as released, so that its own destructor frees nothing.
    let reader = unsafe { RecordBatchStreamReader::from_raw(stream.as_ptr().cast()) };
    reader.map_err(|e| PyValueError::new_err(e.to_string()))
}

/// Reads the columns of any object with `__arrow_c_schema__`.
pub(crate) fn import_schema(object: &Bound<'_, PyAny>) -> PyResult<SchemaRef> {
    let capsule = capsule(object, "__arrow_c_schema__")?;
    let schema = capsule.pointer_checked(Some(SCHEMA))?;
    // SAFETY: a capsule of this name holds an ArrowSchema, which it keeps and frees; it is only read
    // here, while the capsule is alive.
    let schema = unsafe { schema.cast::<FFI_ArrowSchema>().as_ref() };
    Schema::try_from(schema).map(Arc::new).map_err(|e| PyValueError::new_err(e.to_string()))
}

/// Hands rows over.
pub(crate) fn export<'py>(
    py: Python<'py>,
    reader: impl RecordBatchReader + Send + 'static,
) -> PyResult<Bound<'py, PyCapsule>> {
    PyCapsule::new_with_value(py, FFI_ArrowArrayStream::new(Box::new(reader)), STREAM)
}

/// Hands the names and types of columns over.
pub(crate) fn export_schema<'py>(
    py: Python<'py>,
    schema: &Schema,
) -> PyResult<Bound<'py, PyCapsule>> {
    let schema =
        FFI_ArrowSchema::try_from(schema).map_err(|e| PyValueError::new_err(e.to_string()))?;
    PyCapsule::new_with_value(py, schema, SCHEMA)
}

/// Batches with the columns that all of them have.
pub(crate) struct Batches<I> {
    pub(crate) schema: SchemaRef,
    pub(crate) batches: I,
}

impl<I: Iterator<Item = Result<RecordBatch, ArrowError>>> Iterator for Batches<I> {
    type Item = Result<RecordBatch, ArrowError>;

    fn next(&mut self) -> Option<Self::Item> {
        self.batches.next()
    }
}

impl<I: Iterator<Item = Result<RecordBatch, ArrowError>>> RecordBatchReader for Batches<I> {
    fn schema(&self) -> SchemaRef {
        Arc::clone(&self.schema)
    }
}
