//! What comes back: a verdict for every plant, with windows, reasons and unknowns.

use crate::air::AirBasis;
use crate::reason::{Reason, Unknown};
use guardcell_clock::Phase;
use guardcell_reference::{Citation, Opens, Pathway};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Advice for a collection.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AdviceResponse {
    /// The site it is for.
    pub site: String,
    /// Start of the time looked at, RFC 3339.
    pub from: String,
    /// End of the time looked at, RFC 3339.
    pub to: String,
    /// One entry a plant, in the order asked.
    pub plants: Vec<PlantAdvice>,
    /// Each area with plants: its air, who is fed, and what would help the others.
    pub areas: Vec<AreaAdvice>,
    /// What holds for the whole answer: cautions and assumptions.
    pub cautions: Vec<Reason>,
    /// The works that the reasons cite.
    pub sources: Vec<Citation>,
}

/// What to do with a plant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Feed in the window given.
    Feed,
    /// Nothing yet: a later window or date is given.
    Wait,
    /// Plain water only.
    WaterOnly,
    /// Leave alone.
    Leave,
}

impl Verdict {
    /// The word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Feed => "feed",
            Self::Wait => "wait",
            Self::WaterOnly => "water-only",
            Self::Leave => "leave",
        }
    }
}

/// Advice for one plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlantAdvice {
    /// The grower's identifier.
    pub id: String,
    /// The name as given.
    pub name: String,
    /// The name it was taken for.
    pub taken_for: String,
    /// The area.
    pub area: String,
    /// What to do.
    pub verdict: Verdict,
    /// How it takes up CO2.
    pub pathway: Pathway,
    /// When its stomata open.
    pub opens: Opens,
    /// Where the verdict is to wait: until when, RFC 3339 or a date, where that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
    /// The openings in the time looked at.
    pub openings: Vec<PlantOpening>,
    /// The windows, best first; the second is the runner-up.
    pub windows: Vec<Window>,
    /// Feed strength of the best window, mg/L of dissolved feed; 0 for plain water; none where
    /// the plant is left alone.
    pub feed_strength_mg_l: Option<f64>,
    /// Passes in the round.
    pub passes: u8,
    /// Days until the next round at the earliest.
    pub interval_days: f64,
    /// When it is next due, RFC 3339, where the history tells.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due: Option<String>,
    /// Probability of visible residue in the best window.
    pub residue_probability: Option<f64>,
    /// What the pot gets in a week from leaf and root.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weekly: Option<WeeklyDose>,
    /// Why, the weightiest first.
    pub reasons: Vec<Reason>,
    /// Limits within the error of the instruments, and what lies beyond them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub near_limits: Vec<Reason>,
    /// What was not known, what matters most first.
    pub unknowns: Vec<Unknown>,
    /// Where nothing is fed: what would make it possible, and until when to wait, cheapest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub changes: Vec<Change>,
}

/// An interval in which the stomata of a plant are expected open.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlantOpening {
    /// Start, RFC 3339.
    pub start: String,
    /// End, RFC 3339.
    pub end: String,
    /// Which opening of the day it is.
    pub phase: Phase,
    /// How probable it is that this plant opens then, 0 to 1.
    pub probability: f64,
}

/// An interval to work in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Window {
    /// Start, RFC 3339 with offset.
    pub start: String,
    /// End, RFC 3339 with offset.
    pub end: String,
    /// The opening it lies in.
    pub phase: Phase,
    /// How probable it is that the stomata are open then, 0 to 1.
    pub open_probability: f64,
    /// Feed strength, mg/L of dissolved feed.
    pub feed_strength_mg_l: f64,
    /// Passes.
    pub passes: u8,
    /// Probability of visible residue at the worst hour of the window.
    pub residue_probability: f64,
    /// Of it, the part that the water alone would leave.
    pub scale_probability: f64,
    /// What is left and how sure that is, at the worst hour of the window.
    pub modelled: ModelledResidue,
    /// How the air from the start of the window to the driest hour after it is known: the weakest.
    pub basis: AirBasis,
    /// Minutes until the leaf is dry at the middle of the window; none where it stays wet.
    pub dry_minutes: Option<f64>,
    /// The share of the feed that enters the leaf before it is dry, or within the hours counted
    /// where it stays wet.
    pub uptake: UptakeShare,
    /// Minutes for which the velamen of hanging roots stays wet; none for other roots, and where it
    /// does not dry.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub velamen_minutes: Option<f64>,
    /// The driest air of the day that follows, which decides how much turns solid, %.
    pub driest_rh_percent: f64,
    /// When that is, RFC 3339 with offset.
    pub driest_at: String,
    /// What the window is worth: the objective by which windows are ranked, in full doses.
    pub worth: f64,
    /// What is lost against the best window, in words; empty for the best.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub costs: String,
}

/// What a film leaves and the air that decides it; what a journal keeps to learn from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ModelledResidue {
    /// Feed salts left, g/m² of wet leaf surface.
    pub feed_g_m2: f64,
    /// Carbonate scale from the water, g/m².
    pub scale_g_m2: f64,
    /// How far the feed salts vary between days that read the same: the standard deviation of their
    /// natural logarithm; none where none are left.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed_log_sd: Option<f64>,
    /// Air temperature at the driest hour, °C.
    pub temp_c: f64,
    /// Relative humidity at the driest hour, %.
    pub rh_percent: f64,
    /// Air speed at the driest hour, m/s; none where it is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_m_s: Option<f64>,
}

/// Leaf and root feed of a potted plant in a week.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WeeklyDose {
    /// From the leaf, mg of dissolved feed.
    pub leaf_mg: f64,
    /// From the root, mg of dissolved feed; none where not stated.
    pub root_mg: Option<f64>,
    /// The ceiling for this pot, mg; none where the pot's volume is not stated.
    pub ceiling_mg: Option<f64>,
    /// When the pot is due for a flush with plain water, a date; none where the last is not known.
    pub flush_due: Option<String>,
}

/// The share of the feed that enters a leaf, 0 to 1. Plants differ widely: about 1 chance in 10
/// that it is below `low`, and 1 in 10 that it is above `high`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UptakeShare {
    /// A low value.
    pub low: f64,
    /// The likely value.
    pub likely: f64,
    /// A high value.
    pub high: f64,
}

/// Something that would make a window, computed, or until when to wait.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Change {
    /// The code, kebab-case English: one of [`codes`](crate::codes).
    pub code: String,
    /// The change in words, with its figures.
    pub message: String,
    /// The figures, each with its unit in its name.
    #[serde(default, skip_serializing_if = "Map::is_empty")]
    pub inputs: Map<String, Value>,
    /// The window it would open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub window: Option<Window>,
}

/// An area as a whole.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AreaAdvice {
    /// The identifier.
    pub area: String,
    /// The name in words.
    pub name: String,
    /// How the air of the time looked at is known: the weakest of it.
    pub basis: AirBasis,
    /// The last reading of its air, RFC 3339 with offset.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub readings_until: Option<String>,
    /// Plants that are fed.
    pub fed: usize,
    /// Plants in growth and with roots that are not fed.
    pub not_fed: usize,
    /// What would help those that are not fed, each change once, cheapest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub changes: Vec<AreaChange>,
}

/// A change that would help plants of an area, at the figure that serves all of those it helps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AreaChange {
    /// The code, kebab-case English: one of [`codes`](crate::codes).
    pub code: String,
    /// The change in words, with its figures.
    pub message: String,
    /// The figures, each with its unit in its name.
    #[serde(default, skip_serializing_if = "Map::is_empty")]
    pub inputs: Map<String, Value>,
    /// How many plants it would help.
    pub plants: usize,
}
