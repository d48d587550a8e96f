//! Years, windows and civil days for which the clock computes.

use guardcell_error::{Code, Error};
use guardcell_reference::parameters::clock as p;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};

pub(crate) const DAY_SECONDS: i64 = 86_400;

/// A time that the calendar cannot hold.
pub(crate) fn beyond(e: jiff::Error) -> Error {
    Error::new(Code::OutOfRange, "a time is beyond the calendar", "give a year from 1900 to 2200")
        .caused_by(e)
}

pub(crate) fn check_years(t: Timestamp) -> Result<(), Error> {
    let date = t.to_zoned_datetime(TimeZone::UTC).date();
    let (first, last) = (p::FIRST_YEAR.number(), p::LAST_YEAR.number());
    if (first..=last).contains(&f64::from(date.year())) {
        Ok(())
    } else {
        Err(Error::new(
            Code::OutOfRange,
            format!("{date} is outside the years for which the sun is computed"),
            format!("give a date from {first} to {last}"),
        ))
    }
}

/// Checks the years, the order and the length of a window.
pub(crate) fn check_window(from: Timestamp, to: Timestamp) -> Result<(), Error> {
    check_years(from)?;
    check_years(to)?;
    if to <= from {
        return Err(Error::new(
            Code::OutOfRange,
            format!("the window ends at {to}, which is not after its start {from}"),
            "give an end after the start",
        ));
    }
    let days = (to.as_second() - from.as_second()) as f64 / DAY_SECONDS as f64;
    let longest = p::LONGEST_WINDOW.days();
    if days > longest {
        return Err(Error::new(
            Code::TooMany,
            format!("the window has {days:.0} days"),
            format!("give at most {longest} days at once"),
        ));
    }
    Ok(())
}

/// The first instant of a civil date and of the date after it.
pub(crate) fn civil_day(
    zone: &TimeZone,
    date: Date,
) -> Result<(ZonedDateTime, ZonedDateTime), Error> {
    let from = date.to_zoned_datetime(zone.clone()).map_err(beyond)?;
    let next = date.tomorrow().map_err(beyond)?;
    let to = next.to_zoned_datetime(zone.clone()).map_err(beyond)?;
    if to.timestamp() <= from.timestamp() {
        // 2011-12-30 in Samoa is such a date.
        return Err(Error::new(
            Code::OutOfRange,
            format!("{date} does not exist in this time zone"),
            "give a date that the time zone did not skip",
        ));
    }
    Ok((from, to))
}

/// A local time as RFC 3339 with its offset, to the second.
///
/// ```
/// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use jiff; }
/// # fn main() -> Result<(), guardcell::jiff::Error> {
/// let t: guardcell::jiff::ZonedDateTime = "2026-06-21T05:00[Europe/London]".parse()?;
/// assert_eq!(guardcell::clock::rfc3339(&t), "2026-06-21T05:00:00+01:00");
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn rfc3339(t: &ZonedDateTime) -> String {
    t.timestamp().display_with_offset(t.offset()).to_string()
}
