//! The parts of the chores that tests use as well.

pub mod schemas;
pub mod solution_accuracy;
