//! Labels from JSON.

use super::Label;
use super::place;
use guardcell_error::{Code, Error};

pub(super) fn parse(text: &str) -> Result<Vec<Label>, Error> {
    if text.trim().is_empty() {
        return Err(super::empty());
    }
    let is_list = text.trim_start().starts_with('[');
    let labels: Vec<Label> = if is_list {
        serde_json::from_str(text).map_err(|e| fault(&e))?
    } else {
        vec![serde_json::from_str(text).map_err(|e| fault(&e))?]
    };
    super::checked(labels, |i| if is_list { format!("/{i}") } else { String::new() })
}

pub(crate) fn fault(e: &serde_json::Error) -> Error {
    Error::new(Code::MalformedJson, strip_place(&e.to_string()), "correct the JSON at this place")
        .placed(place(e.line(), e.column()))
}

/// serde_json ends its messages with ` at line 1 column 2`, which the place says already.
fn strip_place(message: &str) -> &str {
    message.rfind(" at line ").and_then(|i| message.get(..i)).unwrap_or(message)
}
