//! Typed quantities of plant feeding.
//!
//! Physical quantities are [`uom`] quantities (see [`quantity`] for the ones used here). On top of
//! them, [`Of<B>`](basis::Of) is a mass concentration *as* a basis `B` (as N, as P2O5, as
//! CaCO3 …), so that a label's oxide figure can never be added to an elemental one by mistake.
//!
//! ```
//! # mod guardcell { pub mod units { pub use guardcell_units::*; } }
//! use guardcell::units::basis::{Of, P, P2O5};
//! let label = Of::<P2O5>::from_mg_per_l(120.0);
//! assert!((label.to::<P>().mg_per_l() - 52.37).abs() < 0.01);
//! ```
//!
//! Two bases do not mix:
//!
//! ```compile_fail
//! # mod guardcell { pub mod units { pub use guardcell_units::*; } }
//! use guardcell::units::basis::{Of, P, P2O5};
//! let sum = Of::<P>::from_mg_per_l(1.0) + Of::<P2O5>::from_mg_per_l(1.0);
//! ```
pub use uom;

pub mod alkalinity;
pub mod atomic_weight;
pub mod basis;
pub mod calls;
pub mod conductivity;
pub mod convert;
pub mod dimension;
mod equivalents;
mod fault;
pub mod feed_strength;
pub mod formula;
pub mod hardness;
pub mod injector;
pub mod light;
pub mod quantity;
pub mod round;
pub mod table;
pub mod tds_scale;
pub mod text;

pub use convert::{ConvertRequest, ConvertResponse, convert};
pub use guardcell_error::{Code, Error};
pub use text::entry::{
    parse_air_speed, parse_alkalinity, parse_area, parse_areal_mass, parse_bulk_density,
    parse_concentration, parse_conductivity, parse_feed_strength, parse_hardness, parse_humidity,
    parse_injector_ratio, parse_irradiance, parse_length, parse_mass, parse_mass_fraction,
    parse_of, parse_pressure, parse_specific_conductance, parse_temperature,
    parse_temperature_interval, parse_time, parse_volume, parse_volume_fraction, with_unit,
};
