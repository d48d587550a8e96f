//! A round for the whole collection: sittings in order of time, the bucket mixed for them, the
//! strongest feed first, every mister fill stepped down from the one before.
//!
//! `choice` says what may be done with each kind of plant, `unit` which plants are moved together,
//! `layout` which sittings a choice for all of them makes and what that costs, `search` finds the
//! cheapest. `sheet` works the plan out, with `bucket`, `fills` and `surplus`; `plan` puts it into
//! the answer.

mod alone;
mod answer;
mod bucket;
mod choice;
mod fills;
mod group;
mod layout;
mod pace;
mod part_of_day;
mod plan;
mod search;
mod shared;
mod sheet;
mod span;
mod surplus;
mod unit;
pub(crate) mod volume;

pub use answer::{
    Alone, Bucket, BucketSupplement, PlantRef, RoundGroup, RoundPlant, RoundResponse, RoundStep,
    Sitting, Stock, Surplus, SurplusPot,
};
pub use fills::{Fill, Mister, Step};
pub use plan::round;
