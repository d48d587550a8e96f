//! One civil day at a site.

use crate::calendar::civil_day;
use crate::light_hours::{Span, light_hours};
use crate::site::Site;
use crate::sun::{Sun, sun_on};
use guardcell_error::Error;
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
    /// When there is no light, clipped to the day.
    pub dark: Vec<Span>,
}

/// The day of a site.
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
/// use guardcell::clock::{Lamps, Latitude, Light, Location, Longitude, Shelter, Site, day};
/// use guardcell::jiff::civil::{date, time};
/// # fn main() -> Result<(), guardcell::Error> {
/// let location = Location::new(
///     Latitude::from_degrees(50.2)?, Longitude::from_degrees(-5.1)?, "Europe/London")?;
/// let light = Light::Lamps(Lamps::between(time(5, 30, 0, 0), time(19, 30, 0, 0))?);
/// let d = day(&Site { location, light, shelter: Shelter::UnderCover }, date(2026, 12, 21))?;
/// assert_eq!((d.lit.len(), d.dark.len()), (1, 2));
/// # Ok(())
/// # }
/// ```
pub fn day(site: &Site, date: Date) -> Result<Day, Error> {
    let sun = sun_on(&site.location, date)?;
    let (start, end) = civil_day(site.location.zone(), date)?;
    let light = light_hours(site, start.timestamp(), end.timestamp())?;
    Ok(Day { date, start, end, sun, lit: light.lit(), dark: light.dark() })
}
