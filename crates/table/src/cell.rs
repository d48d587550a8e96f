//! One value of a table, whatever it is stored in.

use std::borrow::Cow;

/// A value of a row that is not empty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cell<'a> {
    /// A text without blanks around it.
    Text(&'a str),
    /// A number of a column of numbers.
    Float(f64),
    /// A whole number of a column of whole numbers.
    Int(i64),
    /// True or false.
    Bool(bool),
}

impl<'a> Cell<'a> {
    /// The text, without the blanks around it; `None` if nothing is left.
    ///
    /// ```
    /// use guardcell_table::Cell;
    /// assert_eq!(Cell::text(" 14 °dH "), Some(Cell::Text("14 °dH")));
    /// assert_eq!(Cell::text("  "), None);
    /// ```
    #[must_use]
    pub fn text(text: &'a str) -> Option<Self> {
        let text = match text.as_bytes() {
            // Nothing to take off.
            [b'!'..=b'~', .., b'!'..=b'~'] => text,
            _ => text.trim(),
        };
        (!text.is_empty()).then_some(Self::Text(text))
    }

    /// The value as text, numbers in their shortest form.
    #[must_use]
    pub fn as_text(self) -> Cow<'a, str> {
        match self {
            Self::Text(text) => Cow::Borrowed(text),
            Self::Float(number) => Cow::Owned(number.to_string()),
            Self::Int(number) => Cow::Owned(number.to_string()),
            Self::Bool(value) => Cow::Borrowed(if value { "true" } else { "false" }),
        }
    }
}

/// The cells of one row.
pub trait Row {
    /// The value of a column; `None` if it is empty.
    fn cell(&self, index: usize) -> Option<Cell<'_>>;
}
