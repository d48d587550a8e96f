//! Names other than those of accepted genera (`data/names.csv`): synonyms, hybrid genera,
//! spellings and the abbreviations used in hybrid registration.

use crate::genus::{Genus, genera};
use crate::traits::Trait;
use crate::words::words;

words! {
    /// What kind of name a [`NameRecord`] is.
    NameKind {
        /// A generic name now included in another genus, or divided among several.
        Synonym = "synonym",
        /// A hybrid genus.
        Nothogenus = "nothogenus",
        /// A common misspelling or variant spelling.
        Spelling = "spelling",
        /// An abbreviation of a genus.
        Abbreviation = "abbreviation",
        /// A common name of the trade.
        Common = "common name",
    }
}

words! {
    /// How well it is known what a name stands for, from least to best.
    NameEvidence {
        /// Entered from memory, not yet checked against a work.
        FromMemory = "from memory",
        /// Reported by the works cited.
        Reported = "reported",
    }
}

/// One name that is not an accepted genus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct NameRecord {
    /// The name, without the hybrid sign.
    pub name: &'static str,
    /// What kind of name it is.
    pub kind: NameKind,
    /// Its abbreviation in hybrid registration, empty if it has none.
    pub abbreviation: &'static str,
    /// Whether it is still registered or on new labels (`current`), or only on old ones.
    pub current: bool,
    /// How well it is known what it stands for.
    pub evidence: NameEvidence,
    /// For a hybrid genus, the trait derived from its parents.
    pub traits: Trait,
    /// Keys of the works.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub notes: &'static str,
    pub(crate) genera: &'static [u16],
}

impl NameRecord {
    /// The accepted genera it stands for (several where a genus was divided), or the parents of
    /// a hybrid genus.
    pub fn genera(&self) -> impl ExactSizeIterator<Item = &'static Genus> + Clone + use<> {
        // The build writes the indices from the same sorted table, so they are always inside.
        self.genera.iter().map(|&i| &genera()[usize::from(i)])
    }
}

include!(concat!(env!("OUT_DIR"), "/names.rs"));

/// Every name that is not an accepted genus, sorted by name.
#[must_use]
pub fn names() -> &'static [NameRecord] {
    NAMES
}
