//! A collection in three questions, plant by plant: what did it get, is its strength right, what
//! to change now.

mod answer;
mod decide;
mod words;

pub use answer::{Finding, PlantReview, ReviewRequest, ReviewResponse, Usual};
pub use decide::{review, threshold_of_entries};
