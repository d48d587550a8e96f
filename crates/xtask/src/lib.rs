//! The parts of the chores that tests use as well.

pub mod schemas;
