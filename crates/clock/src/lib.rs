//! Sun and lamps, when stomata are open, nights that stay wet.
//!
//! ```
//! # mod guardcell {
//! #     pub mod clock { pub use guardcell_clock::*; }
//! #     pub use guardcell_error::{Error};
//! #     pub use jiff;
//! # }
//! use guardcell::clock::{Latitude, Light, Location, Longitude, Shelter, Site, day};
//! # fn main() -> Result<(), guardcell::Error> {
//! let site = Site {
//!     location: Location::new(
//!         Latitude::from_degrees(50.2)?,
//!         Longitude::from_degrees(-5.1)?,
//!         "Europe/London",
//!     )?,
//!     light: Light::Sun,
//!     shelter: Shelter::UnderCover,
//! };
//! let midsummer = day(&site, guardcell::jiff::civil::date(2026, 6, 21))?;
//! assert_eq!(midsummer.sun.sunrise.map(|t| t.hour()), Some(5));
//! # Ok(())
//! # }
//! ```
//!
//! Nothing here assumes when a day starts: light comes from the sun at the location, from lamps, or
//! from both, and "night" is when there is neither.

mod air;
mod c3;
mod calendar;
pub mod calls;
mod cam;
mod code;
mod day;
mod day_request;
mod day_response;
mod either;
mod interval;
mod lamp_schedule;
mod lamps;
mod light_hours;
mod location;
mod narrow;
mod opening;
mod peak;
mod phase;
mod predict;
mod preference;
mod reason;
mod site;
mod sun;
mod trait_view;
mod wet_night;

pub use guardcell_reference::{Pathway, PeakTime};

pub use air::AirHour;
pub use calendar::rfc3339;
pub use code::Code;
pub use day::{Day, day};
pub use day_request::{DayRequest, HourOfAir, LightKind};
pub use day_response::{
    DayResponse, LocalSpan, OpeningEntry, OpeningList, PathwayOpenings, ReasonEntry, report,
};
pub use lamp_schedule::{LampCycle, LampRun, lamps};
pub use lamps::Lamps;
pub use light_hours::{LightHours, Span, light_hours};
pub use location::{Latitude, Location, Longitude};
pub use opening::{Opening, Openings, Preference};
pub use phase::Phase;
pub use predict::{openings, openings_in};
pub use reason::{Input, Reason};
pub use site::{Light, Shelter, Site};
pub use sun::{Sun, SunCourse, SunEvent, SunEventKind, sun_elevation, sun_events, sun_on};
pub use trait_view::{TraitView, WaterStatus};
pub use wet_night::{WetNight, WetNightVerdict, wet_in_the_dark, wet_night};
