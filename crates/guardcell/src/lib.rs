//! The one crate other tools embed.
//!
//! Everything below is pure: no I/O, no clock, no randomness. Time and place come in with the
//! request. Each module is a crate of its own, re-exported.

pub use guardcell_advice as advice;
pub use guardcell_clock as clock;
pub use guardcell_film as film;
pub use guardcell_reference as reference;
pub use guardcell_solution as solution;
pub use guardcell_units as units;
