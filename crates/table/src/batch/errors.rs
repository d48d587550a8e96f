//! Errors as columns.

use arrow_array::builder::{Int64Builder, StringBuilder};
use arrow_array::{ArrayRef, RecordBatch, StructArray};
use arrow_buffer::NullBufferBuilder;
use arrow_schema::{ArrowError, DataType, Field, Fields, Schema, SchemaRef};
use guardcell::Error;
use std::sync::Arc;

/// The parts of an error, in the order of the columns.
const PARTS: [&str; 4] = ["code", "pointer", "detail", "hint"];

fn parts(error: &Error) -> [&str; 4] {
    [error.code().as_str(), error.pointer(), error.detail(), error.hint()]
}

/// The columns of a table of errors: `row`, counted from 1, and what an error has.
#[must_use]
pub fn errors_schema() -> SchemaRef {
    let row = Field::new("row", DataType::Int64, false);
    let parts = PARTS.map(|name| Field::new(name, DataType::Utf8, false));
    Arc::new(Schema::new(std::iter::once(row).chain(parts).collect::<Vec<_>>()))
}

/// Errors as a table, each with the number of its row.
///
/// # Errors
/// Never with rows as they come from a worker; the type is that of making a batch.
pub fn errors<'e>(
    failed: impl IntoIterator<Item = (u64, &'e Error)>,
) -> Result<RecordBatch, ArrowError> {
    let mut rows = Int64Builder::new();
    let mut texts: [StringBuilder; 4] = std::array::from_fn(|_| StringBuilder::new());
    for (row, error) in failed {
        rows.append_value(i64::try_from(row).unwrap_or(i64::MAX));
        for (column, part) in texts.iter_mut().zip(parts(error)) {
            column.append_value(part);
        }
    }
    let mut columns: Vec<ArrayRef> = vec![Arc::new(rows.finish())];
    columns.extend(texts.map(|mut column| Arc::new(column.finish()) as ArrayRef));
    RecordBatch::try_new(errors_schema(), columns)
}

/// The fields of the error of a row.
pub(super) fn error_fields() -> Fields {
    PARTS.iter().map(|name| Field::new(*name, DataType::Utf8, true)).collect()
}

/// The errors of the rows of a batch as a column; null where a row was answered.
pub(super) fn error_column(rows: usize, failed: &[(usize, Error)]) -> Result<ArrayRef, ArrowError> {
    let mut nulls = NullBufferBuilder::new(rows);
    let mut texts: [StringBuilder; 4] = std::array::from_fn(|_| StringBuilder::new());
    let mut failed = failed.iter().peekable();
    for row in 0..rows {
        match failed.next_if(|(at, _)| *at == row) {
            Some((_, error)) => {
                nulls.append_non_null();
                for (column, part) in texts.iter_mut().zip(parts(error)) {
                    column.append_value(part);
                }
            }
            None => {
                nulls.append_null();
                texts.iter_mut().for_each(StringBuilder::append_null);
            }
        }
    }
    let columns = texts.map(|mut column| Arc::new(column.finish()) as ArrayRef).to_vec();
    Ok(Arc::new(StructArray::try_new(error_fields(), columns, nulls.finish())?))
}
