//! The published works that data and checks cite (`data/sources.csv`).

/// How much of a work was read by whoever entered it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Read {
    /// The full text.
    FullText,
    /// The abstract only.
    Abstract,
    /// A table of it as reprinted in a later work.
    LaterWork,
    /// Not at hand: cited from memory.
    Memory,
}

/// One published work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Work {
    /// The key that other tables cite, such as `winter1983carbon`.
    pub key: &'static str,
    /// The authors as printed.
    pub author: &'static str,
    /// The year, 0 where unknown.
    pub year: u16,
    /// The title.
    pub title: &'static str,
    /// The journal, book or publisher.
    pub container: &'static str,
    /// The volume.
    pub volume: &'static str,
    /// The pages.
    pub pages: &'static str,
    /// The DOI, empty where there is none or it was not seen.
    pub doi: &'static str,
    /// How much of it was read.
    pub read: Read,
    /// Remarks.
    pub note: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/sources.rs"));

/// Every work, sorted by key.
#[must_use]
pub fn works() -> &'static [Work] {
    WORKS
}

/// The work with this key.
///
/// ```
/// assert!(guardcell_reference::work("nosuchkey").is_none());
/// ```
#[must_use]
pub fn work(key: &str) -> Option<&'static Work> {
    WORKS.binary_search_by(|w| w.key.cmp(key)).ok().map(|i| &WORKS[i])
}
