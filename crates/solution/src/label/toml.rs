//! Labels from TOML.

use super::check::{checked, empty};
use super::product_label::Label;
use crate::document;
use guardcell_error::Error;
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Several {
    label: Vec<Label>,
}

pub(super) fn parse(text: &str) -> Result<Vec<Label>, Error> {
    if text.trim().is_empty() {
        return Err(empty());
    }
    let several = text.lines().any(|l| l.trim_start().starts_with("[[label]]"));
    if several {
        let all: Several = document::toml(text)?;
        checked(all.label, |i| format!("/label/{i}"))
    } else {
        checked(vec![document::toml(text)?], |_| String::new())
    }
}
