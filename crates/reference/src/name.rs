//! Names other than those of accepted genera (`data/names.csv`): synonyms, hybrid genera,
//! spellings and the abbreviations used in hybrid registration.

use crate::genus::{Genus, genera};
use crate::packed;
use crate::source::cited;
use crate::traits::Trait;
use crate::words::words;
use std::sync::LazyLock;

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
    /// The part of `NAMES.genera` that is its own.
    genera: (u16, u16),
}

impl NameRecord {
    /// The accepted genera it stands for (several where a genus was divided), or the parents of
    /// a hybrid genus.
    pub fn genera(&self) -> impl ExactSizeIterator<Item = &'static Genus> + Clone + use<> {
        // The build writes the indices from the same sorted table, so they are always inside.
        let (from, to) = (usize::from(self.genera.0), usize::from(self.genera.1));
        NAMES.genera[from..to].iter().map(|&i| &genera()[usize::from(i)])
    }
}

include!(concat!(env!("OUT_DIR"), "/names.rs"));

struct Names {
    names: Vec<NameRecord>,
    /// The genera of all names.
    genera: Vec<u16>,
}

static NAMES: LazyLock<Names> = LazyLock::new(|| {
    let mut genera = Vec::new();
    let names = packed::rows(PACKED_NAMES, |cells| NameRecord {
        name: cells.text(),
        kind: cells.word(KINDS),
        abbreviation: cells.text(),
        current: cells.flag(),
        evidence: NameEvidence::unpack(cells),
        traits: Trait::unpack(cells),
        sources: cited(cells),
        notes: cells.text(),
        genera: {
            let from = genera.len() as u16;
            genera.extend(cells.numbers());
            (from, genera.len() as u16)
        },
    });
    Names { names, genera }
});

impl NameEvidence {
    pub(crate) fn unpack(cells: &mut packed::Cells) -> Self {
        cells.word(EVIDENCE)
    }
}

/// Every name that is not an accepted genus, sorted by name.
#[must_use]
pub fn names() -> &'static [NameRecord] {
    &NAMES.names
}
