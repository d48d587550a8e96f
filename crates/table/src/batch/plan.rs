//! What is done with every batch of a table.

use super::cells::Cells;
use super::convert;
use super::shape::Shape;
use crate::function::RowAnswer;
use arrow_schema::SchemaRef;
use guardcell::calls::AnyCall;
use serde_json::{Map, Value};

/// What is done with every batch.
pub(super) struct Plan {
    pub(super) rows: Rows,
    /// The columns of the input that are passed along.
    pub(super) passed: Vec<usize>,
    /// The columns of the answer.
    pub(super) answers: Vec<(String, Shape)>,
    pub(super) schema: SchemaRef,
    pub(super) error_column: bool,
    pub(super) input: SchemaRef,
    /// The names of the columns that are read.
    pub(super) read: Vec<String>,
}

/// How a row is asked.
pub(super) enum Rows {
    /// One column is the request.
    Json { call: &'static AnyCall, column: usize, constants: Map<String, Value> },
    /// Columns are fields of the request.
    Flat { answer: RowAnswer, cells: Cells },
    /// Conversions, whose units repeat.
    Convert { kernel: convert::Kernel, cells: Cells },
}
