//! Water: reading a report, completing it, and what follows from it.

mod answer;
mod blend;
mod carbonate;
mod complete;
mod completed;
mod contradict;
mod indices;
mod report;
mod residue;
mod response;
mod stated;

pub use answer::water;
pub use completed::Water;
pub use indices::{IrrigationClass, IrrigationHazard, Restriction, WaterIndices};
pub use report::{BlendRequest, BlendTarget, HeadroomRequest, WaterReport, WaterRequest};
pub(crate) use response::in_words;
pub use response::{Assumed, BlendResponse, Contradiction, Headroom, WaterResidue, WaterResponse};
