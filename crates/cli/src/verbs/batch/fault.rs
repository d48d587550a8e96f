//! Rows that could not be answered, and the file they stand in.

use super::cells::CellError;
use crate::args::BatchFormat;
use guardcell::Error;
use serde::Serialize;
use std::io::Write;

/// How much of a row is shown.
const SHOWN: usize = 4096;
/// The header of the file of errors, where it is CSV.
pub(crate) const HEADER: &str = "row,line,at,wrong,right,raw\n";

/// What is wrong in a row.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Fault {
    /// The column, or the JSON Pointer; empty for the whole row.
    pub(crate) at: String,
    pub(crate) wrong: String,
    pub(crate) right: String,
}

impl Fault {
    pub(crate) fn row(wrong: impl Into<String>, right: impl Into<String>) -> Self {
        Self { at: String::new(), wrong: wrong.into(), right: right.into() }
    }

    /// With the JSON Pointer of the place.
    pub(crate) fn by_pointer(error: &Error) -> Self {
        Self {
            at: error.pointer().to_owned(),
            wrong: error.detail().to_owned(),
            right: error.hint().to_owned(),
        }
    }

    /// With the column that the JSON Pointer stands for.
    pub(crate) fn by_column(error: &Error) -> Self {
        let fault = Self::by_pointer(error);
        Self { at: column(&fault.at), ..fault }
    }
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

impl From<CellError> for Fault {
    fn from(e: CellError) -> Self {
        let right = "see the columns in `guardcell help batch` and the request in schemas/";
        if let Some(field) =
            e.wrong.strip_prefix("missing field `").and_then(|w| w.split('`').next())
        {
            let at = if e.at.is_empty() { field.to_owned() } else { format!("{}.{field}", e.at) };
            return Self {
                at,
                wrong: "it is blank, or there is no such column".to_owned(),
                right: "give a value".to_owned(),
            };
        }
        let (wrong, right) = match e.wrong.split_once(", expected ") {
            Some((wrong, words)) if wrong.starts_with("unknown variant ") => {
                let word = wrong.trim_start_matches("unknown variant ");
                (format!("{word} is not known"), format!("write {words}"))
            }
            Some((wrong, right)) => (wrong.to_owned(), format!("it should be {right}")),
            None if e.wrong.ends_with("is not a number") => {
                (e.wrong, "write a number such as 21.5, without a unit".to_owned())
            }
            None => (e.wrong, right.to_owned()),
        };
        Self { at: e.at, wrong, right }
    }
}

/// A fault with its row; row and line count from the beginning of a piece until it is written.
pub(crate) struct Failed {
    pub(crate) row: u64,
    pub(crate) line: u64,
    pub(crate) fault: Fault,
    pub(crate) raw: Vec<u8>,
}

impl Failed {
    pub(crate) fn new(row: u64, line: u64, fault: Fault, raw: &[u8]) -> Self {
        let raw = raw.get(..SHOWN).unwrap_or(raw);
        Self { row, line, fault, raw: raw.to_vec() }
    }

    /// Writes one line of the file of errors; what is not UTF-8 in the row is shown as U+FFFD.
    pub(crate) fn write(
        &self,
        rows_before: u64,
        lines_before: u64,
        format: BatchFormat,
        out: &mut Vec<u8>,
    ) -> std::io::Result<()> {
        #[derive(Serialize)]
        struct Line<'a> {
            row: u64,
            line: u64,
            at: &'a str,
            wrong: &'a str,
            right: &'a str,
            raw: &'a str,
        }
        let raw = String::from_utf8_lossy(&self.raw);
        let line = Line {
            row: rows_before + self.row,
            line: lines_before + self.line,
            at: &self.fault.at,
            wrong: &self.fault.wrong,
            right: &self.fault.right,
            raw: &raw,
        };
        match format {
            BatchFormat::Csv => {
                let mut writer = csv::WriterBuilder::new().has_headers(false).from_writer(out);
                writer.serialize(line).map_err(std::io::Error::other)?;
                writer.flush()
            }
            BatchFormat::Ndjson => {
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
    fn a_word_that_is_not_known() {
        let wrong = "unknown variant `hung`, expected one of `mounted`, `potted`".to_owned();
        let fault = Fault::from(CellError { at: "plant.setting".to_owned(), wrong });
        assert_eq!(fault.at, "plant.setting");
        assert_eq!(fault.wrong, "`hung` is not known");
        assert_eq!(fault.right, "write one of `mounted`, `potted`");
    }

    #[test]
    fn lines_of_the_file_of_errors() {
        let fault = Fault::row("it is \"odd\"", "make it even");
        let failed = Failed::new(2, 3, fault, b"a,\xff");
        let mut out = Vec::new();
        failed.write(10, 20, BatchFormat::Csv, &mut out).unwrap();
        assert_eq!(
            String::from_utf8(out).unwrap(),
            "12,23,,\"it is \"\"odd\"\"\",make it even,\"a,\u{fffd}\"\n"
        );
        let mut out = Vec::new();
        failed.write(0, 1, BatchFormat::Ndjson, &mut out).unwrap();
        let line: serde_json::Value = serde_json::from_slice(&out).unwrap();
        assert_eq!((line["row"].as_u64(), line["line"].as_u64()), (Some(2), Some(4)));
        assert_eq!(line["raw"], "a,\u{fffd}");
    }
}
