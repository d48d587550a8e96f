//! One civil day at a site.

use crate::{ClockError, Place, Site, Span, Sun, light_hours, sun_on};
use jiff::{ZonedDateTime, civil::Date};

/// A civil day: the sun, the light and the dark.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    /// The date.
    pub date: Date,
    /// Its first instant (not always 00:00, where clocks change at midnight).
    pub start: ZonedDateTime,
    /// The first instant of the next day.
    pub end: ZonedDateTime,
    /// The sun.
    pub sun: Sun,
    /// When there is light, clipped to the day.
    pub lit: Vec<Span>,
    /// When there is none, clipped to the day.
    pub dark: Vec<Span>,
}

pub(crate) fn bounds(
    place: &Place,
    date: Date,
) -> Result<(ZonedDateTime, ZonedDateTime), ClockError> {
    let from = date.to_zoned_datetime(place.zone().clone())?;
    let to = date.tomorrow()?.to_zoned_datetime(place.zone().clone())?;
    Ok((from, to))
}

/// The day of a site.
///
/// # Errors
/// [`ClockError::Year`] outside 1900 … 2200; [`ClockError::Calendar`] for a date that the time
/// zone skipped.
///
/// ```
/// use guardcell_clock::{Lamps, Latitude, Light, Longitude, Place, Shelter, Site, day};
/// use jiff::civil::{date, time};
/// # fn main() -> Result<(), guardcell_clock::ClockError> {
/// let place = Place::new(
///     Latitude::from_degrees(50.2)?, Longitude::from_degrees(-5.1)?, "Europe/London")?;
/// let light = Light::Lamps(Lamps::between(time(5, 30, 0, 0), time(19, 30, 0, 0))?);
/// let d = day(&Site { place, light, shelter: Shelter::UnderCover }, date(2026, 12, 21))?;
/// assert_eq!((d.lit.len(), d.dark.len()), (1, 2));
/// # Ok(())
/// # }
/// ```
pub fn day(site: &Site, date: Date) -> Result<Day, ClockError> {
    let sun = sun_on(&site.place, date)?;
    let (start, end) = bounds(&site.place, date)?;
    let light = light_hours(site, start.timestamp(), end.timestamp())?;
    Ok(Day { date, start, end, sun, lit: light.lit(), dark: light.dark() })
}
