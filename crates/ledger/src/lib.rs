//! What was done and seen, and what follows from it: each plant's account, the learned residue
//! threshold and the next feed strength, a plan of soaks as kept.
//!
//! Pure functions over plain entries: no I/O, no clock, no storage.

mod account;
mod adherence;
mod advised;
pub mod calls;
mod check;
mod entry;
mod figure;
mod from_plan;
mod given;
mod learning;
mod moment;
mod pen;
mod record;
mod review;
mod round_edit;
mod standing;
pub mod sync;
pub mod threshold;

pub use account::{
    GrowthMonth, Ledger, LedgerRequest, PhotoTaken, PlantLedger, PlantWeek, ProductGiven, ledger,
};
pub use adherence::{Adherence, AdherenceRequest, DoneSoak, SeenSign, adherence};
pub use advised::{Known, add_entries};
pub use entry::{
    Conditions, Done, Draft, Entry, Event, Flush, Growth, Level, Measure, Nature, Note, Place,
    PlantShare, Residue, Response, Retraction, RootFeed, Round, Sign, Soak, Task, Window, Wipe,
};
pub use from_plan::rounds_of_plan;
pub use given::{GivenRequest, GivenRounds, GivenStep, given_rounds};
pub use moment::Moment;
pub use review::{
    Finding, PlantReview, ReviewRequest, ReviewResponse, Usual, review, threshold_of_entries,
};
pub use standing::standing_entries;
pub use threshold::{
    Change, Changed, CurvePoint, Estimate, Evidence, Guard, Influence, LookWanted, NextStrength,
    NextStrengthRequest, NotUsed, Observation, Prior, SprayedRound, StrengthReason,
    ThresholdRequest, ThresholdResponse, UsualDay, learn_threshold,
};
