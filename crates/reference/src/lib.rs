//! Sourced reference data of plant feeding, compiled in.
//!
//! The tables live in `data/` of the repository as CSV; the build checks them and compiles them
//! to static tables, so nothing is parsed or allocated when a program starts.

pub mod composition;
pub mod parameters;
pub mod salts;
pub mod source;

pub use composition::{Composition, Solute};
pub use parameters::Parameter;
pub use source::{Work, work, works};
