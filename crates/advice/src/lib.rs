//! Explained advice for feeding plants through the leaf.
//!
//! [`advise`] says of each plant: feed, wait, plain water only, or leave alone; when, how strong,
//! how often, and why. [`round::round`] puts the advice for a collection into one bucket and a
//! sequence of mister fills. [`rescue`] plans the soaks of a rootless plant. All are pure: no I/O,
//! no clock, no randomness.

mod advise;
mod air;
mod answer;
mod assumed;
pub mod calls;
pub mod chart;
mod counterfactual;
mod decide;
mod dose;
mod error;
mod explain;
mod inputs;
mod moment;
mod name;
mod openings;
mod phrases;
mod plant;
mod practice;
mod reason;
mod reason_code;
mod request;
mod rescue;
pub mod round;
mod rule;
mod series;
mod site;
mod sources;
pub mod svg;
mod timeline;
#[cfg(test)]
mod trial;

pub use advise::advise;
pub use air::AirBasis;
pub use answer::{
    AdviceResponse, AreaAdvice, AreaChange, Change, ModelledResidue, PlantAdvice, PlantOpening,
    UptakeShare, Verdict, WeeklyDose, Window,
};
pub use practice::{Practice, practice_of};
pub use reason::{Reason, Unknown, codes};
pub use reason_code::ReasonCode;
pub use request::{
    AdviceRequest, AreaDescription, FeedDescription, GroupStrength, GrowerSettings, Growth,
    PlantEntry, Reading, ReadingRange, Setting, Shelter, SiteDescription, SizeClass, Standing,
    SupplementDescription, Winter, WorkingHours,
};
pub use rescue::{RescueRequest, RescueResponse, Soak, rescue};
pub use round::round;
