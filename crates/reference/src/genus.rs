//! Accepted genera (`data/genera.csv`).

use crate::measured::{Delta13C, Span, Thickness};
use crate::packed;
use crate::pathway_rule::Statement;
use crate::source::cited;
use crate::traits::{Grade, Habit, Leaf, SourceKeys, Trait};
use std::sync::LazyLock;

/// One accepted genus with its traits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct Genus {
    /// The accepted name.
    pub name: &'static str,
    /// The subfamily.
    pub subfamily: &'static str,
    /// The tribe, empty where not placed.
    pub tribe: &'static str,
    /// The subtribe, empty where not placed.
    pub subtribe: &'static str,
    /// Where it grows.
    pub habit: Habit,
    /// Measured leaf thickness, where any.
    pub thickness: Option<Span<Thickness>>,
    /// Measured δ¹³C, where any; `n` is the number of species measured.
    pub d13c: Option<Span<Delta13C>>,
    /// When it opens, its leaf, its evidence.
    pub traits: Trait,
    /// The works its leaf type rests on, where reported.
    pub leaf_sources: SourceKeys,
    /// The works the time of its widest opening rests on.
    pub peak_sources: SourceKeys,
    /// Keys of the works the placement rests on.
    pub placement_sources: &'static [&'static str],
    /// Remarks, in words.
    pub notes: &'static str,
    /// What a work says of the pathway of the whole genus.
    pub statement: Option<Statement>,
    pub(crate) species: (u16, u16),
}

impl Genus {
    /// Whether anatomy and pathway disagree, so that the rule "thin leaf by day, thick leaf by
    /// night" misleads: thick or terete but C3, thin but CAM, or leafless with green roots. A
    /// plant without leaf green has no pathway to mislead about.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::{Leaf, Pathway, genera};
    /// for g in genera().iter().filter(|g| g.contradicts_leaf_rule()) {
    ///     assert_ne!((g.traits.leaf, g.traits.pathway), (Leaf::Thin, Pathway::C3));
    /// }
    /// ```
    #[must_use]
    pub fn contradicts_leaf_rule(&self) -> bool {
        use crate::traits::Pathway::{C3, Cam, Facultative, WeakCam};
        let green = self.habit != Habit::Mycoheterotroph;
        let disagree = matches!(
            (self.traits.leaf, self.traits.pathway),
            (Leaf::Thick | Leaf::Terete, C3 | WeakCam)
                | (Leaf::Thin, Cam | Facultative)
                | (Leaf::Leafless, _)
        );
        green && disagree
    }

    /// Whether its pathway is better known than by inference.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::{Grade, genera};
    /// assert!(genera().iter().all(|g| g.has_evidence() == (g.traits.grade >= Grade::Reported)));
    /// ```
    #[must_use]
    pub fn has_evidence(&self) -> bool {
        self.traits.grade >= Grade::Reported
    }
}

include!(concat!(env!("OUT_DIR"), "/genera.rs"));

static GENERA: LazyLock<Vec<Genus>> = LazyLock::new(|| {
    let mut species = 0;
    packed::rows(PACKED_GENERA, |cells| Genus {
        name: cells.text(),
        subfamily: cells.text(),
        tribe: cells.text(),
        subtribe: cells.text(),
        habit: cells.word(HABITS),
        thickness: Span::unpack(cells, Thickness::unpack),
        d13c: Span::unpack(cells, Delta13C::unpack),
        traits: Trait::unpack(cells),
        leaf_sources: SourceKeys::of(cited(cells)),
        peak_sources: SourceKeys::of(cited(cells)),
        placement_sources: cited(cells),
        notes: cells.text(),
        statement: cells.option().map(|i| Statement::ALL[usize::from(i)]),
        species: {
            let from = species;
            species += cells.number();
            (from, species)
        },
    })
});

/// Every accepted genus, sorted by name.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// let genera = guardcell::reference::genera();
/// assert!(genera.is_sorted_by(|a, b| a.name < b.name));
/// ```
#[must_use]
pub fn genera() -> &'static [Genus] {
    &GENERA
}

/// The accepted genus with exactly this name. For names as people write them, see
/// [`crate::resolve`].
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// assert!(guardcell::reference::genus("No such genus").is_none());
/// ```
#[must_use]
pub fn genus(name: &str) -> Option<&'static Genus> {
    let i = GENERA.binary_search_by(|g| g.name.cmp(name)).ok()?;
    GENERA.get(i)
}
