//! Labels, water reports, recipes, speciation and conductivity of feed solutions.

mod error;
pub mod speciation;

pub use error::SolutionError;
pub use speciation::{Acidity, CarbonDioxide, Condition, Ph, Speciated, speciate};
