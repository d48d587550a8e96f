//! Moist air, drying of a leaf film, salts that stay wet, uptake and residue

pub mod air_movement;
pub mod air_report;
pub mod error;
pub mod moist_air;
mod saturation;

pub use air_movement::{AirSpeed, AirWord};
pub use air_report::{AirReport, AirRequest, air};
pub use error::FilmError;
pub use moist_air::MoistAir;
