//! Rows that could not be answered, and the file that lists them.

use crate::args::BatchFormat;
use guardcell::{Code, Error};
use serde::Serialize;
use std::io::Write;

/// How much of a row is shown.
const SHOWN: usize = 4096;
/// The header of the file of errors, for CSV.
pub(crate) const HEADER: &str = "row,line,code,column,detail,hint,raw\n";

/// The error of a row as a whole.
pub(crate) fn row_error(detail: impl Into<String>, hint: impl Into<String>) -> Error {
    Error::new(Code::MalformedFile, detail, hint)
}

/// The column of a field.
fn column(pointer: &str) -> String {
    let dotted = pointer.trim_start_matches('/').replace('/', ".");
    match dotted.split_once(".0") {
        // One row is one plant and one reading, whatever the lists of the request hold.
        Some(("plants", rest)) => format!("plant{rest}"),
        Some(("readings", rest)) => format!("reading{rest}"),
        _ => dotted,
    }
}

/// An error with its row; row and line count from the beginning of a chunk until it is written.
pub(crate) struct Failed {
    pub(crate) row: u64,
    /// Only a text has lines.
    pub(crate) line: Option<u64>,
    pub(crate) error: Error,
    pub(crate) raw: Vec<u8>,
}

impl Failed {
    pub(crate) fn new(row: u64, line: Option<u64>, error: Error, raw: &[u8]) -> Self {
        let raw = raw.get(..SHOWN).unwrap_or(raw);
        Self { row, line, error, raw: raw.to_vec() }
    }

    /// Writes one line of the file of errors; what is not UTF-8 in the row is shown as U+FFFD.
    pub(crate) fn write(
        &self,
        rows_before: u64,
        lines_before: u64,
        format: BatchFormat,
        out: &mut Vec<u8>,
    ) -> std::io::Result<()> {
        let raw = String::from_utf8_lossy(&self.raw);
        let (row, line) = (rows_before + self.row, self.line.map(|line| lines_before + line));
        let (code, detail, hint) = (self.error.code(), self.error.detail(), self.error.hint());
        match format {
            BatchFormat::Csv => {
                let column = column(self.error.pointer());
                let mut writer = csv::WriterBuilder::new().has_headers(false).from_writer(out);
                writer
                    .serialize((row, line, code, column, detail, hint, raw))
                    .map_err(std::io::Error::other)?;
                writer.flush()
            }
            _ => {
                #[derive(Serialize)]
                struct Line<'a> {
                    row: u64,
                    #[serde(skip_serializing_if = "Option::is_none")]
                    line: Option<u64>,
                    #[serde(flatten)]
                    error: &'a Error,
                    raw: &'a str,
                }
                let line = Line { row, line, error: &self.error, raw: &raw };
                serde_json::to_writer(&mut *out, &line)?;
                out.write_all(b"\n")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pointer_becomes_a_column() {
        assert_eq!(column("/composition/ca_mmol_l"), "composition.ca_mmol_l");
        assert_eq!(column("/plants/0/name"), "plant.name");
        assert_eq!(column("/readings/0/rh_percent"), "reading.rh_percent");
        assert_eq!(column(""), "");
    }

    #[test]
    fn lines_of_the_file_of_errors() {
        let failed = Failed::new(2, Some(3), row_error("it is \"odd\"", "make it even"), b"a,\xff");
        let mut out = Vec::new();
        failed.write(10, 20, BatchFormat::Csv, &mut out).unwrap();
        assert_eq!(
            String::from_utf8(out).unwrap(),
            "12,23,malformed-file,,\"it is \"\"odd\"\"\",make it even,\"a,\u{fffd}\"\n"
        );
        let mut out = Vec::new();
        failed.write(0, 1, BatchFormat::Ndjson, &mut out).unwrap();
        let line: serde_json::Value = serde_json::from_slice(&out).unwrap();
        assert_eq!((line["row"].as_u64(), line["line"].as_u64()), (Some(2), Some(4)));
        assert_eq!(line["raw"], "a,\u{fffd}");
        let no_text = Failed { line: None, ..failed };
        let mut out = Vec::new();
        no_text.write(10, 20, BatchFormat::Csv, &mut out).unwrap();
        assert!(out.starts_with(b"12,,malformed-file,"));
        assert_eq!(line["detail"], "it is \"odd\"");
    }
}
