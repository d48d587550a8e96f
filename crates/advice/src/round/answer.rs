//! The plan of a round, as it goes over the wire and onto the sheet.

use super::fills::Fill;
use crate::answer::{ModelledResidue, Verdict, Window};
use crate::reason::{Reason, Unknown};
use guardcell_reference::Citation;
use guardcell_solution::Bounds;
use guardcell_solution::recipe::MeterPpm;
use serde::{Deserialize, Serialize};

/// A round for a whole collection: one bucket, sittings in order of time, every mister fill.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RoundResponse {
    /// The site.
    pub site: String,
    /// Start of the time looked at, RFC 3339.
    pub from: String,
    /// End of the time looked at, RFC 3339.
    pub to: String,
    /// The bucket; none where no plant is fed.
    pub bucket: Option<Bucket>,
    /// When to go round, in order of time.
    pub sittings: Vec<Sitting>,
    /// Who gets nothing now, and why.
    pub alone: Vec<Alone>,
    /// Cautions and assumptions that hold for the whole round.
    pub cautions: Vec<Reason>,
    /// What was not known, what matters most first.
    pub unknowns: Vec<Unknown>,
    /// The works that the reasons cite.
    pub sources: Vec<Citation>,
}

/// What to mix, once.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Bucket {
    /// The product.
    pub product: String,
    /// Feed strength, mg/L of dissolved feed, as it comes out after weighing on the scale.
    pub feed_strength_mg_l: f64,
    /// Nitrogen from the feed, mg/L.
    pub n_mg_l: f64,
    /// Of it, urea nitrogen, which a meter does not see, mg/L.
    pub urea_n_mg_l: f64,
    /// Water, L.
    pub water_l: f64,
    /// Product to weigh, g; none for a liquid.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// Product to measure, mL; none for a powder.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// How far half a step of the scale moves the strength, %.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weighing_error_percent: Option<f64>,
    /// Specific conductance a meter will read, µS/cm, water and feed together.
    pub ec25_us_cm: Bounds,
    /// Specific conductance of the water before anything is added, µS/cm.
    pub water_ec25_us_cm: f64,
    /// The same reading on the TDS scales, ppm.
    pub meter_ppm: MeterPpm,
    /// Hours it may be used.
    pub keeps_hours: f64,
}

/// One time to go round.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Sitting {
    /// Start, RFC 3339 with offset.
    pub start: String,
    /// End, RFC 3339 with offset.
    pub end: String,
    /// `before-dawn`, `morning`, `day`, `late-afternoon` or `evening` by the sun; `before-lights-on`,
    /// `lights-on` or `after-lights-off` in an area lit by lamps alone.
    pub part_of_day: String,
    /// The strengths, strongest first.
    pub steps: Vec<RoundStep>,
    /// What is left in the mister at the end, mL.
    pub left_over_ml: f64,
    /// Its feed strength, mg/L.
    pub left_over_mg_l: f64,
}

/// One strength in the mister, and everyone who gets it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RoundStep {
    /// Feed strength, mg/L of dissolved feed; 0 for plain water.
    pub feed_strength_mg_l: f64,
    /// Nitrogen from the feed, mg/L.
    pub n_mg_l: f64,
    /// What a meter will read in the mister, µS/cm at 25 °C.
    pub ec25_us_cm: Bounds,
    /// Passes; let the leaves dry in between.
    pub passes: u8,
    /// Volume to spray, all passes together, mL.
    pub spray_ml: f64,
    /// The mister fills.
    pub fills: Vec<Fill>,
    /// Who gets it.
    pub groups: Vec<RoundGroup>,
}

/// Plants of one area that get the same for the same reasons.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RoundGroup {
    /// What they share, in words.
    pub group: String,
    /// The area.
    pub area: String,
    /// The plants.
    pub plants: Vec<RoundPlant>,
    /// What to do.
    pub verdict: Verdict,
    /// Start of the window of this group, RFC 3339 with offset.
    pub start: String,
    /// End of the window of this group, RFC 3339 with offset.
    pub end: String,
    /// The highest probability of visible residue in the group.
    pub residue_probability: f64,
    /// What is left on the plant of the group on which most is, and how sure that is.
    pub modelled: ModelledResidue,
    /// Minutes until the leaves are dry; none where they stay wet.
    pub dry_minutes: Option<f64>,
    /// The driest air of the day that follows, %.
    pub driest_rh_percent: f64,
    /// When that is, RFC 3339 with offset.
    pub driest_at: String,
    /// Why.
    pub reasons: Vec<Reason>,
    /// The second best time of the first plant of the group, and what it costs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub runner_up: Option<Window>,
}

/// A plant of a round.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RoundPlant {
    /// The grower's identifier.
    pub id: String,
    /// The name as given.
    pub name: String,
    /// Volume to spray on it, all passes together, what runs off included, mL.
    pub spray_ml: f64,
}

/// A plant by its identifier and name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlantRef {
    /// The grower's identifier.
    pub id: String,
    /// The name as given.
    pub name: String,
}

/// Plants that get nothing now, for one reason.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Alone {
    /// `wait`, `water-only` or `leave`.
    pub verdict: Verdict,
    /// Why.
    pub reason: Reason,
    /// The plants.
    pub plants: Vec<PlantRef>,
    /// What would make a window, or until when to wait; empty where nothing is needed.
    pub changes: Vec<String>,
}
