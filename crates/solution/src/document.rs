//! Documents that hold labels and water reports: TOML and JSON, with faults located.

use guardcell_error::{Code, Error, Place};
use serde::de::DeserializeOwned;

/// A line and column of a text, from 1.
pub(crate) fn place(line: usize, column: usize) -> Place {
    let whole = |n: usize| u64::try_from(n).unwrap_or(u64::MAX);
    Place::default().at_line(whole(line)).at_column(whole(column))
}

/// A JSON document as `T`.
pub(crate) fn json<T: DeserializeOwned>(text: &str) -> Result<T, Error> {
    serde_json::from_str(text).map_err(|e| {
        // serde_json ends its messages with the place, which the error has as a field.
        let message = e.to_string();
        let detail = message.rfind(" at line ").and_then(|i| message.get(..i));
        Error::new(
            if e.is_data() { Code::WrongForm } else { Code::MalformedJson },
            detail.unwrap_or(&message),
            "correct the JSON at this place",
        )
        .placed(place(e.line(), e.column()))
    })
}

/// A TOML document as `T`.
pub(crate) fn toml<T: DeserializeOwned>(text: &str) -> Result<T, Error> {
    ::toml::from_str(text).map_err(|e| {
        let at = e.span().map_or(0, |s| s.start);
        let (number, column) = position(text, at);
        let line = text.lines().nth(number.saturating_sub(1)).unwrap_or("");
        let hint = if has_decimal_comma(line) {
            "use a decimal point: write 15.5, or \"15,5\" in quotes"
        } else {
            "correct the TOML at this place"
        };
        Error::new(Code::MalformedFile, e.message().replace('\n', " "), hint)
            .placed(place(number, column))
    })
}

/// Line and column, from 1, of a byte offset.
fn position(text: &str, at: usize) -> (usize, usize) {
    let before = text.get(..at).unwrap_or(text);
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
    (line, column)
}

/// Whether a line reads `key = 12,3`.
fn has_decimal_comma(line: &str) -> bool {
    line.split_once('=').is_some_and(|(_, v)| {
        let v = v.trim();
        v.contains(',') && v.chars().all(|c| c.is_ascii_digit() || c == ',')
    })
}
