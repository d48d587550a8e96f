//! The residue threshold of this grower, learned from what was seen.
//!
//! The threshold is the residue at which this grower begins to see white. Each report is held
//! against the residue that the model of the film gave for that day, so that a dry day explains
//! its own white leaves. Three things keep a single report from dragging the answer: the error of
//! a day is shared by its reports, a share of days is taken to be far out, and a share of reports
//! to be mistaken.

mod answer;
mod evidence;
mod grid;
mod learn;
mod link;
mod picture;

pub use answer::{
    CurvePoint, Estimate, Evidence, NextStrength, NextStrengthRequest, NotUsed, Observation, Prior,
    ThresholdAnswer, ThresholdRequest,
};
pub use evidence::observations;
pub(crate) use evidence::spread;
pub use learn::learn_threshold;
