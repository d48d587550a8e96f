//! On which side of their leaves orchids have stomata (`data/stomata.csv`).

use crate::words::words;
use std::collections::BTreeMap;
use std::sync::LazyLock;

words! {
    /// A side of a leaf.
    Side {
        /// The lower side.
        Lower = "lower",
        /// The upper side.
        Upper = "upper",
        /// Both sides, where the work gives no density of either.
        Both = "both",
    }
}

/// What one work counted on one side of the leaves of one species.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Stomata {
    /// The accepted genus.
    pub genus: &'static str,
    /// The specific epithet.
    pub epithet: &'static str,
    /// The side.
    pub side: Side,
    /// Stomata in a square millimetre; 0 where there are none.
    pub per_mm2: Option<f32>,
    /// The lowest and the highest of the values that it is a mean of.
    pub span_per_mm2: Option<(f32, f32)>,
    /// Values that it is a mean of.
    pub n: Option<u16>,
    /// Length of a stoma in µm.
    pub length_um: Option<f32>,
    /// Values that the length is a mean of.
    pub length_n: Option<u16>,
    /// Keys of the works.
    pub sources: &'static [&'static str],
}

include!(concat!(env!("OUT_DIR"), "/stomata.rs"));

/// Every count, sorted by genus, epithet and side.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::stomata::{Side, counts};
/// assert!(counts().iter().any(|c| c.side == Side::Upper && c.per_mm2 == Some(0.0)));
/// ```
#[must_use]
pub fn counts() -> &'static [Stomata] {
    STOMATA
}

/// The counts of one species.
#[must_use]
pub fn of(genus: &str, epithet: &str) -> Vec<&'static Stomata> {
    STOMATA.iter().filter(|s| s.genus == genus && s.epithet == epithet).collect()
}

/// How the determined species fare of which both sides were looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Sides {
    /// Species with stomata on the lower side alone.
    pub lower_only: u16,
    /// Species of which both sides were looked at.
    pub species: u16,
    /// Keys of the works.
    pub sources: Vec<&'static str>,
}

/// Counts the species with stomata on the lower side alone.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// let sides = guardcell::reference::stomata::sides();
/// assert!(sides.lower_only <= sides.species);
/// ```
#[must_use]
pub fn sides() -> &'static Sides {
    static SIDES: LazyLock<Sides> = LazyLock::new(count_sides);
    &SIDES
}

fn count_sides() -> Sides {
    let mut upper: BTreeMap<(&str, &str), bool> = BTreeMap::new();
    let mut sources = Vec::new();
    for s in STOMATA.iter().filter(|s| s.side != Side::Lower && !s.epithet.starts_with("sp.")) {
        let has = s.side == Side::Both || s.per_mm2.is_some_and(|d| d > 0.0);
        *upper.entry((s.genus, s.epithet)).or_default() |= has;
        sources.extend(s.sources.iter().filter(|k| !sources.contains(*k)).collect::<Vec<_>>());
    }
    Sides {
        lower_only: upper.values().filter(|has| !**has).count() as u16,
        species: upper.len() as u16,
        sources,
    }
}
