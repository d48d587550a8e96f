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
    /// The bucket, the first where a later sitting needs its own; none where no plant is fed.
    pub bucket: Option<Bucket>,
    /// When to go round, in order of time.
    pub sittings: Vec<Sitting>,
    /// Minutes of all sittings together, estimated from the stated pace.
    #[serde(default)]
    pub minutes: f64,
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
    /// What the mix is called where supplements go into it: the product with their names.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mix: Option<String>,
    /// What is weighed or measured into it beside the product. Never into a stock solution of the
    /// product: calcium with sulfate or phosphate turns solid there.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<BucketSupplement>,
    /// Feed strength, mg/L of dissolved feed, as it comes out after weighing on the scale.
    pub feed_strength_mg_l: f64,
    /// Nitrogen from the feed, mg/L.
    pub n_mg_l: f64,
    /// Of it, urea nitrogen, which a meter does not see, mg/L.
    pub urea_n_mg_l: f64,
    /// Water, L.
    pub water_l: f64,
    /// Product, without its supplements, to weigh into it, g; none for a liquid, and where a stock solution is measured out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// Product to measure into it, mL; none for a powder, and where a stock solution is measured out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// The stock solution to measure out, where the scale or the syringe is too coarse for the
    /// product itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stock: Option<Stock>,
    /// How far half a step of the scale and of the syringe moves the strength, %.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weighing_error_percent: Option<f64>,
    /// What is left in it when every fill is taken, and what it is good for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub surplus: Option<Surplus>,
    /// Specific conductance a meter will read, µS/cm, water and feed together.
    pub ec25_us_cm: Bounds,
    /// Specific conductance of the water before anything is added, µS/cm.
    pub water_ec25_us_cm: f64,
    /// The same reading on the TDS scales, ppm.
    pub meter_ppm: MeterPpm,
    /// Hours it may be used.
    pub keeps_hours: f64,
}

/// A supplement of a bucket.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BucketSupplement {
    /// The name on its label.
    pub product: String,
    /// Mass to weigh into the bucket, g; none for a liquid, and where a stock solution is measured
    /// out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// Volume to measure into it, mL; none for a powder, and where a stock solution is measured out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// The stock solution of it to measure out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stock: Option<Stock>,
}

/// A stock solution: the product made up with water to a volume, measured out with a syringe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Stock {
    /// Product to weigh, g; none for a liquid.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// Product to measure, mL; none for a powder.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// The volume it is made up to with water, mL.
    pub made_up_to_ml: f64,
    /// What of it goes into the bucket, mL.
    pub take_ml: f64,
    /// Days it is kept, closed, dark and cool.
    pub keeps_days: f64,
}

/// What is left in a bucket.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Surplus {
    /// The volume, mL.
    pub ml: f64,
    /// Pots with room under their weekly ceiling, with what each may get at the root.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pots: Vec<SurplusPot>,
    /// What it is good for.
    pub reason: Reason,
}

/// A pot that may get what is left in the bucket at the root.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SurplusPot {
    /// The grower's identifier.
    pub id: String,
    /// The name as given.
    pub name: String,
    /// The most it may get, mL.
    pub ml: f64,
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
    /// The strengths, strongest first, because the bucket is stepped down; within a strength by
    /// area, then bench.
    pub steps: Vec<RoundStep>,
    /// A bucket of its own, to be mixed for it: the one before would be too old. None where the
    /// bucket of the round, or that of an earlier sitting, serves it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bucket: Option<Bucket>,
    /// Minutes it takes, estimated from the stated pace.
    #[serde(default)]
    pub minutes: f64,
    /// What is to be said of it, such as that it does not fit its window.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<Reason>,
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
    /// The bench, where the collection names it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bench: Option<String>,
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
    /// What the window and dose planned are worth, in full doses, for the plant that gets least.
    #[serde(default)]
    pub worth: f64,
    /// The share of its worth that the plant of the group forgoes which forgoes most, against its
    /// own best window and dose; 0 where all have their best.
    #[serde(default)]
    pub worth_lost: f64,
    /// Why, of the hour and the dose planned.
    pub reasons: Vec<Reason>,
    /// The best other time of the first plant of the group: its best where it was moved.
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
    /// The share of its worth that it forgoes in this round against its own best window and dose.
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub worth_lost: f64,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the form that serde calls")]
fn is_nothing(share: &f64) -> bool {
    *share <= 0.0
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
