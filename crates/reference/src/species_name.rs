//! Names of species other than the accepted ones: synonyms and spellings (`data/species_names.csv`)
//! and the names printed in the works that were read (`verbatim_name` of `data/observations.csv`).

use crate::fold::{Key, binomial};
use crate::genus::{Genus, genera};
use crate::name::NameEvidence;
use crate::packed;
use crate::source::cited;
use crate::species::Species;
use std::cmp::Ordering;
use std::sync::LazyLock;

/// One name of a species that is not its accepted name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct SpeciesName {
    /// The name.
    pub name: &'static str,
    /// The accepted specific epithet.
    pub epithet: &'static str,
    /// How well it is known that it is a name of that species.
    pub evidence: NameEvidence,
    /// Keys of the works that use or give the name.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub notes: &'static str,
    genus: u16,
}

impl SpeciesName {
    /// The accepted genus.
    #[must_use]
    pub fn genus(&self) -> &'static Genus {
        // The build writes the index from the same sorted table, so it is always inside.
        &genera()[usize::from(self.genus)]
    }

    /// The species, if it has records of its own.
    #[must_use]
    pub fn species(&self) -> Option<&'static Species> {
        let species = self.genus().species();
        let i = species.binary_search_by(|s| s.epithet.cmp(self.epithet)).ok()?;
        species.get(i)
    }

    /// The accepted name.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// let names = guardcell::reference::species_names();
    /// let old = names.iter().find(|n| n.name == "Encyclia cochleata").unwrap();
    /// assert_eq!(old.accepted(), "Prosthechea cochleata");
    /// ```
    #[must_use]
    pub fn accepted(&self) -> String {
        format!("{} {}", self.genus().name, self.epithet)
    }
}

include!(concat!(env!("OUT_DIR"), "/species_names.rs"));

static SPECIES_NAMES: LazyLock<Vec<SpeciesName>> = LazyLock::new(|| {
    packed::rows(PACKED_SPECIES_NAMES, |cells| {
        let (name, epithet) = (cells.text(), cells.text());
        let own = || name.rsplit(' ').next().unwrap_or_default();
        SpeciesName {
            name,
            epithet: if epithet.is_empty() { own() } else { epithet },
            evidence: NameEvidence::unpack(cells),
            sources: cited(cells),
            notes: cells.text(),
            genus: cells.number(),
        }
    })
});

/// Every name of a species that is not its accepted name, sorted by folded name.
#[must_use]
pub fn species_names() -> &'static [SpeciesName] {
    &SPECIES_NAMES
}

/// The name of this genus and epithet.
pub(crate) fn find(genus: &Key, epithet: &Key) -> Option<&'static SpeciesName> {
    let key = genus.join(epithet)?;
    let of = |n: &SpeciesName| binomial(n.name).map(|k| k.bytes().cmp(key.bytes()));
    let i = SPECIES_NAMES.binary_search_by(|n| of(n).unwrap_or(Ordering::Less)).ok()?;
    SPECIES_NAMES.get(i)
}

#[cfg(test)]
mod tests {
    use super::{SPECIES_NAMES, find};
    use crate::fold::{binomial, fold};

    #[test]
    fn names_are_sorted_by_their_keys_and_found() {
        let key = |i: usize| binomial(SPECIES_NAMES[i].name).unwrap();
        assert!((1..SPECIES_NAMES.len()).all(|i| key(i - 1).bytes() < key(i).bytes()));
        for n in SPECIES_NAMES.iter() {
            let mut words = n.name.split_whitespace().filter(|w| *w != "×" && *w != "x");
            let mut word = || fold(words.next().unwrap()).unwrap();
            assert_eq!(find(&word(), &word()), Some(n));
        }
    }
}
