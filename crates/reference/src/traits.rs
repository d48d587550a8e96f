//! When a plant opens its stomata, what its leaf is like, and how well that is known.

use crate::packed::Cells;
use crate::source::cited;
use crate::words::words;
use guardcell_units::quantity::Ratio;
use guardcell_units::uom::si::ratio::ratio;

words! {
    /// How a plant fixes carbon, which decides when its stomata open.
    Pathway {
        /// Carbon is taken up by day.
        C3 = "c3",
        /// Weak CAM: carbon is taken up by day, and some acid is gained by night.
        WeakCam = "weak-cam",
        /// Crassulacean acid metabolism: carbon is taken up mostly by night.
        Cam = "cam",
        /// C3 that turns to CAM, in part or wholly, under drought or with age.
        Facultative = "facultative",
        /// The species of the genus, or the parents of the hybrid, differ.
        Variable = "variable",
        /// Not known.
        Unknown = "unknown",
    }
}

words! {
    /// When the stomata of the leaf are expected open.
    Opens {
        /// By day.
        Day = "day",
        /// By night.
        Night = "night",
        /// By day or by night: it differs with the species, the parent or the season.
        Either = "either",
        /// Not known, or there is no leaf to open.
        Unknown = "unknown",
    }
}

words! {
    /// The type of leaf. The thickness classes are those of the blade: thin below 0.5 mm,
    /// intermediate 0.5–1.0 mm, thick above 1.0 mm.
    Leaf {
        /// A blade thinner than 0.5 mm.
        Thin = "thin",
        /// A blade of 0.5 to 1.0 mm.
        Intermediate = "intermediate",
        /// A blade thicker than 1.0 mm.
        Thick = "thick",
        /// A leaf round in section, like a pencil.
        Terete = "terete",
        /// No leaf, or scales only: green roots or stems do the work.
        Leafless = "leafless",
        /// The species of the genus, or the parents of the hybrid, differ.
        Variable = "variable",
        /// Not known.
        Unknown = "unknown",
    }
}

words! {
    /// How well a trait is known, from least to best.
    Grade {
        /// Nothing is known.
        Unknown = "unknown",
        /// Concluded from relatives, parents or anatomy.
        Inferred = "inferred",
        /// A publication classifies the taxon.
        Reported = "reported",
        /// An isotope ratio, acidity or gas exchange of that taxon was measured.
        Measured = "measured",
    }
}

words! {
    /// Where the plants of a genus grow.
    Habit {
        /// On trees.
        Epiphyte = "epiphyte",
        /// On rock.
        Lithophyte = "lithophyte",
        /// In soil.
        Terrestrial = "terrestrial",
        /// Without leaf green, fed by a fungus.
        Mycoheterotroph = "mycoheterotroph",
        /// More than one of these.
        Mixed = "mixed",
        /// Not known.
        Unknown = "unknown",
    }
}

words! {
    /// The time of day at which the widest opening was measured.
    PeakTime {
        /// The last hours of the night.
        PreDawn = "pre-dawn",
        /// The hours around and after sunset.
        Evening = "evening",
        /// The middle of the night.
        Night = "night",
        /// The hours between sunrise and noon.
        Forenoon = "forenoon",
        /// Around noon.
        Noon = "noon",
        /// The hours between noon and sunset.
        Afternoon = "afternoon",
    }
}

include!(concat!(env!("OUT_DIR"), "/traits.rs"));

impl Grade {
    pub(crate) fn unpack(cells: &mut Cells) -> Self {
        cells.word(GRADES)
    }
}

impl Pathway {
    pub(crate) fn unpack(cells: &mut Cells) -> Self {
        cells.word(PATHWAYS)
    }

    /// When stomata are expected open on this pathway, for a plant with leaves.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::{Opens, Pathway};
    /// assert_eq!(Pathway::Cam.opens(), Opens::Night);
    /// assert_eq!(Pathway::Variable.opens(), Opens::Either);
    /// ```
    #[must_use]
    pub const fn opens(self) -> Opens {
        match self {
            Self::C3 | Self::WeakCam => Opens::Day,
            Self::Cam => Opens::Night,
            Self::Facultative | Self::Variable => Opens::Either,
            Self::Unknown => Opens::Unknown,
        }
    }
}

/// How many of the measured species of a genus show CAM.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CamShare {
    /// Species with CAM.
    pub cam: u16,
    /// Species measured.
    pub measured: u16,
}

impl CamShare {
    /// The share from 0 to 1, or `None` if no species was measured.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::reference::CamShare;
    /// use guardcell::units::uom::si::ratio::ratio;
    /// let share = CamShare { cam: 3, measured: 4 }.ratio().unwrap();
    /// assert_eq!(share.get::<ratio>(), 0.75);
    /// ```
    #[must_use]
    pub fn ratio(self) -> Option<Ratio> {
        (self.measured > 0)
            .then(|| Ratio::new::<ratio>(f64::from(self.cam) / f64::from(self.measured)))
    }
}

/// How likely each pathway is, kept to a per mille.
///
/// Computed by the rule of [`crate::pathway_rule`] from the values of the taxon, its relatives and
/// its leaf.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Chance {
    pub(crate) weak_per_mille: u16,
    pub(crate) cam_per_mille: u16,
}

impl Chance {
    /// The probability of C3.
    #[must_use]
    pub fn c3(self) -> Ratio {
        per_mille(1000_u16.saturating_sub(self.weak_per_mille + self.cam_per_mille))
    }

    /// The probability of weak or facultative CAM.
    #[must_use]
    pub fn weak_cam(self) -> Ratio {
        per_mille(self.weak_per_mille)
    }

    /// The probability of CAM.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::reference::genus;
    /// use guardcell::units::uom::si::ratio::ratio;
    /// let chance = genus("Vanda").unwrap().traits.chance.unwrap();
    /// let all = chance.c3() + chance.weak_cam() + chance.cam();
    /// assert!((all.get::<ratio>() - 1.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn cam(self) -> Ratio {
        per_mille(self.cam_per_mille)
    }

    /// The mean of two: that of a cross.
    const fn mean(a: Self, b: Self) -> Self {
        Self {
            weak_per_mille: u16::midpoint(a.weak_per_mille, b.weak_per_mille),
            cam_per_mille: u16::midpoint(a.cam_per_mille, b.cam_per_mille),
        }
    }
}

fn per_mille(value: u16) -> Ratio {
    Ratio::new::<ratio>(f64::from(value) / 1000.0)
}

/// Keys of the works a trait rests on. A cross of two genera rests on the works of both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SourceKeys {
    pub(crate) first: &'static [&'static str],
    pub(crate) second: &'static [&'static str],
}

impl SourceKeys {
    /// No work.
    pub const NONE: Self = Self::of(&[]);

    pub(crate) const fn of(keys: &'static [&'static str]) -> Self {
        Self { first: keys, second: &[] }
    }

    /// Each key once; look them up with [`crate::work`].
    pub fn iter(self) -> impl Iterator<Item = &'static str> {
        let more = self.second.iter().filter(move |k| !self.first.contains(k));
        self.first.iter().chain(more).copied()
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.first.is_empty() && self.second.is_empty()
    }
}

/// What the clock and the advice need to know of a taxon. Small and `Copy`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Trait {
    /// How it fixes carbon.
    pub pathway: Pathway,
    /// When its leaf stomata are expected open.
    ///
    /// For a leafless plant [`Opens::Unknown`]: its roots have no stomata, so there is no leaf
    /// opening to wait for (see `leafless`).
    pub opens: Opens,
    /// The time of day of the widest opening, where measured.
    pub opens_peak: Option<PeakTime>,
    /// The type of leaf.
    pub leaf: Leaf,
    /// Whether the plant has no leaf blade, so that roots or stems take up the feed.
    pub leafless: bool,
    /// How likely each pathway is, where the rule has something to go by.
    pub chance: Option<Chance>,
    /// How many of the measured species show CAM, where counted.
    pub cam_share: Option<CamShare>,
    /// How well the pathway is known.
    pub grade: Grade,
    /// How well the leaf type is known.
    pub leaf_grade: Grade,
    /// The works it rests on.
    pub sources: SourceKeys,
}

impl Trait {
    pub(crate) fn unpack(cells: &mut Cells) -> Self {
        let (pathway, peak, leaf) = (Pathway::unpack(cells), cells.option(), cells.word(LEAVES));
        let (weak, cam) = (cells.option(), cells.number());
        let (share, measured) = (cells.option(), cells.number());
        let leafless = leaf == Leaf::Leafless;
        Self {
            pathway,
            opens: if leafless { Opens::Unknown } else { pathway.opens() },
            opens_peak: peak.map(|i| PEAKS[usize::from(i)]),
            leaf,
            leafless,
            chance: weak.map(|w| Chance { weak_per_mille: w, cam_per_mille: cam }),
            cam_share: share.map(|cam| CamShare { cam, measured }),
            grade: Grade::unpack(cells),
            leaf_grade: Grade::unpack(cells),
            sources: SourceKeys::of(cited(cells)),
        }
    }

    /// Nothing known.
    pub const UNKNOWN: Self = Self {
        pathway: Pathway::Unknown,
        opens: Opens::Unknown,
        opens_peak: None,
        leaf: Leaf::Unknown,
        leafless: false,
        chance: None,
        cam_share: None,
        grade: Grade::Unknown,
        leaf_grade: Grade::Unknown,
        sources: SourceKeys::NONE,
    };

    /// The trait of a cross: what both parents share, [`Pathway::Variable`] with both openings
    /// where their pathways differ, unknown where one of them is unknown. Always
    /// [`Grade::Inferred`] at best, because the cross itself was not measured.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::{Opens, Pathway, Trait};
    /// let c3 = Trait { pathway: Pathway::C3, opens: Opens::Day, ..Trait::UNKNOWN };
    /// let cam = Trait { pathway: Pathway::Cam, opens: Opens::Night, ..Trait::UNKNOWN };
    /// let cross = Trait::cross(c3, cam);
    /// assert_eq!((cross.pathway, cross.opens), (Pathway::Variable, Opens::Either));
    /// ```
    #[must_use]
    pub fn cross(a: Self, b: Self) -> Self {
        let pathway = match (a.pathway, b.pathway) {
            (Pathway::Unknown, _) | (_, Pathway::Unknown) => Pathway::Unknown,
            (x, y) if x == y => x,
            _ => Pathway::Variable,
        };
        let leaf = match (a.leaf, b.leaf) {
            (Leaf::Unknown, _) | (_, Leaf::Unknown) => Leaf::Unknown,
            (x, y) if x == y => x,
            _ => Leaf::Variable,
        };
        let leafless = a.leafless && b.leafless;
        let known = |is_known: bool| {
            if is_known { Grade::Inferred } else { Grade::Unknown }
        };
        Self {
            pathway,
            opens: if leafless { Opens::Unknown } else { pathway.opens() },
            opens_peak: None,
            leaf,
            leafless,
            chance: a.chance.zip(b.chance).map(|(a, b)| Chance::mean(a, b)),
            cam_share: None,
            grade: known(pathway != Pathway::Unknown),
            leaf_grade: known(leaf != Leaf::Unknown),
            sources: SourceKeys { first: a.sources.first, second: b.sources.first },
        }
    }
}
