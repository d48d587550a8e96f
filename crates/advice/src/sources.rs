//! The works behind the reasons of an answer.

use crate::reason::Reason;
use guardcell_reference::{Citation, citations};

/// Every work that the reasons cite, once, by key.
pub(crate) fn cited<'a>(reasons: impl IntoIterator<Item = &'a Reason>) -> Vec<Citation> {
    let mut keys: Vec<&str> =
        reasons.into_iter().flat_map(|r| r.sources.iter().map(String::as_str)).collect();
    keys.sort_unstable();
    keys.dedup();
    citations(keys)
}
