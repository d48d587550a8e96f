//! Moist air, drying of a leaf film, salts that stay wet, uptake and residue.
//!
//! [`MoistAir`] describes the air; [`Mix`] what is dissolved, prepared once for a bucket: the
//! humidity above which it stays wet, what turns solid below. [`drying`](fn@drying) and [`drying_course`] dry
//! a film on a [`Leaf`]; [`wetness`](fn@wetness) follows it through changing air;
//! [`residue`](fn@residue) says what it leaves and how likely that is seen; [`burn`](fn@burn)
//! follows the drop at a root tip; [`droplet`] is a spray that beads. [`air`](fn@air) and
//! [`film`](fn@film) answer requests of other programs.
//!
//! Residue is decided by the humidity against the deliquescence of the mix, and by feed strength
//! times film load; drying time decides root burn and wet nights. `ACCURACY.md` beside this crate
//! compares each part with outside references.
//!
//! ```
//! # mod guardcell { pub use guardcell_error::{Error}; pub mod film { pub use guardcell_film::*; } }
//! use guardcell::film::{Dissolved, FilmRequest, FilmState, film};
//! // Ammonium nitrate with urea: its film stays wet where either alone would be dry.
//! let uan = Dissolved { nh4_mmol_l: 2.0, no3_mmol_l: 2.0, urea_mmol_l: 2.0, ..Dissolved::default() };
//! let response = film(&FilmRequest::new(30.0, 45.0).with_composition(uan))?;
//! assert_eq!(response.state, FilmState::Wet);
//! # Ok::<(), guardcell::Error>(())
//! ```

mod air;
pub mod air_movement;
mod bound;
pub mod boundary_layer;
pub mod burn;
pub mod calls;
mod dissolved;
pub mod droplet;
pub mod drying;
mod film;
mod film_request;
pub mod leaf;
pub mod mix;
pub mod moist_air;
mod quadrature;
pub mod residue;
mod saturation;
mod spraying;
pub mod surface;
pub mod uptake;
pub mod wetness;

pub use air::{AirRequest, AirResponse, air};
pub use air_movement::{AirSpeed, AirWord};
pub use burn::{Burn, burn};
pub use dissolved::Dissolved;
pub use drying::{Drying, Moment, drying, drying_course};
pub use film::{FilmMoment, FilmNotice, FilmNoticeCode, FilmResponse, film};
pub use film_request::FilmRequest;
pub use leaf::{Leaf, WetSides};
pub use mix::{FilmState, Mix, Mixing};
pub use moist_air::MoistAir;
pub use residue::{Exposure, Residue, ResidueThreshold, residue};
pub use spraying::Spraying;
pub use surface::{SurfaceBalance, surface_balance};
pub use wetness::{AirSpan, Wetness, wetness};
