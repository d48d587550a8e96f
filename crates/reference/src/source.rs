//! The published works that data and checks cite (`data/sources.csv`).

use crate::packed;
use crate::words::words;
use serde::{Deserialize, Serialize};
use std::ops::Range;
use std::sync::LazyLock;

words! {
    /// How much of a work was read by the person who entered it.
    Read {
        /// The full text.
        FullText = "full text",
        /// The abstract only.
        Abstract = "abstract",
        /// A table of it as reprinted in a later work.
        LaterWork = "table in a later work",
        /// Not read: cited from memory.
        Memory = "memory",
    }
}

/// One published work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Work {
    /// The key that other tables cite, such as `winter1983carbon`.
    pub key: &'static str,
    /// The authors as printed.
    pub author: &'static str,
    /// The year, 0 if unknown.
    pub year: u16,
    /// The title.
    pub title: &'static str,
    /// The journal, book or publisher.
    pub container: &'static str,
    /// The volume.
    pub volume: &'static str,
    /// The pages.
    pub pages: &'static str,
    /// The DOI, empty if it has none or it was not seen.
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
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// for w in guardcell::reference::works() {
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

/// A cited work on the wire.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct Citation {
    /// The key, as in the lists of sources of an answer.
    pub key: String,
    /// Author, year, title and place of publication in one line.
    pub work: String,
    /// The DOI, if known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub doi: Option<String>,
    /// How much of it was read by the person who entered it.
    pub read: Read,
}

impl From<&Work> for Citation {
    fn from(w: &Work) -> Self {
        Self {
            key: w.key.to_owned(),
            work: w.citation(),
            doi: (!w.doi.is_empty()).then(|| w.doi.to_owned()),
            read: w.read,
        }
    }
}

/// The works with these keys, in the same order; unknown keys are skipped.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// let key = guardcell::reference::works()[0].key;
/// assert_eq!(guardcell::reference::citations([key, "nosuchkey"])[0].key, key);
/// ```
pub fn citations<'a>(keys: impl IntoIterator<Item = &'a str>) -> Vec<Citation> {
    keys.into_iter().filter_map(work).map(Citation::from).collect()
}

include!(concat!(env!("OUT_DIR"), "/sources.rs"));
include!(concat!(env!("OUT_DIR"), "/lists.rs"));

static WORKS: LazyLock<Vec<Work>> = LazyLock::new(|| {
    packed::rows(PACKED_WORKS, |cells| Work {
        key: cells.text(),
        author: cells.text(),
        title: cells.text(),
        container: cells.text(),
        volume: cells.text(),
        pages: cells.text(),
        doi: cells.text(),
        note: cells.text(),
        year: cells.number(),
        read: cells.word(READS),
    })
});

/// The lists of works that rows of other tables cite: the keys of all, and the part of each.
static LISTS: LazyLock<(Vec<&'static str>, Vec<Range<usize>>)> = LazyLock::new(|| {
    let mut keys = Vec::new();
    let parts = packed::rows(PACKED_LISTS, |cells| {
        let from = keys.len();
        keys.extend(cells.numbers().map(|i| WORKS[usize::from(i)].key));
        from..keys.len()
    });
    (keys, parts)
});

/// The keys of the next list of works of a row.
pub(crate) fn cited(cells: &mut packed::Cells) -> &'static [&'static str] {
    let (keys, parts) = &*LISTS;
    parts.get(usize::from(cells.number())).and_then(|p| keys.get(p.clone())).unwrap_or_default()
}

/// Every work, sorted by key.
#[must_use]
pub fn works() -> &'static [Work] {
    &WORKS
}

/// The work with this key.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// assert!(guardcell::reference::work("nosuchkey").is_none());
/// ```
#[must_use]
pub fn work(key: &str) -> Option<&'static Work> {
    WORKS.binary_search_by(|w| w.key.cmp(key)).ok().map(|i| &WORKS[i])
}
