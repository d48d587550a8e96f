//! Wire types of the answer: the threshold and the next feed strength, with the reason as data.

use super::request::{NotUsed, Observation};
use serde::{Deserialize, Serialize};

/// The learned threshold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ThresholdResponse {
    /// The group it is for; the site where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// The day it is for, `YYYY-MM-DD`; absent where nothing was observed and no day asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<String>,
    /// Before any report on it.
    pub prior: Estimate,
    /// After all reports, drifted on to the day.
    pub posterior: Estimate,
    /// The probability that each interval holds.
    pub interval_share: f64,
    /// Whether no look shows the threshold from above: then the median and the upper end say
    /// little, and the threshold is at least the lower end.
    pub at_least: bool,
    /// The reports, in the order given.
    pub evidence: Vec<Evidence>,
    /// What was omitted, and why.
    pub not_used: Vec<NotUsed>,
    /// Days on which another product, water, wetting agent or sprayer was recorded, `YYYY-MM-DD`.
    pub changes: Vec<Change>,
    /// Rounds without a look that were counted as probably clean.
    pub counted_as_clean: u32,
    /// Both distributions, for drawing.
    pub curve: Vec<CurvePoint>,
    /// The next feed strength, where it was asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<NextStrength>,
}

/// A distribution in brief.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
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

/// A report, and what it did where that was asked for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Evidence {
    /// The report.
    #[serde(flatten)]
    pub observation: Observation,
    /// What it did; absent where it was not asked for, or is too long ago.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub influence: Option<Influence>,
}

/// What one report did to the threshold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Influence {
    /// How far the median of now is moved because of it: with it over without it, less 1, in %.
    pub pull_percent: f64,
    /// The probability that the model of its day was far out.
    pub odd_day: f64,
}

/// A recorded change of what is sprayed, or with what.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Change {
    /// The day of the first round with it, `YYYY-MM-DD`.
    pub day: String,
    /// What changed.
    pub what: Changed,
    /// What it changed to.
    pub to: String,
}

/// What a change is one of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Changed {
    /// The product.
    Product,
    /// The water.
    Water,
    /// The wetting agent.
    WettingAgent,
    /// The sprayer.
    Sprayer,
}

/// One point of the two distributions.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct CurvePoint {
    /// The threshold, g/m².
    pub threshold_g_m2: f64,
    /// Prior probability density in the natural logarithm of the threshold.
    pub prior_density: f64,
    /// Posterior probability density in the natural logarithm of the threshold.
    pub posterior_density: f64,
}

/// The next feed strength: what the reports allow, and what is proposed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct NextStrength {
    /// The highest strength on the usual days whose probability of visible residue is within the
    /// tolerance, mg/L, at most the cap. Absent where even the least useful one is too likely to
    /// be seen, or where there are no usual days.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub allowed_mg_l: Option<f64>,
    /// The strength to give next, mg/L: what the reports allow, or less where white was seen.
    /// Absent where plain water is proposed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub proposed_mg_l: Option<f64>,
    /// What decides the proposal.
    pub reason: StrengthReason,
    /// The rule after white, while it holds the strength below the cap.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub guard: Option<Guard>,
    /// Usual days it was judged on.
    pub usual_days: u32,
    /// Probability of visible residue at the proposed strength; with plain water where none is
    /// proposed; absent without usual days.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub probability: Option<f64>,
    /// Probability of visible residue at the least useful strength; absent without usual days.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub probability_least_useful: Option<f64>,
    /// Probability of visible residue with water alone; absent without usual days.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub probability_without_feed: Option<f64>,
    /// Probability of visible residue at the present strength, where that was asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub probability_at_present: Option<f64>,
    /// The probability that is accepted.
    pub tolerance: f64,
    /// The strength that the plants may get at most, mg/L.
    pub cap_mg_l: f64,
    /// Asks for looks where the last rounds have too few clean ones.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub look_wanted: Option<LookWanted>,
}

impl NextStrength {
    /// The strength that plants are held to, mg/L; 0 for plain water. Absent where the proposal
    /// holds them to no less than practice does.
    ///
    /// ```
    /// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
    /// use guardcell::ledger::{NextStrengthRequest, ThresholdRequest, learn_threshold};
    /// let request: ThresholdRequest = serde_json::from_str(r#"{"observations": [
    ///     {"day": "2026-06-21", "level": "clear", "feed_strength_mg_l": 300}], "next": {}}"#).unwrap();
    /// let next = learn_threshold(&request).unwrap().next.unwrap();
    /// assert_eq!(next.limit_mg_l(), Some(150.0));
    /// ```
    #[must_use]
    pub fn limit_mg_l(&self) -> Option<f64> {
        match self.reason {
            StrengthReason::Cap | StrengthReason::NoUsualDay => None,
            _ => Some(self.proposed_mg_l.unwrap_or(0.0)),
        }
    }

    /// The strength that left white, mg/L, where the rule after white decides.
    #[must_use]
    pub fn after_white_at_mg_l(&self) -> Option<f64> {
        match self.reason {
            StrengthReason::Guard | StrengthReason::GuardPlainWater => {
                self.guard.as_ref().map(|g| g.white_at_mg_l)
            }
            _ => None,
        }
    }
}

/// What decides the proposed strength.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum StrengthReason {
    /// The reports: a stronger feed would be seen more often than is accepted.
    Reports,
    /// The cap: the reports would allow more, practice gives such plants no more.
    Cap,
    /// White was seen: at most half of that strength until looks are clean again.
    Guard,
    /// Plain water: even the least useful strength would be seen more often than is accepted.
    ReportsPlainWater,
    /// Plain water: white was seen at so low a strength that half of it is not worth giving.
    GuardPlainWater,
    /// The cap, for want of a recent round with a modelled residue: the reports cannot be judged.
    NoUsualDay,
}

/// The rule after white: at most half of the strength that left it, and up again in steps after
/// clean looks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Guard {
    /// The strength it allows, mg/L.
    pub ceiling_mg_l: f64,
    /// The day of the last white that lowered it, `YYYY-MM-DD`.
    pub white_on: String,
    /// The strength that left it, mg/L.
    pub white_at_mg_l: f64,
    /// Clean looks since it last changed; half of one for a round that is counted as clean.
    pub clean_looks: f64,
    /// Clean looks after which it goes up by a step.
    pub clean_looks_needed: f64,
}

/// A request for looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct LookWanted {
    /// Of the last days with a round, so many.
    pub of_rounds: u32,
    /// Have a clean look.
    pub clean_looks: u32,
    /// Should have one.
    pub wanted: u32,
}
