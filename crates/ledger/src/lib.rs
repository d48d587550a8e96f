//! What a grower's entries say: the learned residue threshold and the next feed strength.
//!
//! Pure functions over plain data: no I/O, no clock, no storage.

pub mod calls;
mod entry;
mod moment;
pub mod threshold;

pub use entry::Level;
pub use threshold::{
    Change, Changed, CurvePoint, Estimate, Evidence, Guard, Influence, LookWanted, NextStrength,
    NextStrengthRequest, NotUsed, Observation, Prior, SprayedRound, StrengthReason,
    ThresholdRequest, ThresholdResponse, UsualDay, learn_threshold,
};
