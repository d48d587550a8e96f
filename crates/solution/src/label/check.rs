//! Checking labels after reading.

use super::analysis::Analysis;
use super::product_label::Label;
use guardcell_error::{Code, Error};

/// The error of an input without content.
pub(super) fn empty() -> Error {
    Error::new(Code::Missing, "the label is empty", "give a name and a guaranteed analysis")
}

/// Checks each label, locating faults by the pointer of its place in the document.
pub(super) fn checked(
    labels: Vec<Label>,
    pointer: impl Fn(usize) -> String,
) -> Result<Vec<Label>, Error> {
    if labels.is_empty() {
        return Err(empty());
    }
    for (i, label) in labels.iter().enumerate() {
        Analysis::of(label).map_err(|e| e.within(&pointer(i)))?;
    }
    Ok(labels)
}
