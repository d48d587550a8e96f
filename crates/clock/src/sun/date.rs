//! The sun on one civil date.

use super::crossing::HalfDays;
use super::event::{SunEvent, SunEventKind, sun_events};
use crate::calendar::civil_day;
use crate::location::Location;
use guardcell_error::Error;
use jiff::{ZonedDateTime, civil::Date};
use serde::{Deserialize, Serialize};
use solar_positioning::Horizon;

/// What the sun does on a civil date.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum SunCourse {
    /// It rises and sets on this date.
    RisesAndSets,
    /// It rises and does not set again on this date.
    RisesOnly,
    /// It sets and does not rise on this date.
    SetsOnly,
    /// It stays up all day.
    PolarDay,
    /// It stays down all day, though there may be civil twilight.
    PolarNight,
}

/// The sun on one civil date.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Sun {
    /// What it does on this date.
    pub course: SunCourse,
    /// The first sunrise of the date.
    pub sunrise: Option<ZonedDateTime>,
    /// The last sunset of the date.
    pub sunset: Option<ZonedDateTime>,
    /// The first civil dawn of the date.
    pub civil_dawn: Option<ZonedDateTime>,
    /// The last civil dusk of the date.
    pub civil_dusk: Option<ZonedDateTime>,
    /// When the sun crosses the meridian.
    pub noon: Option<ZonedDateTime>,
}

/// The sun on one civil date at a location.
///
/// # Errors
/// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) outside 1900 to 2200, and for a date
/// that the time zone skipped.
///
/// ```
/// # mod guardcell {
/// #     pub mod clock { pub use guardcell_clock::*; }
/// #     pub use guardcell_error::{Error};
/// #     pub use jiff;
/// # }
/// use guardcell::clock::{Latitude, Location, Longitude, SunCourse, sun_on};
/// # fn main() -> Result<(), guardcell::Error> {
/// let svalbard = Location::new(
///     Latitude::from_degrees(78.2)?, Longitude::from_degrees(15.6)?, "Arctic/Longyearbyen")?;
/// let june = sun_on(&svalbard, guardcell::jiff::civil::date(2026, 6, 21))?;
/// assert_eq!((june.course, june.sunrise), (SunCourse::PolarDay, None));
/// # Ok(())
/// # }
/// ```
pub fn sun_on(location: &Location, date: Date) -> Result<Sun, Error> {
    let (from, to) = civil_day(location.zone(), date)?;
    let events = sun_events(location, from.timestamp(), to.timestamp())?;
    let zoned = |e: &SunEvent| e.time.to_zoned_datetime(location.zone().clone());
    let first = |k| events.iter().find(|e| e.kind == k).map(zoned);
    let last = |k| events.iter().rev().find(|e| e.kind == k).map(zoned);
    let (sunrise, sunset) = (first(SunEventKind::Sunrise), last(SunEventKind::Sunset));
    let course = match (&sunrise, &sunset) {
        (Some(_), Some(_)) => SunCourse::RisesAndSets,
        (Some(_), None) => SunCourse::RisesOnly,
        (None, Some(_)) => SunCourse::SetsOnly,
        (None, None) => {
            let (from, to) = (from.timestamp().as_second(), to.timestamp().as_second());
            let up = HalfDays::new(location, from, to)?.above(Horizon::SunriseSunset)?;
            if up.is_empty() { SunCourse::PolarNight } else { SunCourse::PolarDay }
        }
    };
    Ok(Sun {
        course,
        sunrise,
        sunset,
        civil_dawn: first(SunEventKind::CivilDawn),
        civil_dusk: last(SunEventKind::CivilDusk),
        noon: first(SunEventKind::Noon),
    })
}
