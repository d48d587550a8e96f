//! Water: reading a report, completing it, and what follows from it.

mod answer;
mod assumed;
mod blend;
mod carbonate;
mod complete;
mod completed;
mod contradict;
mod indices;
mod read;
mod report;
mod residue;
mod response;
mod stated;

pub use answer::water;
pub use assumed::Assumed;
pub(crate) use assumed::in_words;
pub use completed::Water;
pub use indices::{IrrigationClass, IrrigationHazard, Restriction, WaterIndices};
pub use report::{BlendRequest, BlendTarget, HeadroomRequest, WaterReport, WaterRequest};
pub use residue::WaterResidue;
pub use response::{BlendResponse, Contradiction, Headroom, WaterResponse};
