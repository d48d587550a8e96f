//! Which ions, pairs and acids a composition forms.
//!
//! The constants are those of `data/ions.csv`, `data/complexes.csv` and `data/phases.csv`;
//! activities follow Truesdell & Jones (1974) and, where no ion size is tabulated, Davies. Valid
//! from 0 to 40 °C and up to an ionic strength of 1 mol/kg; stronger solutions are answered with
//! a warning.

pub(crate) mod closed;
pub mod condition;
pub(crate) mod constants;
mod equilibrium;
pub(crate) mod solve;
mod speciated;
mod warning;
pub(crate) mod water;

pub use condition::{Acidity, CarbonDioxide, Condition, Ph};
pub(crate) use speciated::Molal;
pub use speciated::{ConductivityRange, Speciated, SpeciesAmount, speciate};
pub use warning::Warning;
