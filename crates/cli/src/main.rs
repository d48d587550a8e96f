//! The guardcell program.
fn main() {}
