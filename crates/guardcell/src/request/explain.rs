//! Why a text could not be read as a request. Only asked once reading has failed.

use super::{Readable, Strict};
use guardcell_error::{Code, Error, pointer};
use serde_json::Value;
use serde_path_to_error::Segment;

pub(super) fn explain<T: Readable>(json: &[u8], error: &serde_json::Error) -> Error {
    let value = match serde_json::from_slice::<Value>(json) {
        Ok(value) => value,
        Err(e) => return malformed(json, &e),
    };
    #[cfg(feature = "schema")]
    if let Some(fault) = super::fault::first::<T>(&value) {
        return fault;
    }
    match serde_path_to_error::deserialize::<_, T>(Strict(&value)) {
        // The schema allows it, but the type is read in a narrower way.
        Err(e) => {
            Error::new(Code::WrongForm, e.inner().to_string(), "see the schema of this request")
                .at(at(e.path()))
        }
        // A parsed object has each name once; the text does not.
        Ok(_) => Error::new(
            Code::WrongForm,
            "a field appears more than once in one object",
            "give each field once",
        )
        .on_line(error.line() as u64)
        .at_column(column(json, error)),
    }
}

fn malformed(json: &[u8], error: &serde_json::Error) -> Error {
    let detail = if json.trim_ascii().is_empty() {
        "the text is empty"
    } else if error.is_eof() {
        "the JSON ends too early"
    } else {
        "the text is not valid JSON"
    };
    Error::new(Code::MalformedJson, detail, "send one JSON object (RFC 8259)")
        .on_line((error.line() as u64).max(1))
        .at_column(column(json, error))
}

/// The column in characters, from 1; serde_json counts bytes.
fn column(json: &[u8], error: &serde_json::Error) -> u64 {
    let line = json.split(|&b| b == b'\n').nth(error.line().saturating_sub(1)).unwrap_or_default();
    let before = line.get(..error.column()).unwrap_or(line);
    (String::from_utf8_lossy(before).chars().count() as u64).max(1)
}

/// A path of serde as a JSON Pointer.
fn at(path: &serde_path_to_error::Path) -> String {
    path.iter().fold(String::new(), |at, segment| match segment {
        Segment::Seq { index } => pointer::index(&at, *index),
        Segment::Map { key } => pointer::key(&at, key),
        Segment::Enum { variant } => pointer::key(&at, variant),
        Segment::Unknown => at,
    })
}
