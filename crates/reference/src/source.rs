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

impl Read {
    /// The words used in the table.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::FullText => "full text",
            Self::Abstract => "abstract",
            Self::LaterWork => "table in a later work",
            Self::Memory => "memory",
        }
    }
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

impl Work {
    /// The work as a line of a list of references.
    ///
    /// ```
    /// for w in guardcell_reference::works() {
    ///     assert!(w.citation().starts_with(w.author));
    /// }
    /// ```
    #[must_use]
    pub fn citation(&self) -> String {
        let mut text = self.author.to_owned();
        if self.year > 0 {
            text.push_str(&format!(" ({})", self.year));
        }
        if !self.title.is_empty() {
            text.push_str(&format!(" {}.", self.title.trim_end_matches('.')));
        }
        if !self.container.is_empty() {
            text.push_str(&format!(" {}", self.container));
            if !self.volume.is_empty() {
                text.push_str(&format!(" {}", self.volume));
            }
            if !self.pages.is_empty() {
                text.push_str(&format!(": {}", self.pages));
            }
            text.push('.');
        }
        if !self.doi.is_empty() {
            text.push_str(&format!(" https://doi.org/{}", self.doi));
        }
        text
    }
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
