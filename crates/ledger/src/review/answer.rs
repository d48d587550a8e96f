//! Wire types of a review.

use crate::account::PlantLedger;
use crate::entry::Entry;
use crate::threshold::{NextStrength, ThresholdResponse};
use guardcell_advice::{PlantEntry, Reason};
use guardcell_call::{Bound, bounds, setters};
use serde::{Deserialize, Serialize};

/// A request for the review of a collection.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct ReviewRequest {
    /// What was done and seen on one site, in any order; at most 100,000.
    pub entries: Vec<Entry>,
    /// The plants of the collection. A plant that is only in the entries is reviewed too, without
    /// what its setting and standing would tell.
    #[serde(default)]
    pub plants: Vec<PlantEntry>,
    /// The plants that are asked for, by id; all when empty.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub only: Vec<String>,
    /// The first day of the account, `YYYY-MM-DD`; that of the first entry when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// The moment it is drawn up for, RFC 3339 with offset; later entries are omitted.
    pub at: String,
    /// Probability of visible residue that is accepted, 0.01 to 0.5; 0.1 when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<f64>,
    /// Whether the grower logs white only, so that a round without a look was probably clean.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub logs_only_white: bool,
}

impl ReviewRequest {
    /// What the entries of a site say at a moment, RFC 3339 with offset.
    #[must_use]
    pub fn new(entries: Vec<Entry>, at: impl Into<String>) -> Self {
        Self {
            entries,
            plants: Vec::new(),
            only: Vec::new(),
            from: None,
            at: at.into(),
            tolerance: None,
            logs_only_white: false,
        }
    }
}

setters! { ReviewRequest {
    /// The same with the plants of the collection.
    with_plants(plants: Vec<PlantEntry>);
    /// The same for these plants alone, by id.
    with_only(only: Vec<String>);
    /// The same from this day on, `YYYY-MM-DD`.
    with_from(from?: String);
    /// The same accepting this probability of visible residue, 0.01 to 0.5.
    with_tolerance(tolerance?: f64);
    /// The same for a grower who logs white only, or not.
    with_logs_only_white(logs_only_white: bool);
} }

bounds! { ReviewRequest {
    entries: Bound::items(0, 100_000),
    plants: Bound::items(0, 20_000),
    only: Bound::items(0, 20_000),
    from: Bound::text(10, 10),
    at: Bound::text(1, 64),
    tolerance: Bound::number(0.01, 0.5, ""),
} }

/// The review of a collection.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ReviewResponse {
    /// The moment it was drawn up for, RFC 3339.
    pub at: String,
    /// The threshold and the next strength of the site.
    pub site: ThresholdResponse,
    /// Those of each group with reports enough for its own.
    pub groups: Vec<ThresholdResponse>,
    /// The plants.
    pub plants: Vec<PlantReview>,
    /// What was assumed.
    pub assumed: Vec<Reason>,
}

/// Whether the feed strength is right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Finding {
    /// The usual strength is the one proposed, or so near that a change is not worth it.
    Right,
    /// Less is proposed.
    TooStrong,
    /// More is proposed.
    RoomForMore,
    /// No round is recent enough, or nobody has looked.
    NotKnown,
}

/// What is usual for a plant now, from its last rounds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Usual {
    /// Rounds it is taken from.
    pub rounds: u32,
    /// Their feed strength (median), mg/L.
    pub feed_strength_mg_l: f64,
}

/// The review of one plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct PlantReview {
    /// What it got.
    pub account: PlantLedger,
    /// The group whose threshold holds for it; that of the site where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// Looks for residue on its leaves in that time, by what was seen: none, faint, clear, heavy.
    pub looks: [u32; 4],
    /// The last look on its leaves, RFC 3339.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_look: Option<String>,
    /// What is usual for it now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub usual: Option<Usual>,
    /// The next strength: that of its group or site, at most what practice gives such a plant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<NextStrength>,
    /// Whether its strength is right.
    pub finding: Finding,
    /// That in words.
    pub strength_says: Vec<String>,
    /// What to change or do now, most important first; empty where there is nothing.
    pub change: Vec<String>,
}
