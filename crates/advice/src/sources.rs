//! The works behind the reasons of an answer.

use crate::answer::Citation;
use crate::reason::Reason;
use guardcell_reference::work;

/// Every work that the reasons cite, once, by key.
pub(crate) fn cited<'a>(reasons: impl IntoIterator<Item = &'a Reason>) -> Vec<Citation> {
    let mut keys: Vec<&str> =
        reasons.into_iter().flat_map(|r| r.sources.iter().map(String::as_str)).collect();
    keys.sort_unstable();
    keys.dedup();
    keys.into_iter()
        .filter_map(work)
        .map(|w| Citation {
            key: w.key.to_owned(),
            work: w.citation(),
            doi: (!w.doi.is_empty()).then(|| w.doi.to_owned()),
            read: w.read.words().to_owned(),
        })
        .collect()
}
