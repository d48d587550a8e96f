//! Labels from JSON.

use super::check::{checked, empty};
use super::product_label::Label;
use crate::document;
use guardcell_error::Error;

pub(super) fn parse(text: &str) -> Result<Vec<Label>, Error> {
    if text.trim().is_empty() {
        return Err(empty());
    }
    let is_list = text.trim_start().starts_with('[');
    let labels: Vec<Label> =
        if is_list { document::json(text)? } else { vec![document::json(text)?] };
    checked(labels, |i| if is_list { format!("/{i}") } else { String::new() })
}
