//! Species with published measurements or reports of their own (`data/observations.csv`,
//! `data/judgements.csv`).

use crate::genus::{Genus, genera};
use crate::measured::{Delta13C, Span, Thickness};
use crate::packed::{self, Cells};
use crate::pathway_rule::{By, Evidence, Kind};
use crate::source::cited;
use crate::traits::{Grade, Pathway, Trait};
use crate::words::words;
use std::sync::LazyLock;

words! {
    /// The plant part a value was measured on.
    Organ {
        /// A leaf.
        Leaf = "leaf",
        /// A stem.
        Stem = "stem",
        /// A pseudobulb.
        Pseudobulb = "pseudobulb",
        /// A root.
        Root = "root",
        /// A flower or fruit.
        Flower = "flower",
        /// The whole plant, or not stated.
        Whole = "whole",
    }
}

/// A rise of titratable acidity over a night, in µmol H⁺ per gram fresh weight.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct AcidRise {
    pub(crate) umol_per_g_fw: f32,
}

impl AcidRise {
    /// The number in µmol/g fresh weight (the same number as mol/t).
    #[must_use]
    pub fn umol_per_g_fw(self) -> f64 {
        f64::from(self.umol_per_g_fw)
    }
}

/// One published record of one species: what one work measured or stated.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct SpeciesRecord {
    /// The record as in `data/observations.csv`; it never changes.
    pub key: &'static str,
    /// The accepted genus.
    pub genus: &'static str,
    /// The specific epithet.
    pub epithet: &'static str,
    /// The part measured.
    pub organ: Organ,
    /// δ¹³C, where measured.
    pub d13c: Option<Delta13C>,
    /// Values that δ¹³C is the mean of, where stated.
    pub d13c_n: Option<u16>,
    /// Leaf thickness, where measured.
    pub thickness: Option<Thickness>,
    /// Values that the thickness is the mean of, where stated.
    pub thickness_n: Option<u16>,
    /// The rise of acidity over the night, where measured.
    pub acid_rise: Option<AcidRise>,
    /// Whether the work calls that rise significant, where it says.
    pub acid_significant: Option<bool>,
    /// What the record says of the pathway.
    pub pathway: Pathway,
    /// Flagged as an outlier: kept, but not used by the rule.
    pub outlier: bool,
    /// How well this record knows it.
    pub grade: Grade,
    /// How it was found out.
    pub method: &'static str,
    /// Keys of the works: the primary one, then the compilation it was read in, if any.
    pub sources: &'static [&'static str],
    /// The name as printed in the work, where it differs.
    pub verbatim_name: &'static str,
    /// Remarks.
    pub notes: &'static str,
}

/// One species with all its records, and the trait they add up to.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Species {
    /// The specific epithet.
    pub epithet: &'static str,
    /// δ¹³C over its leaf records, where any; `n` is the number of values.
    pub d13c: Option<Span<Delta13C>>,
    /// Measured leaf thickness, where any.
    pub thickness: Option<Span<Thickness>>,
    /// When it opens, its leaf, its evidence.
    pub traits: Trait,
    /// Whether it counts as a species: determined, and no artificial hybrid.
    pub counted: bool,
    /// What the rule reads of its records.
    pub evidence: &'static [Evidence],
    /// Mean leaf thickness over its records, mm.
    pub leaf_mm: Option<f64>,
    pub(crate) genus: u16,
    pub(crate) records: (u16, u16),
}

impl Genus {
    /// The species of the genus that have measurements or reports of their own, by epithet.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// for s in guardcell::reference::genera().iter().flat_map(|g| g.species()) {
    ///     assert!(!s.records().is_empty());
    /// }
    /// ```
    #[must_use]
    pub fn species(&self) -> &'static [Species] {
        let (from, to) = (usize::from(self.species.0), usize::from(self.species.1));
        species().get(from..to).unwrap_or_default()
    }
}

impl Species {
    /// Its genus.
    #[must_use]
    pub fn genus(&self) -> &'static Genus {
        // The build writes the index from the same sorted table, so it is always inside.
        &genera()[usize::from(self.genus)]
    }

    /// Its records, one per work and organ.
    #[must_use]
    pub fn records(&self) -> &'static [SpeciesRecord] {
        let (from, to) = (usize::from(self.records.0), usize::from(self.records.1));
        RECORDS.get(from..to).unwrap_or_default()
    }
}

include!(concat!(env!("OUT_DIR"), "/species.rs"));

static EVIDENCE: LazyLock<Vec<Evidence>> =
    LazyLock::new(|| packed::rows(PACKED_EVIDENCE, evidence));

fn evidence(cells: &mut Cells) -> Evidence {
    const KINDS: [Kind; 3] = [Kind::C3, Kind::Weak, Kind::Cam];
    const BY: [By; 3] = [By::GasExchange, By::Acidity, By::Words];
    let what = usize::from(cells.number());
    let (value, low, high) = (cells.float(), cells.float(), cells.float());
    match (value, what.checked_sub(3)) {
        (Some(value), _) => Evidence::D13c(value, low.zip(high)),
        (None, None) => Evidence::AcidRise(what == 2),
        (None, Some(said)) => Evidence::Says(KINDS[said / 3], BY[said % 3]),
    }
}

static SPECIES: LazyLock<Vec<Species>> = LazyLock::new(|| {
    let (mut evidence, mut records) = (&EVIDENCE[..], 0);
    packed::rows(PACKED_SPECIES, |cells| Species {
        epithet: cells.text(),
        d13c: Span::unpack(cells, Delta13C::unpack),
        thickness: Span::unpack(cells, Thickness::unpack),
        traits: Trait::unpack(cells),
        counted: cells.flag(),
        evidence: {
            let (own, rest) = evidence.split_at(cells.number().into());
            evidence = rest;
            own
        },
        leaf_mm: cells.float(),
        genus: cells.number(),
        records: {
            let from = records;
            records += cells.number();
            (from, records)
        },
    })
});

static RECORDS: LazyLock<Vec<SpeciesRecord>> = LazyLock::new(|| {
    let mut species = species().iter().flat_map(|s| (s.records.0..s.records.1).map(move |_| s));
    packed::rows(PACKED_RECORDS, |cells| {
        let species = species.next();
        SpeciesRecord {
            key: cells.text(),
            genus: species.map_or("", |s| s.genus().name),
            epithet: species.map_or("", |s| s.epithet),
            organ: cells.word(ORGANS),
            d13c: cells.option().map(Delta13C::unpack),
            d13c_n: cells.option(),
            thickness: cells.option().map(Thickness::unpack),
            thickness_n: cells.option(),
            acid_rise: cells.float().map(|v| AcidRise { umol_per_g_fw: v as f32 }),
            acid_significant: cells.option().map(|n| n == 1),
            pathway: Pathway::unpack(cells),
            outlier: cells.flag(),
            grade: Grade::unpack(cells),
            method: cells.text(),
            sources: cited(cells),
            verbatim_name: cells.text(),
            notes: cells.text(),
        }
    })
});

/// The numbers of the rule.
pub(crate) fn rule() -> crate::pathway_rule::Rule {
    RULE
}

/// Every species with records of its own, sorted by genus and epithet.
#[must_use]
pub fn species() -> &'static [Species] {
    &SPECIES
}

/// Every record of every species, sorted by genus and epithet.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::{Grade, species_records};
/// assert!(species_records().iter().all(|r| r.grade != Grade::Measured || !r.method.is_empty()
///     || r.d13c.is_some() || r.acid_rise.is_some()));
/// ```
#[must_use]
pub fn species_records() -> &'static [SpeciesRecord] {
    &RECORDS
}
