//! From decisions to answers: everything that is said to a grower is put into words here.

mod area;
mod change;
mod near;
mod obstacle;
mod opening;
mod plant;
mod strength;
mod unknown;
mod window;

pub(crate) use area::area;
pub(crate) use plant::{Explained, alone, explained, left_alone, planned, plant};
pub(crate) use window::planned as planned_window;
