//! Answers as bytes of their format.

use super::super::columns;
use crate::args::BatchFormat;
use arrow_array::RecordBatch;
use arrow_ipc::writer::StreamWriter;
use arrow_schema::{ArrowError, SchemaRef};
use guardcell_table::batch::{Answered, Values};
use serde_json::Value;

/// Writes batches of answers.
pub(super) enum Writer {
    Csv,
    Ndjson,
    /// For files of Arrow and Parquet: a stream of Arrow, which grows at its end.
    Stream(Box<StreamWriter<Vec<u8>>>),
}

impl Writer {
    pub(super) fn new(format: BatchFormat, schema: &SchemaRef) -> Result<Self, ArrowError> {
        Ok(match format {
            BatchFormat::Csv => Self::Csv,
            BatchFormat::Ndjson => Self::Ndjson,
            BatchFormat::Arrow | BatchFormat::Parquet => {
                let mut writer = StreamWriter::try_new(Vec::new(), schema)?;
                writer.get_mut().clear();
                Self::Stream(Box::new(writer))
            }
        })
    }

    pub(super) fn write(
        &mut self,
        answered: &Answered,
        out: &mut Vec<u8>,
    ) -> Result<(), ArrowError> {
        match self {
            Self::Csv => csv(answered, out),
            Self::Ndjson => ndjson(answered, out),
            Self::Stream(writer) => {
                writer.write(&answered.answers)?;
                out.append(writer.get_mut());
                Ok(())
            }
        }
    }
}

/// What comes before all answers.
pub(super) fn head(format: BatchFormat, schema: &SchemaRef) -> Result<Vec<u8>, ArrowError> {
    let mut head = Vec::new();
    match format {
        BatchFormat::Csv => {
            for (i, field) in schema.fields().iter().enumerate() {
                if i > 0 {
                    head.push(b',');
                }
                columns::text(field.name(), &mut head);
            }
            head.push(b'\n');
        }
        BatchFormat::Ndjson => {}
        BatchFormat::Arrow | BatchFormat::Parquet => {
            head = std::mem::take(StreamWriter::try_new(Vec::new(), schema)?.get_mut());
        }
    }
    Ok(head)
}

/// Rows of a table, without those that could not be answered.
fn csv(answered: &Answered, out: &mut Vec<u8>) -> Result<(), ArrowError> {
    let values = Values::new(&answered.answers);
    let mut failed = answered.failed.iter().peekable();
    for row in 0..answered.answers.num_rows() {
        if failed.next_if(|(at, _)| *at == row).is_some() {
            continue;
        }
        for column in 0..answered.answers.num_columns() {
            if column > 0 {
                out.push(b',');
            }
            columns::write(Some(&values.get(column, row)), out)?;
        }
        out.push(b'\n');
    }
    Ok(())
}

/// A line for each row: the answer, or null.
fn ndjson(answered: &Answered, out: &mut Vec<u8>) -> Result<(), ArrowError> {
    let batch: &RecordBatch = &answered.answers;
    // The answer as a whole is the last column.
    let last = batch.num_columns().saturating_sub(1);
    let values = Values::new(batch);
    for row in 0..batch.num_rows() {
        match values.get(last, row) {
            Value::String(answer) => out.extend_from_slice(answer.as_bytes()),
            _ => out.extend_from_slice(b"null"),
        }
        out.push(b'\n');
    }
    Ok(())
}
