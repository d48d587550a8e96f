//! Labels from JSON.

use super::Label;
use crate::error::{Place, SolutionError};

pub(super) fn parse(text: &str) -> Result<Vec<Label>, SolutionError> {
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

pub(crate) fn fault(e: &serde_json::Error) -> SolutionError {
    SolutionError::syntax(
        Place::Line { line: e.line(), column: e.column() },
        strip_place(&e.to_string()),
        "Correct the JSON at this place",
    )
}

/// serde_json ends its messages with ` at line 1 column 2`, which the place says already.
fn strip_place(message: &str) -> &str {
    message.rfind(" at line ").and_then(|i| message.get(..i)).unwrap_or(message)
}
