//! Genera of other plants of greenhouses and windowsills (`data/other_plants.csv`), so that they
//! are not read as misspelt orchids.

use crate::fold::Key;

/// A genus that is not an orchid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct OtherPlant {
    /// The name of the genus.
    pub genus: &'static str,
    /// Its family.
    pub family: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/other_plants.rs"));

/// The genus of exactly this key.
pub(crate) fn find(key: &Key) -> Option<OtherPlant> {
    let i = OTHER_PLANTS.binary_search_by(|(k, _)| k.as_bytes().cmp(key.bytes())).ok()?;
    OTHER_PLANTS.get(i).map(|(_, plant)| *plant)
}
