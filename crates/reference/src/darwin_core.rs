//! The trait table as Darwin Core measurements (extension `MeasurementOrFact`), row by row.
//!
//! Terms: Darwin Core quick reference guide, <https://dwc.tdwg.org/terms/>. Units are UCUM codes.

use crate::genus::{Genus, genera};
use crate::measured::Delta13C;
use crate::source::work;
use crate::species::{SpeciesRecord, species_records};
use crate::traits::{Grade, Leaf, Pathway};
use guardcell_units::uom::si::ratio::ratio;
use std::borrow::Cow;

/// The columns, each a Darwin Core or Dublin Core term.
pub const COLUMNS: [&str; 13] = [
    "measurementID",
    "scientificName",
    "family",
    "genus",
    "specificEpithet",
    "taxonRank",
    "measurementType",
    "measurementValue",
    "measurementUnit",
    "measurementMethod",
    "measurementRemarks",
    "bibliographicCitation",
    "datasetName",
];

/// The name of the data set with its version.
pub const DATASET: &str = concat!("guardcell orchid traits ", env!("DATASET_VERSION"));

/// One measurement or statement about one taxon.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Measurement {
    /// The cells, in the order of [`COLUMNS`].
    pub cells: [Cow<'static, str>; 13],
}

impl Measurement {
    /// The cell of a column, empty if there is no such column.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// for m in guardcell::reference::darwin_core::measurements() {
    ///     assert!(!m.get("scientificName").is_empty());
    /// }
    /// ```
    #[must_use]
    pub fn get(&self, column: &str) -> &str {
        COLUMNS.iter().position(|c| *c == column).and_then(|i| self.cells.get(i)).map_or("", |c| c)
    }

    /// The row with the number of values it is a mean of before its remarks.
    fn mean_of(mut self, n: Option<u16>) -> Self {
        let remarks = COLUMNS.iter().position(|c| *c == "measurementRemarks");
        if let (Some(n @ 2..), Some(cell)) = (n, remarks.and_then(|i| self.cells.get_mut(i))) {
            let rest = if cell.is_empty() { String::new() } else { format!("; {cell}") };
            *cell = format!("mean of {n}{rest}").into();
        }
        self
    }

    /// The row as a line of CSV (RFC 4180), without the line end.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::darwin_core;
    /// assert!(darwin_core::header().starts_with("measurementID,scientificName"));
    /// for m in darwin_core::measurements().take(3) {
    ///     assert!(!m.csv_line().contains('\n'));
    /// }
    /// ```
    #[must_use]
    pub fn csv_line(&self) -> String {
        let cells: Vec<Cow<'_, str>> = self.cells.iter().map(|c| quoted(c)).collect();
        cells.join(",")
    }
}

/// The header row as a line of CSV, without the line end.
#[must_use]
pub fn header() -> String {
    COLUMNS.join(",")
}

pub(crate) fn quoted(cell: &str) -> Cow<'_, str> {
    if cell.contains([',', '"', '\n', '\r']) {
        let flat = cell.replace(['\n', '\r'], " ");
        Cow::Owned(format!("\"{}\"", flat.replace('"', "\"\"")))
    } else {
        Cow::Borrowed(cell)
    }
}

/// Every measurement and statement of the tables: genera by name, then species records.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::darwin_core::measurements;
/// let mut ids: Vec<String> = measurements().map(|m| m.get("measurementID").to_owned()).collect();
/// let n = ids.len();
/// ids.sort();
/// ids.dedup();
/// assert_eq!(ids.len(), n); // every row can be cited
/// ```
pub fn measurements() -> impl Iterator<Item = Measurement> {
    let of_genera = genera().iter().flat_map(of_genus);
    of_genera.chain(species_records().iter().flat_map(of_record))
}

fn citation(keys: impl Iterator<Item = &'static str>) -> String {
    let works: Vec<String> =
        keys.map(|k| work(k).map_or_else(|| k.to_owned(), crate::source::Work::citation)).collect();
    works.join(" | ")
}

/// What all rows of one taxon share.
struct Taxon<'a> {
    id: String,
    genus: &'static str,
    epithet: &'static str,
    remarks: &'static str,
    citation: &'a str,
}

impl Taxon<'_> {
    fn row(
        &self,
        what: &'static str,
        value: String,
        unit: &'static str,
        method: &'static str,
    ) -> Measurement {
        let (name, rank) = if self.epithet.is_empty() {
            (Cow::Borrowed(self.genus), "genus")
        } else {
            (Cow::Owned(format!("{} {}", self.genus, self.epithet)), "species")
        };
        Measurement {
            cells: [
                format!("{}:{}", self.id, what.replace(' ', "-")).into(),
                name,
                "Orchidaceae".into(),
                self.genus.into(),
                self.epithet.into(),
                rank.into(),
                what.into(),
                value.into(),
                unit.into(),
                method.into(),
                self.remarks.into(),
                self.citation.to_owned().into(),
                DATASET.into(),
            ],
        }
    }
}

fn how(grade: Grade) -> &'static str {
    match grade {
        Grade::Measured => "measured: isotope ratio, acidity or gas exchange",
        Grade::Reported => "reported by a publication",
        Grade::Inferred => "inferred from relatives or anatomy",
        Grade::Unknown => "not known",
    }
}

fn of_genus(g: &'static Genus) -> Vec<Measurement> {
    let citation = citation(g.traits.sources.iter());
    let taxon = Taxon {
        id: g.name.to_ascii_lowercase(),
        genus: g.name,
        epithet: "",
        remarks: g.notes,
        citation: &citation,
    };
    let mut rows = Vec::new();
    let t = &g.traits;
    if t.pathway != Pathway::Unknown {
        rows.push(taxon.row("photosynthetic pathway", t.pathway.to_string(), "", how(t.grade)));
        rows.push(taxon.row(
            "stomatal opening",
            t.opens.to_string(),
            "",
            "inferred from the photosynthetic pathway",
        ));
    }
    if t.leaf != Leaf::Unknown {
        rows.push(taxon.row("leaf type", t.leaf.to_string(), "", how(t.leaf_grade)));
    }
    for (what, share) in t.chance.into_iter().flat_map(|c| {
        [
            ("probability of C3", c.c3()),
            ("probability of weak or facultative CAM", c.weak_cam()),
            ("probability of CAM", c.cam()),
        ]
    }) {
        let share = format!("{:.3}", share.get::<ratio>());
        rows.push(taxon.row(what, share, "1", "declared rule from values, relatives and leaf"));
    }
    if let Some(share) = t.cam_share
        && let Some(r) = share.ratio()
    {
        rows.push(taxon.row(
            "measured species",
            share.measured.to_string(),
            "{species}",
            "count of the species measured",
        ));
        rows.push(taxon.row(
            "share of measured species with CAM",
            format!("{:.3}", r.get::<ratio>()),
            "1",
            "count of the species measured",
        ));
    }
    if let Some(d) = g.d13c {
        for (what, value) in [("lowest delta 13C", d.low), ("highest delta 13C", d.high)] {
            rows.push(taxon.row(what, permil(value), "[ppth]", "isotope ratio against VPDB"));
        }
    }
    if let Some(mm) = g.thickness {
        for (what, value) in
            [("lowest leaf thickness", mm.low), ("highest leaf thickness", mm.high)]
        {
            rows.push(taxon.row(what, format!("{:.3}", value.mm()), "mm", "leaf section"));
        }
    }
    rows
}

fn of_record(r: &'static SpeciesRecord) -> Vec<Measurement> {
    let citation = citation(r.sources.iter().copied());
    let taxon = Taxon {
        id: r.key.to_owned(),
        genus: r.genus,
        epithet: r.epithet,
        remarks: r.notes,
        citation: &citation,
    };
    let method = |default: &'static str| {
        if r.method.is_empty() { default } else { r.method }
    };
    let mut rows = Vec::new();
    if let Some(d) = r.d13c {
        let row = taxon.row("delta 13C", permil(d), "[ppth]", method("isotope ratio against VPDB"));
        rows.push(row.mean_of(r.d13c_n));
    }
    if let Some(t) = r.thickness {
        let row = taxon.row("leaf thickness", format!("{:.3}", t.mm()), "mm", "leaf section");
        rows.push(row.mean_of(r.thickness_n));
    }
    if let Some(a) = r.acid_rise {
        rows.push(taxon.row(
            "nocturnal rise of titratable acidity",
            format!("{}", a.umol_per_g_fw),
            "umol/g",
            method("titration of fresh leaf at dusk and dawn"),
        ));
    }
    if r.pathway != Pathway::Unknown {
        rows.push(taxon.row("photosynthetic pathway", r.pathway.to_string(), "", how(r.grade)));
    }
    rows
}

fn permil(d: Delta13C) -> String {
    format!("{:.2}", d.permil())
}
