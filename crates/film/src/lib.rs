//! Moist air, drying of a leaf film, salts that stay wet, uptake and residue.
//!
//! [`MoistAir`] describes the air; [`Mix`] what is dissolved, prepared once for a bucket: the
//! humidity above which it stays wet, what turns solid below. [`drying`](fn@drying) and [`drying_course`] dry
//! a film on a [`Leaf`]; [`wetness`](fn@wetness) follows it through changing air;
//! [`residue`](fn@residue) says what it leaves and how likely that is seen; [`burn`](fn@burn)
//! follows the drop at a root tip; [`droplet`] is a spray that beads. [`air`] and [`film`] are the
//! wire functions.
//!
//! Residue is decided by the humidity against the deliquescence of the mix, and by feed strength
//! times film load; drying time decides root burn and wet nights. How far each part is from outside
//! references stands in `ACCURACY.md` beside this crate.
//!
//! ```
//! use guardcell_film::{AirWord, Dissolved, FilmRequest, FilmState, film};
//! // Ammonium nitrate with urea: its film stays wet where either alone would be dry.
//! let uan = Dissolved { nh4_mmol_l: 2.0, no3_mmol_l: 2.0, urea_mmol_l: 2.0, ..Dissolved::default() };
//! let report = film(&FilmRequest { composition: uan, ..FilmRequest::new(30.0, 45.0) })?;
//! assert_eq!(report.state, FilmState::Wet);
//! # Ok::<(), guardcell_film::FilmError>(())
//! ```

pub mod air_movement;
pub mod air_report;
pub mod boundary_layer;
pub mod burn;
pub mod calls;
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
pub use residue::{Exposure, Residue, ResidueThreshold, Spraying, residue};
pub use surface::{SurfaceBalance, surface_balance};
pub use wetness::{AirSpan, Wetness, wetness};
