//! Wire types of the learned threshold.

use crate::entry::Level;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A request for the learned threshold.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ThresholdRequest {
    /// What was seen, in any order.
    pub observations: Vec<Observation>,
    /// What was left out of them, repeated in the answer.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub not_used: Vec<NotUsed>,
    /// Where to start from; the shipped calibration when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub prior: Option<Prior>,
    /// The group whose threshold is asked for; the whole site when not given. Reports on other
    /// plants then only tell about the site.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// The probability that the interval holds, 0.5 to 0.99; 0.9 when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub interval_share: Option<f64>,
    /// Asks for the next feed strength.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<NextStrengthRequest>,
}

/// One report of residue with the residue that was modelled for that day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Observation {
    /// The entry of the journal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entry: Option<String>,
    /// When it was seen, RFC 3339.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// The group looked at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// The round or day; observations that share it share the error of its model. Each stands
    /// alone when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<String>,
    /// What was seen.
    pub level: Level,
    /// Modelled residue, g/m², 0 to 20: feed salts, and scale weighed by how white it looks.
    pub residue_g_m2: f64,
    /// Its log-normal uncertainty, 0.01 to 3; the usual one of a day when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_log_sd: Option<f64>,
}

/// A log-normal distribution of the threshold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Prior {
    /// Median, g/m², 0.001 to 2.
    pub median_g_m2: f64,
    /// Standard deviation of the natural logarithm, 0.05 to 1.
    pub log_sd: f64,
}

/// What the next strength is asked for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NextStrengthRequest {
    /// Modelled residue for each mg/L of feed strength on the day it is for, g/m² per mg/L, 0 to
    /// 0.01.
    pub residue_g_m2_per_mg_l: f64,
    /// Modelled residue without any feed, g/m² weighed as whiteness; 0 when not given.
    #[serde(default)]
    pub residue_without_feed_g_m2: f64,
    /// Log-normal uncertainty of both, 0.01 to 3; the usual one of a day when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_log_sd: Option<f64>,
    /// Probability of visible residue that is accepted, 0.01 to 0.5; 0.1 when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<f64>,
    /// The strength that the plants may get at most, mg/L; the highest of the practice table when
    /// not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cap_mg_l: Option<f64>,
    /// A strength whose own probability is asked for as well, mg/L, 0 to 10,000: the present one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub present_mg_l: Option<f64>,
    /// Whether days on which the model is far out are counted in; true when not given. Advice on a
    /// day leaves them out, for it speaks of the day as modelled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub odd_days: Option<bool>,
}

/// The learned threshold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ThresholdAnswer {
    /// The group it is for; the site where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// Before any report on it.
    pub prior: Estimate,
    /// After all reports.
    pub posterior: Estimate,
    /// The probability that each interval holds.
    pub interval_share: f64,
    /// The reports, in the order given, each with what it did.
    pub evidence: Vec<Evidence>,
    /// What was left out, and why.
    pub not_used: Vec<NotUsed>,
    /// Both distributions, for drawing.
    pub curve: Vec<CurvePoint>,
    /// The next feed strength, where it was asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<NextStrength>,
}

/// A distribution in brief.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Estimate {
    /// Median, g/m².
    pub median_g_m2: f64,
    /// Low end of the interval, g/m².
    pub low_g_m2: f64,
    /// High end of the interval, g/m².
    pub high_g_m2: f64,
    /// Standard deviation of the natural logarithm.
    pub log_sd: f64,
}

/// What one report did.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Evidence {
    /// The report.
    #[serde(flatten)]
    pub observation: Observation,
    /// How far the median moved because of it: with it over without it, less 1, in %.
    pub pull_percent: f64,
    /// The probability that the model of its day was far out.
    pub odd_day: f64,
}

/// An entry that told nothing about the threshold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NotUsed {
    /// The entry.
    pub entry: String,
    /// Why.
    pub why: String,
}

/// One point of the two distributions.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CurvePoint {
    /// The threshold, g/m².
    pub threshold_g_m2: f64,
    /// Prior probability density in the natural logarithm of the threshold.
    pub prior_density: f64,
    /// Posterior probability density in the natural logarithm of the threshold.
    pub posterior_density: f64,
}

/// The highest strength whose probability of visible residue is within the tolerance.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NextStrength {
    /// Feed strength, mg/L, rounded down to a whole number; absent where even the least useful
    /// one would probably be seen: then give plain water, or wait for damper air.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed_strength_mg_l: Option<f64>,
    /// Probability of visible residue at that strength, or at the least useful one.
    pub probability: f64,
    /// The probability that is accepted.
    pub tolerance: f64,
    /// Whether the cap holds it back, not the residue.
    pub capped: bool,
    /// Probability of visible residue with water alone.
    pub probability_without_feed: f64,
    /// Probability of visible residue at the present strength, where that was asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub probability_at_present: Option<f64>,
}
