//! Labels from TOML.

use super::Label;
use guardcell_error::{Code, Error};
use serde::Deserialize;
use serde::de::DeserializeOwned;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Several {
    label: Vec<Label>,
}

pub(super) fn parse(text: &str) -> Result<Vec<Label>, Error> {
    if text.trim().is_empty() {
        return Err(super::empty());
    }
    let several = text.lines().any(|l| l.trim_start().starts_with("[[label]]"));
    if several {
        let all: Several = document(text)?;
        super::checked(all.label, |i| format!("/label/{i}"))
    } else {
        super::checked(vec![document(text)?], |_| String::new())
    }
}

/// A TOML document as `T`, with faults located by line and column.
pub(crate) fn document<T: DeserializeOwned>(text: &str) -> Result<T, Error> {
    ::toml::from_str(text).map_err(|e| {
        let at = e.span().map_or(0, |s| s.start);
        let (number, column) = position(text, at);
        let line = text.lines().nth(number.saturating_sub(1)).unwrap_or("");
        let hint = if decimal_comma(line) {
            "use a decimal point: write 15.5, or \"15,5\" in quotes"
        } else {
            "correct the TOML at this place"
        };
        Error::new(Code::MalformedFile, e.message().replace('\n', " "), hint)
            .placed(super::place(number, column))
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
fn decimal_comma(line: &str) -> bool {
    line.split_once('=').is_some_and(|(_, v)| {
        let v = v.trim();
        v.contains(',') && v.chars().all(|c| c.is_ascii_digit() || c == ',')
    })
}
