//! The parts of the chores that tests use as well.

mod api_types;
pub mod faults;
pub mod header;
pub mod npm;
pub mod python;
pub mod schemas;
pub mod solution_accuracy;
