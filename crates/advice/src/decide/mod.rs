//! Deciding for a plant: which window, which dose, what bound it, what would make it possible.
//! The result is plain data; the words are made from it in `explain`.

mod changes;
mod decision;
mod doses;
mod near;
mod objective;
mod search;
#[cfg(test)]
mod tests;
mod unknown;
mod weaker;

pub(crate) use changes::{ChangeKind, Possible};
pub(crate) use decision::{Decision, decide};
pub(crate) use doses::{Subject, WeeklyRoom};
pub(crate) use near::{Near, NearKind};
pub(crate) use search::{Candidate, Obstacle};
#[cfg(test)]
pub(crate) use tests::a_window;
pub(crate) use unknown::{UnknownKind, UnknownSpread};
pub(crate) use weaker::{doses_up_to, with_dose};
