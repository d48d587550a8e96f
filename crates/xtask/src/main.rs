//! Data checks, accuracy tables and release chores.
fn main() {}
