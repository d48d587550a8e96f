//! The residue threshold of this grower, learned from what was seen, and the next feed strength.
//!
//! The threshold is the residue at which this grower begins to see white. Each report is held
//! against the residue that the model of the film gave for that day. The threshold drifts from
//! day to day and may move when another product, water, wetting agent or sprayer is recorded, so
//! what was seen long ago counts less. The error of a day is shared by its reports, a share of
//! days is far out, and a share of reports is mistaken; the same shares are used to learn and to
//! predict. A heavier look never leads to a stronger feed.
//!
//! On top of what the reports allow stands a rule of practice: white on the leaf halves the
//! strength, clean looks give it back in steps. The lower of both is proposed.

mod answer;
mod emission;
mod grid;
mod guard;
mod learn;
mod picture;
mod request;
mod response;
mod strength;
mod timeline;
pub mod words;

pub(crate) use answer::Learned;
pub use answer::learn_threshold;
pub(crate) use request::whiteness;
pub use request::{
    NextStrengthRequest, NotUsed, Observation, Prior, SprayedRound, ThresholdRequest, UsualDay,
};
pub use response::{
    Change, Changed, CurvePoint, Estimate, Evidence, Guard, Influence, LookWanted, NextStrength,
    StrengthReason, ThresholdResponse,
};
