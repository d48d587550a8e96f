//! What is wrong with a row as text, and where its lines are.

use super::failed::row_error;
use super::split::{Kind, LONGEST_ROW};
use guardcell::Error;
use memchr::memchr_iter;

/// Why a piece is one malformed row.
pub(crate) fn of_kind(kind: Kind) -> Option<Error> {
    match kind {
        Kind::Rows => None,
        Kind::TooLong => Some(row_error(
            format!("the row is longer than {LONGEST_ROW} bytes"),
            "give it apart from the others",
        )),
        Kind::OpenQuote => Some(row_error(
            format!("a quote is opened and not closed within {LONGEST_ROW} bytes"),
            "close the quote, and write a quote within a quoted field twice",
        )),
    }
}

pub(crate) fn not_utf8() -> Error {
    row_error("the row is not UTF-8", "save the file as UTF-8")
}

pub(crate) fn unequal(has: usize, wanted: usize) -> Error {
    row_error(
        format!("this row has {has} fields and the header has {wanted}"),
        "quote a field that holds a comma, and use a point as decimal mark",
    )
}

pub(crate) fn newlines(bytes: &[u8]) -> u64 {
    memchr_iter(b'\n', bytes).count() as u64
}

pub(crate) fn without_ends(mut row: &[u8]) -> &[u8] {
    while let [b'\r' | b'\n', rest @ ..] | [rest @ .., b'\r' | b'\n'] = row {
        row = rest;
    }
    row
}

pub(crate) fn trimmed(row: &[u8]) -> &[u8] {
    row.trim_ascii()
}
