//! The header of a table as text.

use super::split::{Kind, Splitter};
use crate::args::Batch;
use crate::error::{bad_file, io};
use guardcell::Error;
use guardcell_table::Given;
use std::io::Read;

/// What is wrong with the header.
pub(crate) fn fault(args: &Batch, wrong: String, right: String) -> Error {
    let place = if args.input.as_os_str() == "-" {
        "standard input".to_owned()
    } else {
        args.input.display().to_string()
    };
    bad_file(place, wrong, right).on_line(1)
}

/// The flag of what is given once.
pub(crate) const fn flag(given: Given) -> &'static str {
    match given {
        Given::Site => "--site",
        Given::Label => "--label",
        Given::Water => "--water",
    }
}

/// What is read and what only passes, so that a misspelt column is seen.
pub(crate) fn told(read: &[String], passed: &[&str]) -> String {
    let mut line = format!("read: {}", read.join(", "));
    if !passed.is_empty() {
        line.push_str("; passed along: ");
        line.push_str(&passed.join(", "));
    }
    line
}

/// The names of the columns and the lines they take.
pub(crate) fn columns<R: Read>(
    splitter: &mut Splitter<R>,
    args: &Batch,
) -> Result<(Vec<String>, u64), Error> {
    let fault = |wrong: String, right: String| fault(args, wrong, right);
    let mut lines = 0;
    loop {
        let piece = splitter.row().map_err(|what| io(&args.input, what))?.ok_or_else(|| {
            fault("the table is empty".to_owned(), "give a header and rows".to_owned())
        })?;
        lines += memchr::memchr_iter(b'\n', &piece.bytes).count() as u64;
        if piece.kind != Kind::Rows {
            return Err(fault(
                "the header is longer than a row may be, or opens a quote that is not closed"
                    .to_owned(),
                "write the names of the columns, separated by commas".to_owned(),
            ));
        }
        if piece.bytes.trim_ascii().is_empty() {
            continue;
        }
        let text = std::str::from_utf8(&piece.bytes).map_err(|_| {
            fault("the header is not UTF-8".to_owned(), "save the file as UTF-8".to_owned())
        })?;
        if !text.contains(',') && text.contains(';') {
            return Err(fault(
                "the columns are separated by semicolons".to_owned(),
                "save the table with commas between columns and a point as decimal mark".to_owned(),
            ));
        }
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(text.as_bytes());
        let record = reader.records().next().and_then(Result::ok).ok_or_else(|| {
            fault("the header is not CSV".to_owned(), "write it by RFC 4180".to_owned())
        })?;
        let columns: Vec<String> = record.iter().map(str::to_owned).collect();
        for (i, name) in columns.iter().enumerate() {
            if columns.iter().take(i).any(|n| n == name) {
                return Err(fault(
                    format!("duplicate column `{name}`"),
                    "keep one of them".to_owned(),
                ));
            }
        }
        return Ok((columns, lines));
    }
}
