//! The parts of the chores that tests use as well.

pub mod faults;
pub mod header;
pub mod python;
pub mod schemas;
pub mod solution_accuracy;
