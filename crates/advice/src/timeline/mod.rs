//! The air and the light of an area over time, with what a film does at each step.

mod area;
mod film;
mod memo;
mod night;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;

pub(crate) use area::AreaTimeline;
pub(crate) use film::{Uptake, Variation};
pub(crate) use memo::{FilmOutcome, RootDrop, ShareTakenUp};
