//! Names other than those of accepted genera (`data/names.csv`): synonyms, hybrid genera,
//! spellings and the abbreviations used in hybrid registration.

use crate::genus::{Genus, genera};
use crate::traits::{Grade, Trait};

/// What kind of name a [`NameRecord`] is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum NameKind {
    /// A generic name now sunk in another genus, or divided among several.
    Synonym,
    /// A hybrid genus.
    Nothogenus,
    /// A common misspelling or variant spelling.
    Spelling,
    /// An abbreviation of a genus.
    Abbreviation,
}

impl NameKind {
    /// The word used in the table.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Synonym => "synonym",
            Self::Nothogenus => "nothogenus",
            Self::Spelling => "spelling",
            Self::Abbreviation => "abbreviation",
        }
    }
}

/// One name that is not an accepted genus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NameRecord {
    /// The name, without the hybrid sign.
    pub name: &'static str,
    /// What kind of name it is.
    pub kind: NameKind,
    /// Its abbreviation in hybrid registration, empty where none.
    pub abbreviation: &'static str,
    /// Whether it is still registered or on new labels (`current`), or only on old ones.
    pub current: bool,
    /// How well the name is known: reported by a work, or entered from memory
    /// ([`Grade::Inferred`]).
    pub grade: Grade,
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
