//! The answer to a row as cells of a table.

use super::failed::row_error;
use guardcell::Error;
use guardcell_table::at;
use serde_json::Value;
use std::io::Write;

/// What stands between the texts of a list.
pub(crate) const BETWEEN: &str = " | ";

/// Writes a value as a cell: a text as it is, a list of texts or of things that have a `message` with
/// bars between, other lists and objects as JSON.
pub(crate) fn write(value: Option<&Value>, out: &mut Vec<u8>) -> std::io::Result<()> {
    match value {
        None | Some(Value::Null) => Ok(()),
        Some(Value::String(s)) => {
            text(s, out);
            Ok(())
        }
        Some(Value::Number(n)) => {
            write!(out, "{n}")?;
            without_point(out);
            Ok(())
        }
        Some(Value::Bool(b)) => write!(out, "{b}"),
        Some(Value::Array(list)) => {
            let messages: Option<Vec<&str>> = list.iter().map(message).collect();
            match messages {
                Some(texts) => text(&texts.join(BETWEEN), out),
                None => text(&Value::from(list.as_slice()).to_string(), out),
            }
            Ok(())
        }
        Some(object) => {
            text(&object.to_string(), out);
            Ok(())
        }
    }
}

/// Writes a number as a cell.
pub(crate) fn number(value: f64, out: &mut Vec<u8>) -> Result<(), Error> {
    serde_json::to_writer(&mut *out, &value).map_err(|e| not_written(&e))?;
    without_point(out);
    Ok(())
}

/// A table has no kinds of number: 1000, not 1000.0.
fn without_point(out: &mut Vec<u8>) {
    if out.ends_with(b".0") {
        out.truncate(out.len() - 2);
    }
}

/// Writes the cells of an answer, each with a comma before it.
pub(crate) fn write_all(answer: &Value, paths: &[String], out: &mut Vec<u8>) -> Result<(), Error> {
    for path in paths {
        out.push(b',');
        write(at(answer, path), out).map_err(|e| not_written(&e))?;
    }
    Ok(())
}

/// An answer that has no form on paper; none is known.
pub(crate) fn not_written(e: &dyn std::fmt::Display) -> Error {
    row_error(format!("the answer cannot be written: {e}"), "report this row")
}

fn message(value: &Value) -> Option<&str> {
    value.as_str().or_else(|| value.get("message")?.as_str())
}

/// Writes a text as a cell, quoted where RFC 4180 asks for it.
pub(crate) fn text(text: &str, out: &mut Vec<u8>) {
    let bytes = text.as_bytes();
    if memchr::memchr3(b'"', b',', b'\n', bytes).is_none() && memchr::memchr(b'\r', bytes).is_none()
    {
        out.extend_from_slice(bytes);
        return;
    }
    out.push(b'"');
    for part in text.split_inclusive('"') {
        out.extend_from_slice(part.as_bytes());
        if part.ends_with('"') {
            out.push(b'"');
        }
    }
    out.push(b'"');
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde_json::json;

    proptest! {
        #[test]
        fn every_text_is_read_back(cells in prop::collection::vec("[a\",\r\n ü]{0,8}", 2..5)) {
            let mut out = Vec::new();
            for (i, cell) in cells.iter().enumerate() {
                if i > 0 {
                    out.push(b',');
                }
                text(cell, &mut out);
            }
            out.push(b'\n');
            let mut reader =
                csv::ReaderBuilder::new().has_headers(false).from_reader(out.as_slice());
            let record = reader.records().next().unwrap().unwrap();
            prop_assert_eq!(record.iter().collect::<Vec<_>>(), cells);
        }
    }

    #[test]
    fn lists_and_what_they_say() {
        let cell = |value: Value| {
            let mut out = Vec::new();
            write(Some(&value), &mut out).unwrap();
            String::from_utf8(out).unwrap()
        };
        assert_eq!(cell(json!(["a", "b"])), "a | b");
        assert_eq!(cell(json!([{"code": "x", "message": "dry, soon"}])), "\"dry, soon\"");
        assert_eq!(cell(json!([1.5, 2])), "\"[1.5,2]\"");
        assert_eq!(cell(json!(null)), "");
        assert_eq!(cell(json!(0.25)), "0.25");
        assert_eq!(cell(json!(1000.0)), "1000");
    }
}
