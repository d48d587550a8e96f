//! Wire types of the ledger.

use crate::adherence::SeenSign;
use crate::entry::{Entry, Level};
use guardcell_advice::{PlantEntry, Reason};
use guardcell_call::{Bound, bounds, setters};
use serde::{Deserialize, Serialize};

/// A request for the ledger.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct LedgerRequest {
    /// What was done and seen, in any order; at most 100,000.
    pub entries: Vec<Entry>,
    /// The plants of the collection. A plant that is only in the journal is listed too, without
    /// what its setting and standing would tell.
    #[serde(default)]
    pub plants: Vec<PlantEntry>,
    /// The first day, `YYYY-MM-DD`; that of the first entry when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// The moment it is drawn up for, RFC 3339 with offset; later entries are omitted.
    pub at: String,
}

impl LedgerRequest {
    /// What the entries say at a moment, RFC 3339 with offset.
    #[must_use]
    pub fn new(entries: Vec<Entry>, at: impl Into<String>) -> Self {
        Self { entries, plants: Vec::new(), from: None, at: at.into() }
    }
}

setters! { LedgerRequest {
    /// The same with the plants of the collection.
    with_plants(plants: Vec<PlantEntry>);
    /// The same from this day on, `YYYY-MM-DD`.
    with_from(from?: String);
} }

bounds! { LedgerRequest {
    entries: Bound::items(0, 100_000),
    plants: Bound::items(0, 20_000),
    from: Bound::text(10, 10),
    at: Bound::text(1, 64),
} }

/// What each plant got and what is due.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Ledger {
    /// The first day.
    pub from: String,
    /// The moment it was drawn up for, RFC 3339.
    pub at: String,
    /// The plants: those of the request in its order, then others of the journal by name.
    pub plants: Vec<PlantLedger>,
    /// What was taken for granted.
    pub assumed: Vec<Reason>,
}

/// What one plant got.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlantLedger {
    /// The grower's identifier.
    pub id: String,
    /// The name in the collection; absent for a plant that is only in the journal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Its weeks, Monday to Sunday (ISO 8601), without gaps.
    pub weeks: Vec<PlantWeek>,
    /// Dissolved feed it got through leaf and root in the whole time, mg.
    pub given_mg: f64,
    /// Dissolved matter measured in what ran out below, mg.
    pub drained_mg: f64,
    /// Dissolved feed it got since its last flush, or since the first day, mg.
    pub given_since_flush_mg: f64,
    /// Flushes whose drain was not measured.
    pub flushes_not_measured: u32,
    /// The last feed through the leaf, RFC 3339 or a date.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_fed: Option<String>,
    /// Whole days since.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days_since_fed: Option<i32>,
    /// The last flush, RFC 3339 or a date.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_flush: Option<String>,
    /// Whole days since.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days_since_flush: Option<i32>,
    /// The day from which the next feed through the leaf is due.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next_due: Option<String>,
    /// The day on which the next flush is due; only for a pot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flush_due: Option<String>,
    /// When it died, if it did.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lost: Option<String>,
    /// What it was sprayed and fed with in the whole time, by product, the last given first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub products: Vec<ProductGiven>,
    /// What was counted and measured on it, by month, from the first entry on.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub growth: Vec<GrowthMonth>,
    /// What that tells, and how long to wait before it tells more.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub growth_says: Vec<Reason>,
    /// Signs that were logged, in the order of time.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub signs: Vec<SeenSign>,
    /// Photos, in the order of time.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<PhotoTaken>,
    /// What the practice table warns of.
    pub warnings: Vec<Reason>,
}

impl PlantLedger {
    /// The identifier, and the name where it is known.
    ///
    /// ```
    /// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } pub mod ledger { pub use guardcell_ledger::*; } }
    /// use guardcell::advice::{PlantEntry, Setting, Standing};
    /// use guardcell::ledger::{LedgerRequest, ledger};
    /// let plant =
    ///     PlantEntry::new("P1", "Cattleya", "house", Setting::Potted, Standing::Established);
    /// let request = LedgerRequest::new(vec![], "2026-06-21T18:00:00Z").with_plants(vec![plant]);
    /// assert_eq!(ledger(&request).unwrap().plants[0].title(), "P1 Cattleya");
    /// ```
    #[must_use]
    pub fn title(&self) -> String {
        self.name.as_ref().map_or_else(|| self.id.clone(), |name| format!("{} {name}", self.id))
    }
}

/// What was counted and measured on one plant in one month.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct GrowthMonth {
    /// The month, such as `2026-06`.
    pub month: String,
    /// New roots.
    pub new_roots: u32,
    /// New leaves.
    pub new_leaves: u32,
    /// New pseudobulbs or growths.
    pub new_pseudobulbs: u32,
    /// Flowers that opened.
    pub flowers: u32,
    /// Leaves that were lost.
    pub lost_leaves: u32,
    /// The length of the longest leaf as last measured, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaf_length_mm: Option<f64>,
    /// The weight as last measured, g.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weight_g: Option<f64>,
}

/// A photo of a plant.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PhotoTaken {
    /// The name of its file.
    pub file: String,
    /// When, RFC 3339.
    pub at: String,
}

/// What one plant got of one product.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ProductGiven {
    /// The product; absent for plain water, and for feed of which the product was not written down.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub product: Option<String>,
    /// Whether it is plain water.
    pub plain_water: bool,
    /// Rounds through the leaf.
    pub rounds: u32,
    /// Feeds at the root.
    pub root_feeds: u32,
    /// The last of them, RFC 3339.
    pub last: String,
}

/// One week of one plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlantWeek {
    /// The week after ISO 8601, such as `2026-W25`.
    pub week: String,
    /// Its Monday.
    pub starts: String,
    /// Rounds with feed.
    pub rounds: u32,
    /// Feeds at the root.
    pub root_feeds: u32,
    /// Rescue soaks.
    pub soaks: u32,
    /// Flushes.
    pub flushes: u32,
    /// Dissolved feed that stayed on the plant, mg.
    pub leaf_mg: f64,
    /// Dissolved feed given at the root less what ran out below where measured, mg.
    pub root_mg: f64,
    /// Whether `root_mg` is the weekly amount stated for the plant, for want of entries.
    pub root_stated: bool,
    /// Nitrogen in both, mg N, of the feeds whose nitrogen is known.
    pub n_mg: f64,
    /// Feeds whose nitrogen is not known: `n_mg` is then too low.
    pub without_n: u32,
    /// Feeds whose volume is not known: they are in no sum.
    pub without_volume: u32,
    /// The ceiling of both for its pot, mg; absent without a pot of known volume.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ceiling_mg: Option<f64>,
    /// The heaviest residue seen on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue: Option<Level>,
}

impl PlantWeek {
    /// Leaf and root together, mg.
    ///
    /// ```
    /// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
    /// # let week: guardcell::ledger::PlantWeek = serde_json::from_value(serde_json::json!({
    /// #   "week": "2026-W25", "starts": "2026-06-15", "rounds": 1, "root_feeds": 0, "soaks": 0,
    /// #   "flushes": 0, "leaf_mg": 2.0, "root_mg": 3.0, "root_stated": false, "n_mg": 0.0,
    /// #   "without_n": 1, "without_volume": 0 })).unwrap();
    /// assert_eq!(week.total_mg(), 5.0);
    /// ```
    #[must_use]
    pub fn total_mg(&self) -> f64 {
        self.leaf_mg + self.root_mg
    }
}
