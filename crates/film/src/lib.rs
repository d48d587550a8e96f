//! Moist air, drying of a leaf film, salts that stay wet, uptake and residue

pub mod air_movement;
pub mod air_report;
pub mod boundary_layer;
pub mod burn;
pub mod droplet;
pub mod drying;
pub mod error;
pub mod film_report;
pub mod leaf;
pub mod mix;
pub mod moist_air;
mod quadrature;
pub mod residue;
mod saturation;
mod scale;
pub mod surface;
pub mod uptake;
pub mod wetness;

pub use air_movement::{AirSpeed, AirWord};
pub use air_report::{AirReport, AirRequest, air};
pub use burn::{Burn, burn};
pub use drying::{Drying, Moment, drying, drying_course};
pub use error::FilmError;
pub use film_report::{Dissolved, FilmMoment, FilmReport, FilmRequest, film};
pub use leaf::{Leaf, WetSides};
pub use mix::{FilmState, Mix};
pub use moist_air::MoistAir;
pub use residue::{Residue, ResidueThreshold, Spraying, residue};
pub use surface::{SurfaceBalance, surface_balance};
pub use wetness::{AirSpan, Wetness, wetness};
