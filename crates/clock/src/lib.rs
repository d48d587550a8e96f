//! Sun and lamps, when stomata are open, nights that stay wet.
//!
//! ```
//! use guardcell_clock::{Latitude, Light, Longitude, Place, Shelter, Site, day};
//! # fn main() -> Result<(), guardcell_clock::ClockError> {
//! let site = Site {
//!     place: Place::new(
//!         Latitude::from_degrees(50.2)?,
//!         Longitude::from_degrees(-5.1)?,
//!         "Europe/London",
//!     )?,
//!     light: Light::Sun,
//!     shelter: Shelter::UnderCover,
//! };
//! let midsummer = day(&site, jiff::civil::date(2026, 6, 21))?;
//! assert_eq!(midsummer.sun.sunrise.map(|t| t.hour()), Some(5));
//! # Ok(())
//! # }
//! ```
//!
//! Nothing here assumes when a day starts: light comes from the sun at the place, from lamps, or
//! from both, and "night" is when there is neither.

pub mod air;
pub mod calls;
pub mod code;
pub mod day;
pub mod error;
pub mod lamps;
pub mod light;
pub mod opening;
pub mod place;
pub mod sun;
pub mod trait_view;
pub mod wet_night;
pub mod wire;

mod both;
mod c3;
mod cam;
mod piece;
mod preference;
mod sun_up;

pub use guardcell_reference::{Pathway, PeakTime};

pub use air::AirHour;
pub use code::{Because, Code, Reason};
pub use day::{Day, day};
pub use error::ClockError;
pub use lamps::{Lamps, Season};
pub use light::{Light, LightHours, Span, light_hours};
pub use opening::{Opening, Openings, Phase, Preference, openings, openings_in};
pub use place::{Latitude, Longitude, Place, Shelter, Site};
pub use sun::{Sun, SunCourse, SunEvent, SunEventKind, sun_elevation, sun_events, sun_on};
pub use trait_view::{TraitView, WaterStatus};
pub use wet_night::{WetNight, WetNightVerdict, wet_in_the_dark, wet_night};
pub use wire::{DayReport, DayRequest, report};
