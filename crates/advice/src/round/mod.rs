//! A round for the whole collection: one bucket mixed once, sittings in order of time, the
//! strongest feed first, every mister fill stepped down from the one before.

mod answer;
mod bucket;
mod fills;
mod group;
mod plan;
mod shared;
pub(crate) mod volume;

pub use answer::{
    Alone, Bucket, PlantRef, RoundGroup, RoundPlant, RoundResponse, RoundStep, Sitting,
};
pub use fills::{Fill, Mister, Step};
pub use plan::round;
