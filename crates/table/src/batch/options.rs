//! What is asked of all rows alike.

use crate::function::Once;
use serde_json::{Map, Value};

/// What is asked of all rows alike.
#[derive(Debug, Clone, Default)]
#[non_exhaustive]
pub struct Options {
    /// The columns of the answer, such as `value` or `plants.0.verdict`, or `.` for the whole as
    /// JSON; none: the usual ones of the call, or all fields of the answer where a request is one
    /// column.
    pub columns: Vec<String>,
    /// Fields of the request that are the same for every row.
    pub constants: Map<String, Value>,
    /// What is given once and already read.
    pub once: Once,
    /// A column for the error of a row, with its code, pointer, detail and hint.
    pub error_column: Option<String>,
}

impl Options {
    /// The same with a field of the request that is the same for every row.
    #[must_use]
    pub fn with_constant(mut self, field: impl Into<String>, value: impl Into<Value>) -> Self {
        self.constants.insert(field.into(), value.into());
        self
    }

    /// The same with these columns of the answer.
    #[must_use]
    pub fn with_columns(mut self, columns: &[&str]) -> Self {
        self.columns = columns.iter().map(|c| (*c).to_owned()).collect();
        self
    }

    /// The same with a column for the error of a row.
    #[must_use]
    pub fn with_error_column(mut self, name: impl Into<String>) -> Self {
        self.error_column = Some(name.into());
        self
    }
}
