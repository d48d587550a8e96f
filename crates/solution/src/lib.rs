//! Labels, water reports, recipes, speciation and conductivity of feed solutions.
//!
//! Pure functions: text and figures in, figures and explained warnings out. Nothing here reads a
//! file, a clock or the network.

pub mod acid;
pub mod analysis;
pub mod calls;
mod conduct;
mod conductance;
mod document;
mod feed_ec;
pub mod injector;
pub mod label;
pub mod meter;
mod notice;
pub mod pitzer;
pub mod product;
mod quantity_text;
pub mod recipe;
pub mod saturation;
pub mod speciation;
pub mod tank;
mod totals;
pub mod water;

pub use acid::{AcidRequest, AcidResponse, acid};
pub use analysis::{SolutionRequest, SolutionResponse, analyse};
pub use guardcell_error::{Code, Error};
pub use label::Label;
pub use meter::{MeterRequest, MeterResponse, meter};
pub use notice::{Bounds, Notice, NoticeCode};
pub use product::Product;
pub use recipe::{RecipeRequest, RecipeResponse, recipe};
pub use saturation::SaturationIndex;
pub use speciation::{Acidity, CarbonDioxide, Condition, Ph, Speciated, Warning, speciate};
pub use tank::{TankRequest, TankResponse, tank};
pub use water::{Water, WaterReport, WaterRequest, WaterResponse, water};
