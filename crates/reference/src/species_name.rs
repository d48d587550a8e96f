//! Names of species other than the accepted ones: synonyms and spellings (`data/species_names.csv`)
//! and the names printed in the works that were read (`verbatim_name` of `data/observations.csv`).

use crate::fold::Key;
use crate::genus::{Genus, genera};
use crate::name::NameEvidence;
use crate::species::{Species, species};

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
    species: Option<u16>,
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
        species().get(usize::from(self.species?))
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

/// Every name of a species that is not its accepted name, sorted by name.
#[must_use]
pub fn species_names() -> &'static [SpeciesName] {
    SPECIES_NAMES
}

/// The name of this genus and epithet.
pub(crate) fn find(genus: &Key, epithet: &Key) -> Option<&'static SpeciesName> {
    let key = genus.join(epithet)?;
    let i = SPECIES_NAME_KEYS.binary_search_by(|k| k.as_bytes().cmp(key.bytes())).ok()?;
    SPECIES_NAMES.get(i)
}

#[cfg(test)]
mod tests {
    use super::{SPECIES_NAME_KEYS, SPECIES_NAMES};

    #[test]
    fn keys_are_sorted_and_belong_to_the_names() {
        assert!(SPECIES_NAME_KEYS.is_sorted_by(|a, b| a < b));
        assert_eq!(SPECIES_NAME_KEYS.len(), SPECIES_NAMES.len());
    }
}
