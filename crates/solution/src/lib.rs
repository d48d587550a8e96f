//! Labels, water reports, recipes, speciation and conductivity of feed solutions.
//!
//! Pure functions: text and figures in, figures and explained warnings out. Nothing here reads a
//! file, a clock or the network.

pub mod acid;
pub mod analysis;
pub mod calls;
mod conduct;
mod conductance;
pub mod dilution;
mod error;
pub mod injector;
pub mod label;
pub mod meter;
mod notice;
pub mod product;
mod quantity_text;
pub mod recipe;
pub mod saturation;
pub mod speciation;
pub mod tank;
pub mod water;

pub use acid::{AcidAnswer, AcidRequest, acid};
pub use analysis::{SolutionReport, SolutionRequest, analyse};
pub use error::{Place, SolutionError};
pub use label::Label;
pub use meter::{MeterAnswer, MeterRequest, meter};
pub use notice::{Bounds, Notice};
pub use product::Product;
pub use recipe::{Recipe, RecipeRequest, recipe};
pub use saturation::SaturationIndex;
pub use speciation::{Acidity, CarbonDioxide, Condition, Ph, Speciated, Warning, speciate};
pub use tank::{TankAnswer, TankRequest, tank};
pub use water::{Water, WaterAnswer, WaterReport, WaterRequest, water};
