//! The answers of the tables for every taxon, as rows for export.

use crate::genus::{Genus, genera};
use crate::species::Species;
use crate::traits::{CamShare, Grade, Leaf, Opens, Pathway, Trait};
use guardcell_units::uom::si::ratio::ratio;
use serde::Serialize;

/// The version of the data set, as in `data/datapackage.json`.
pub const VERSION: &str = env!("DATASET_VERSION");

/// The columns of [`TaxonRow::cells`].
pub const COLUMNS: [&str; 18] = [
    "name",
    "rank",
    "subfamily",
    "tribe",
    "subtribe",
    "pathway",
    "p_c3",
    "p_weak_cam",
    "p_cam",
    "evidence",
    "opens",
    "leaf",
    "leaf_evidence",
    "cam_species",
    "measured_species",
    "sources",
    "notes",
    "dataset_version",
];

/// One genus or species and what the rule says of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct TaxonRow {
    /// The accepted name.
    pub name: String,
    /// `genus` or `species`.
    pub rank: &'static str,
    /// The subfamily.
    pub subfamily: &'static str,
    /// The tribe, empty where not placed.
    pub tribe: &'static str,
    /// The subtribe, empty where not placed.
    pub subtribe: &'static str,
    /// The pathway named.
    pub pathway: Pathway,
    /// The probability of C3, 0 to 1.
    pub p_c3: Option<f64>,
    /// The probability of weak or facultative CAM, 0 to 1.
    pub p_weak_cam: Option<f64>,
    /// The probability of CAM, 0 to 1.
    pub p_cam: Option<f64>,
    /// How well the pathway is known.
    pub evidence: Grade,
    /// When its stomata are expected open.
    pub opens: Opens,
    /// The leaf type.
    pub leaf: Leaf,
    /// How well the leaf type is known.
    pub leaf_evidence: Grade,
    /// Measured species with CAM, of a genus.
    pub cam_species: Option<u16>,
    /// Measured species, of a genus.
    pub measured_species: Option<u16>,
    /// Keys of the works behind the pathway.
    pub sources: Vec<&'static str>,
    /// Remarks.
    pub notes: &'static str,
    /// The version of the data set.
    pub dataset_version: &'static str,
}

impl TaxonRow {
    fn new(name: String, rank: &'static str, g: &'static Genus, t: &Trait) -> Self {
        Self {
            name,
            rank,
            subfamily: g.subfamily,
            tribe: g.tribe,
            subtribe: g.subtribe,
            pathway: t.pathway,
            p_c3: t.chance.map(|c| c.c3().get::<ratio>()),
            p_weak_cam: t.chance.map(|c| c.weak_cam().get::<ratio>()),
            p_cam: t.chance.map(|c| c.cam().get::<ratio>()),
            evidence: t.grade,
            opens: t.opens,
            leaf: t.leaf,
            leaf_evidence: t.leaf_grade,
            cam_species: t.cam_share.map(|s: CamShare| s.cam),
            measured_species: t.cam_share.map(|s| s.measured),
            sources: t.sources.iter().collect(),
            notes: if rank == "genus" { g.notes } else { "" },
            dataset_version: VERSION,
        }
    }

    /// The cells, in the order of [`COLUMNS`]; blank where nothing is known.
    #[must_use]
    pub fn cells(&self) -> [String; 18] {
        let share = |p: Option<f64>| p.map_or_else(String::new, |p| format!("{p:.3}"));
        let count = |n: Option<u16>| n.map_or_else(String::new, |n| n.to_string());
        [
            self.name.clone(),
            self.rank.to_owned(),
            self.subfamily.to_owned(),
            self.tribe.to_owned(),
            self.subtribe.to_owned(),
            self.pathway.to_string(),
            share(self.p_c3),
            share(self.p_weak_cam),
            share(self.p_cam),
            self.evidence.to_string(),
            self.opens.to_string(),
            self.leaf.to_string(),
            self.leaf_evidence.to_string(),
            count(self.cam_species),
            count(self.measured_species),
            self.sources.join(" "),
            self.notes.to_owned(),
            self.dataset_version.to_owned(),
        ]
    }

    /// The row as a line of CSV (RFC 4180), without the line end.
    #[must_use]
    pub fn csv_line(&self) -> String {
        let cells: Vec<String> =
            self.cells().iter().map(|c| crate::darwin_core::quoted(c).into_owned()).collect();
        cells.join(",")
    }
}

/// Every genus, each followed by its determined species with records.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::export::{COLUMNS, taxa};
/// let vanda = taxa().find(|r| r.name == "Vanda").unwrap();
/// assert_eq!((vanda.rank, vanda.cells().len()), ("genus", COLUMNS.len()));
/// ```
pub fn taxa() -> impl Iterator<Item = TaxonRow> {
    genera().iter().flat_map(|g| {
        let of = |s: &'static Species| {
            TaxonRow::new(format!("{} {}", g.name, s.epithet), "species", g, &s.traits)
        };
        let genus = TaxonRow::new(g.name.to_owned(), "genus", g, &g.traits);
        std::iter::once(genus)
            .chain(g.species().iter().filter(|s| s.counted).map(of))
            .collect::<Vec<_>>()
    })
}
