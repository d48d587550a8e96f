//! Where in a file or on a command line a fault lies.

use core::fmt;
use serde::{Deserialize, Serialize};

/// Where in a file, a text or on a command line a fault lies. Lines and columns count from 1,
/// columns in characters.
///
/// ```
/// use guardcell_error::Place;
/// let place = Place::default().in_file("collection.csv").at_line(3).at_column(7);
/// assert_eq!(place.to_string(), "collection.csv:3:7");
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "ErrorPlace"))]
#[non_exhaustive]
pub struct Place {
    /// The flag or argument of a command, such as `--at`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub argument: Option<String>,
    /// The file, as it was named by the person who gave it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// The line, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line: Option<u64>,
    /// The column in characters, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub column: Option<u64>,
}

impl Place {
    /// The same for a flag or argument of a command.
    #[must_use]
    pub fn of_argument(mut self, argument: impl Into<String>) -> Self {
        self.argument = Some(argument.into());
        self
    }

    /// The same in a file.
    #[must_use]
    pub fn in_file(mut self, file: impl Into<String>) -> Self {
        self.file = Some(file.into());
        self
    }

    /// The same on a line.
    #[must_use]
    pub fn at_line(mut self, line: u64) -> Self {
        self.line = Some(line);
        self
    }

    /// The same at a column.
    #[must_use]
    pub fn at_column(mut self, column: u64) -> Self {
        self.column = Some(column);
        self
    }

    /// Whether nothing is known.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(argument) = &self.argument {
            f.write_str(argument)?;
            if self.file.is_some() || self.line.is_some() || self.column.is_some() {
                f.write_str(": ")?;
            }
        }
        match (&self.file, self.line, self.column) {
            (Some(file), Some(line), Some(column)) => write!(f, "{file}:{line}:{column}"),
            (Some(file), Some(line), None) => write!(f, "{file}:{line}"),
            (Some(file), None, Some(column)) => write!(f, "{file}, column {column}"),
            (Some(file), None, None) => f.write_str(file),
            (None, Some(line), Some(column)) => write!(f, "line {line}, column {column}"),
            (None, Some(line), None) => write!(f, "line {line}"),
            (None, None, Some(column)) => write!(f, "column {column}"),
            (None, None, None) => Ok(()),
        }
    }
}
