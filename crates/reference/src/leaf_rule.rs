//! The fallback for a plant whose pathway is not known: the leaf of the plant.
//!
//! A thin leaf suggests C3 and an opening by day, a thick or terete one CAM and an opening by
//! night. It is a rule of thumb and fails for known genera; how often it held among the species
//! whose leaf and pathway were both measured is counted from `data/observations.csv` at build time.

use crate::traits::{CamShare, Chance, Grade, Leaf, Opens, Pathway, SourceKeys, Trait};
use guardcell_units::uom::si::ratio::ratio;

/// How the measured species with one type of leaf turned out.
struct Counted {
    leaf: Leaf,
    share: CamShare,
    sources: &'static [&'static str],
}

include!(concat!(env!("OUT_DIR"), "/leaf_rule.rs"));

/// What the leaf suggests: always [`Grade::Inferred`] (or unknown, for a leaf that is), with the
/// share of measured species with such a leaf that have CAM.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::{Grade, Leaf, Opens, leaf_rule};
/// let guess = leaf_rule(Leaf::Thick);
/// assert_eq!((guess.opens, guess.grade), (Opens::Night, Grade::Inferred));
/// assert_eq!(leaf_rule(Leaf::Thin).opens, Opens::Day);
/// // Roots have no stomata, so a leafless plant has no leaf opening.
/// assert!(leaf_rule(Leaf::Leafless).leafless);
/// ```
#[must_use]
pub fn leaf_rule(leaf: Leaf) -> Trait {
    let pathway = match leaf {
        Leaf::Thin | Leaf::Intermediate => Pathway::C3,
        Leaf::Thick | Leaf::Terete | Leaf::Leafless => Pathway::Cam,
        Leaf::Variable | Leaf::Unknown => Pathway::Unknown,
    };
    let leafless = leaf == Leaf::Leafless;
    let counted = COUNTS.iter().find(|c| c.leaf == leaf);
    let share = counted.map(|c| c.share).filter(|s| s.measured > 0);
    let grade = if pathway == Pathway::Unknown { Grade::Unknown } else { Grade::Inferred };
    Trait {
        pathway,
        opens: if leafless { Opens::Unknown } else { pathway.opens() },
        opens_peak: None,
        leaf,
        leafless,
        chance: share.and_then(CamShare::ratio).map(|r| Chance {
            weak_per_mille: 0,
            cam_per_mille: (r.get::<ratio>() * 1e3).round() as u16,
        }),
        cam_share: share,
        grade,
        leaf_grade: grade,
        sources: counted.map_or(SourceKeys::NONE, |c| SourceKeys::of(c.sources)),
    }
}

impl Trait {
    /// This trait, or what the leaf of the plant in hand suggests where nothing is known of its
    /// pathway. A taxon that is known to differ within itself stays [`Pathway::Variable`].
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::{Grade, Leaf, Opens, Trait};
    /// let t = Trait::UNKNOWN.or_leaf(Leaf::Thin);
    /// assert_eq!((t.opens, t.grade), (Opens::Day, Grade::Inferred));
    /// ```
    #[must_use]
    pub fn or_leaf(self, leaf: Leaf) -> Self {
        if self.pathway == Pathway::Unknown && !self.leafless { leaf_rule(leaf) } else { self }
    }
}

/// How often the rule was right among the measured blades (thin, intermediate and thick).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct HitRate {
    /// Species for which the rule names the measured pathway.
    pub right: u16,
    /// Species with both leaf thickness and pathway measured.
    pub measured: u16,
}

/// Counts how often the rule was right.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// let rate = guardcell::reference::leaf_rule_hit_rate();
/// assert!(rate.right <= rate.measured);
/// ```
#[must_use]
pub fn leaf_rule_hit_rate() -> HitRate {
    COUNTS.iter().filter(|c| matches!(c.leaf, Leaf::Thin | Leaf::Intermediate | Leaf::Thick)).fold(
        HitRate { right: 0, measured: 0 },
        |sum, c| HitRate {
            right: sum.right
                + if c.leaf == Leaf::Thick {
                    c.share.cam
                } else {
                    c.share.measured - c.share.cam // cam is counted among measured
                },
            measured: sum.measured + c.share.measured,
        },
    )
}
