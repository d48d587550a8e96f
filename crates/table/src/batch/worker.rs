//! Answers record batches, on one thread.

use super::build::{Builder, append};
use super::convert;
use super::errors::error_column;
use super::guard::guarded;
use super::input::{Column, OneRow};
use super::plan::{Plan, Rows};
use crate::kinds::Kinds;
use crate::path::WHOLE;
use arrow_array::{ArrayRef, RecordBatch, RecordBatchOptions};
use arrow_schema::{ArrowError, Schema};
use guardcell::calls::AnyCall;
use guardcell::{Code, Error, pointer};
use serde_json::{Map, Value};
use std::borrow::Cow;
use std::sync::Arc;

/// A batch that was answered.
#[derive(Debug)]
pub struct Answered {
    /// As many rows as were asked, in their order.
    pub answers: RecordBatch,
    /// The rows that could not be answered, counted from 0 in the batch, in order.
    pub failed: Vec<(usize, Error)>,
}

/// Answers batches; remembers units between them.
pub struct Worker {
    plan: Arc<Plan>,
    kinds: Kinds<convert::Made>,
}

impl std::fmt::Debug for Worker {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Worker").field("schema", &self.plan.schema).finish_non_exhaustive()
    }
}

impl Worker {
    pub(super) fn new(plan: Arc<Plan>) -> Self {
        Self { plan, kinds: Kinds::default() }
    }

    /// Answers every row of a batch. `broken` are rows that a reader could not read, counted from
    /// 0 and in order: they are not answered, and their errors are passed on.
    ///
    /// # Errors
    /// [`Code::WrongForm`] for a batch with other columns than were announced.
    pub fn answer(
        &mut self,
        batch: &RecordBatch,
        broken: Vec<(usize, Error)>,
    ) -> Result<Answered, Error> {
        if !same_columns(batch.schema_ref(), &self.plan.input) {
            return Err(Error::new(
                Code::WrongForm,
                "a batch has other columns than the table",
                "give all rows the same columns",
            ));
        }
        self.answered(batch, broken)
            .map_err(|e| Error::internal(format!("the answers do not fit into their columns: {e}")))
    }

    fn answered(
        &mut self,
        batch: &RecordBatch,
        broken: Vec<(usize, Error)>,
    ) -> Result<Answered, ArrowError> {
        let (plan, rows) = (&*self.plan, batch.num_rows());
        let mut failed = broken;
        let answers = match &plan.rows {
            Rows::Convert { kernel, cells } => {
                let columns = cells.columns(batch);
                let kinds = &mut self.kinds;
                let answers = &plan.answers;
                convert::answer(kernel, kinds, cells, &columns, answers, rows, &mut failed)?
            }
            Rows::Flat { answer, cells } => {
                let columns = cells.columns(batch);
                each(plan, rows, &mut failed, |row| {
                    answer(&cells.tree, &OneRow { columns: &columns, row }).map(Made::Value)
                })?
            }
            Rows::Json { call, column, constants } => {
                let column = Column::new(batch.column(*column));
                each(plan, rows, &mut failed, |row| request(plan, call, &column, row, constants))?
            }
        };
        let passed = plan.passed.iter().map(|i| Arc::clone(batch.column(*i)));
        let mut columns: Vec<ArrayRef> = passed.chain(answers).collect();
        if plan.error_column {
            columns.push(error_column(rows, &failed)?);
        }
        let options = RecordBatchOptions::new().with_row_count(Some(rows));
        let schema = Arc::clone(&plan.schema);
        let answers = RecordBatch::try_new_with_options(schema, columns, &options)?;
        Ok(Answered { answers, failed })
    }
}

/// Whether names and types are the same; a column that announced no nulls may have some.
fn same_columns(one: &Schema, other: &Schema) -> bool {
    let columns = |schema: &Schema| schema.fields().len();
    columns(one) == columns(other)
        && one.fields().iter().zip(other.fields()).all(|(one, other)| {
            one.name() == other.name() && one.data_type().equals_datatype(other.data_type())
        })
}

/// An answer, as far as it is needed.
enum Made {
    Value(Value),
    Text(String),
}

/// Answers the rows one by one.
fn each(
    plan: &Plan,
    rows: usize,
    failed: &mut Vec<(usize, Error)>,
    mut answer: impl FnMut(usize) -> Result<Made, Error>,
) -> Result<Vec<ArrayRef>, ArrowError> {
    let mut builders: Vec<Builder> = plan.answers.iter().map(|(_, s)| Builder::new(s)).collect();
    let mut broken = std::mem::take(failed).into_iter().peekable();
    for row in 0..rows {
        let answered = match broken.next_if(|(at, _)| *at == row) {
            Some((_, error)) => Err(error),
            None => guarded(|| answer(row)),
        };
        match answered {
            Ok(Made::Value(value)) => append(&mut builders, &plan.answers, Some(&value)),
            Ok(Made::Text(text)) => builders.iter_mut().for_each(|b| b.append_text(&text)),
            Err(error) => {
                append(&mut builders, &plan.answers, None);
                failed.push((row, error));
            }
        }
    }
    builders.into_iter().map(Builder::finish).collect()
}

/// Answers a request that is one cell.
fn request(
    plan: &Plan,
    call: &AnyCall,
    column: &Column,
    row: usize,
    constants: &Map<String, Value>,
) -> Result<Made, Error> {
    let cell = column.cell(row).ok_or_else(|| {
        Error::new(Code::Missing, "there is no request", "give one as JSON in each row")
    })?;
    let answer = call.run(with(&cell.as_text(), constants)?.as_bytes())?;
    let unread =
        |e: &dyn std::fmt::Display| Error::internal(format!("the answer is not text in JSON: {e}"));
    if plan.answers.iter().all(|(path, _)| path == WHOLE) {
        return String::from_utf8(answer).map(Made::Text).map_err(|e| unread(&e));
    }
    serde_json::from_slice(&answer).map(Made::Value).map_err(|e| unread(&e))
}

/// The request with what is the same for every row.
fn with<'t>(text: &'t str, constants: &Map<String, Value>) -> Result<Cow<'t, str>, Error> {
    if constants.is_empty() {
        return Ok(Cow::Borrowed(text));
    }
    let Ok(Value::Object(mut request)) = serde_json::from_str(text) else {
        // What reads it says what is wrong with it.
        return Ok(Cow::Borrowed(text));
    };
    for (field, value) in constants {
        if request.contains_key(field) {
            return Err(Error::new(
                Code::Conflict,
                "this field is given by the row and once for all rows",
                "give it once",
            )
            .at(pointer::key("", field)));
        }
        request.insert(field.clone(), value.clone());
    }
    Ok(Cow::Owned(Value::Object(request).to_string()))
}
