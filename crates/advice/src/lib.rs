//! Explained advice for feeding plants through the leaf.
//!
//! [`advise`] says of each plant: feed, wait, plain water only, or leave alone; when, how strong,
//! how often, and why. [`round::round`] puts the advice for a collection into one bucket and a
//! sequence of mister fills. [`rescue`] plans the soaks of a rootless plant. All are pure: no I/O,
//! no clock, no randomness.

mod advise;
mod answer;
pub mod calls;
pub mod chart;
mod course;
mod error;
mod moment;
mod plant;
mod practice;
mod readings;
mod reason;
mod request;
mod rescue;
pub mod round;
mod site;
mod situation;
mod sources;
mod unknowns;
mod windows;

pub use advise::advise;
pub use answer::{
    AdviceResponse, ModelledResidue, PlantAdvice, PlantOpening, Remedy, Verdict, WeeklyDose, Window,
};
pub use reason::{Reason, ReasonCode, Unknown, codes};
pub use request::{
    AdviceRequest, AreaDescription, GrowerSettings, Growth, PlantEntry, Reading, ReadingRange,
    Setting, Shelter, SiteDescription, SizeClass, Standing, WorkingHours,
};
pub use rescue::{RescueRequest, RescueResponse, Soak, rescue};
pub use round::round;
