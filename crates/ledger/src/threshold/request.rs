//! Wire types of the question: what was sprayed, what was seen, what is asked for.

use crate::entry::Level;
use guardcell_call::{Bound, bounds};
use guardcell_reference::parameters::{film, journal, practice};
use serde::{Deserialize, Serialize};

/// Names of entries, groups, products.
const NAME: Bound = Bound::text(1, 64);
/// A date.
const DAY: Bound = Bound::text(10, 10);
const RESIDUE: Bound = Bound::number(0.0, journal::RESIDUE_MOST.g_per_m2(), "g/m²");
const LOG_SD: Bound = Bound::number(0.01, 3.0, "");
const STRENGTH: Bound = Bound::number(0.0, 10_000.0, "mg/L");
/// Entries of one kind.
const RECORDS: Bound = Bound::items(0, 100_000);

bounds! { ThresholdRequest {
    observations: RECORDS,
    rounds: RECORDS,
    not_used: RECORDS,
    day: DAY,
    group: NAME,
    interval_share: Bound::number(0.5, 0.99, ""),
} }

bounds! { Observation {
    entry: NAME,
    day: DAY,
    at: Bound::text(1, 40),
    round: NAME,
    group: NAME,
    feed_g_m2: RESIDUE,
    scale_g_m2: RESIDUE,
    residue_log_sd: LOG_SD,
    feed_strength_mg_l: STRENGTH,
} }

bounds! { SprayedRound {
    entry: NAME,
    day: DAY,
    feed_strength_mg_l: STRENGTH,
    feed_g_m2: RESIDUE,
    scale_g_m2: RESIDUE,
    residue_log_sd: LOG_SD,
    product: NAME,
    water: NAME,
    wetting_agent: NAME,
    sprayer: NAME,
} }

bounds! { NotUsed { entry: NAME, why: Bound::text(1, 500) } }

bounds! { Prior {
    median_g_m2: Bound::number(0.001, 2.0, "g/m²"),
    log_sd: Bound::number(0.05, 1.0, ""),
} }

bounds! { NextStrengthRequest {
    usual_days: Bound::items(0, 100),
    tolerance: Bound::number(0.01, 0.5, ""),
    cap_mg_l: Bound::number(practice::STRENGTH_LEAST_USEFUL.mg_per_l(), 10_000.0, "mg/L"),
    present_mg_l: STRENGTH,
} }

bounds! { UsualDay {
    residue_g_m2_per_mg_l: Bound::number(0.0, 0.01, "g/m² per mg/L"),
    residue_without_feed_g_m2: RESIDUE,
    residue_log_sd: LOG_SD,
} }

/// A request for the learned threshold and the next feed strength.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct ThresholdRequest {
    /// What was seen, in any order; at most 100,000.
    pub observations: Vec<Observation>,
    /// The rounds that were sprayed, in any order; at most 100,000. They tell when product, water,
    /// wetting agent or sprayer changed, and which rounds nobody looked at.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rounds: Vec<SprayedRound>,
    /// What was omitted from the observations, repeated in the answer.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub not_used: Vec<NotUsed>,
    /// The day it is asked for, `YYYY-MM-DD`: the threshold drifts on to it. The day of the last
    /// observation or round when not given. Later observations and rounds are omitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<String>,
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
    /// Whether the grower logs white only, so that a round without a look was probably clean.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub logs_only_white: bool,
    /// Asks what each of the last looks did to the threshold.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub influence: bool,
    /// Asks for the next feed strength.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<NextStrengthRequest>,
}

/// One report of residue with what was modelled for the round it is about.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Observation {
    /// The entry of the journal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entry: Option<String>,
    /// The day of the round it is about, `YYYY-MM-DD`. Looks of one day count as one look: they
    /// share the error of its model.
    pub day: String,
    /// When it was seen, RFC 3339.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// The round it is about.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub round: Option<String>,
    /// The group looked at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// What was seen.
    pub level: Level,
    /// Modelled residue of feed salts that could have been seen, g/m², 0 to 20; absent where none
    /// was modelled or where what was seen is scale.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed_g_m2: Option<f64>,
    /// Modelled carbonate scale that could have been seen, g/m², 0 to 20.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale_g_m2: Option<f64>,
    /// Log-normal uncertainty of both, 0.01 to 3; the usual one of a day when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_log_sd: Option<f64>,
    /// Feed strength of the round, mg/L, 0 to 10,000; absent where it is not known or where what
    /// was seen is scale, which no weaker feed prevents.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed_strength_mg_l: Option<f64>,
}

impl Observation {
    /// A look at a round of a day, with nothing modelled for it.
    #[must_use]
    pub fn new(day: impl Into<String>, level: Level) -> Self {
        Self {
            entry: None,
            day: day.into(),
            at: None,
            round: None,
            group: None,
            level,
            feed_g_m2: None,
            scale_g_m2: None,
            residue_log_sd: None,
            feed_strength_mg_l: None,
        }
    }

    /// What could have been seen, in grams of feed salts that look as white, g/m²; absent where
    /// nothing was modelled.
    ///
    /// ```
    /// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
    /// let look: guardcell::ledger::Observation = serde_json::from_str(
    ///     r#"{"day": "2026-06-21", "level": "none", "feed_g_m2": 0.02}"#).unwrap();
    /// assert_eq!(look.whiteness_g_m2(), Some(0.02));
    /// ```
    #[must_use]
    pub fn whiteness_g_m2(&self) -> Option<f64> {
        whiteness(self.feed_g_m2, self.scale_g_m2)
    }
}

/// Feed salts and scale together, in grams of feed salts that look as white.
pub(crate) fn whiteness(feed_g_m2: Option<f64>, scale_g_m2: Option<f64>) -> Option<f64> {
    let scale = scale_g_m2.map(|s| s * film::SCALE_VISIBILITY.number());
    match (feed_g_m2, scale) {
        (None, None) => None,
        (feed, scale) => Some(feed.unwrap_or(0.0) + scale.unwrap_or(0.0)),
    }
}

/// A round as far as it tells about residue.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct SprayedRound {
    /// The entry of the journal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entry: Option<String>,
    /// Its day, `YYYY-MM-DD`.
    pub day: String,
    /// Feed strength, mg/L, 0 (plain water) to 10,000.
    pub feed_strength_mg_l: f64,
    /// Modelled residue of feed salts, g/m², 0 to 20.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed_g_m2: Option<f64>,
    /// Modelled carbonate scale, g/m², 0 to 20.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale_g_m2: Option<f64>,
    /// Log-normal uncertainty of what is seen, 0.01 to 3; the usual one of a day when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_log_sd: Option<f64>,
    /// The product that was dissolved.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub product: Option<String>,
    /// The water it was dissolved in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<String>,
    /// The wetting agent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wetting_agent: Option<String>,
    /// The sprayer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sprayer: Option<String>,
}

impl SprayedRound {
    /// A round of a day at a feed strength, with nothing modelled for it.
    #[must_use]
    pub fn new(day: impl Into<String>, feed_strength_mg_l: f64) -> Self {
        Self {
            entry: None,
            day: day.into(),
            feed_strength_mg_l,
            feed_g_m2: None,
            scale_g_m2: None,
            residue_log_sd: None,
            product: None,
            water: None,
            wetting_agent: None,
            sprayer: None,
        }
    }
}

/// An entry that told nothing about the threshold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct NotUsed {
    /// The entry.
    pub entry: String,
    /// Why.
    pub why: String,
}

/// A log-normal distribution of the threshold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Prior {
    /// Median, g/m², 0.001 to 2.
    pub median_g_m2: f64,
    /// Standard deviation of the natural logarithm, 0.05 to 1.
    pub log_sd: f64,
}

impl Prior {
    /// The shipped calibration.
    ///
    /// ```
    /// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
    /// assert!(guardcell::ledger::Prior::shipped().median_g_m2 > 0.0);
    /// ```
    #[must_use]
    pub fn shipped() -> Self {
        let (median_g_m2, log_sd) = super::grid::shipped();
        Self { median_g_m2, log_sd }
    }
}

/// What the next strength is asked for.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct NextStrengthRequest {
    /// The usual days: one for each of the last rounds, at most 100. Without any the reports
    /// cannot say what they allow.
    #[serde(default)]
    pub usual_days: Vec<UsualDay>,
    /// Probability of visible residue that is accepted, 0.01 to 0.5; 0.1 when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<f64>,
    /// The strength that the plants may get at most, mg/L, 25 to 10,000; that of an established
    /// plant when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cap_mg_l: Option<f64>,
    /// A strength whose own probability is asked for as well, mg/L, 0 to 10,000: the present one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub present_mg_l: Option<f64>,
}

/// What a round leaves on a usual day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct UsualDay {
    /// Modelled residue for each mg/L of feed strength, g/m² per mg/L, 0 to 0.01.
    pub residue_g_m2_per_mg_l: f64,
    /// Modelled residue without any feed, g/m² weighed as whiteness, 0 to 20.
    #[serde(default)]
    pub residue_without_feed_g_m2: f64,
    /// Log-normal uncertainty of both, 0.01 to 3; the usual one of a day when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_log_sd: Option<f64>,
}

impl UsualDay {
    /// A day on which each mg/L of feed leaves so much, in g/m² per mg/L, and water alone nothing.
    #[must_use]
    pub const fn new(residue_g_m2_per_mg_l: f64) -> Self {
        Self { residue_g_m2_per_mg_l, residue_without_feed_g_m2: 0.0, residue_log_sd: None }
    }
}
