//! Times of the request: the start, dates, hours of the day.

pub(crate) use guardcell_clock::rfc3339;
use guardcell_error::{Code, Error};
use jiff::civil::{Date, DateTime, Time};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};

/// The start of the time looked at: an RFC 3339 time, or a date, which starts at local noon so
/// that a night is never cut in two.
pub(crate) fn start(at: &str, zone: &TimeZone) -> Result<ZonedDateTime, Error> {
    if let Ok(t) = at.parse::<Timestamp>() {
        return Ok(t.to_zoned_datetime(zone.clone()));
    }
    let wrong = || {
        Error::new(
            Code::InvalidText,
            format!("{at:?} is neither a date nor a time with an offset"),
            "write it like 2026-06-21 or 2026-06-21T18:00:00+01:00",
        )
        .at("/at")
    };
    let local = if at.contains('T') || at.contains(' ') {
        at.parse::<DateTime>().map_err(|_| wrong())?
    } else {
        at.parse::<Date>().map_err(|_| wrong())?.at(12, 0, 0, 0)
    };
    local.to_zoned_datetime(zone.clone()).map_err(|_| wrong())
}

/// A past event: an RFC 3339 time, or a date, taken as the end of that day's noon.
pub(crate) fn past(pointer: &str, text: &str, zone: &TimeZone) -> Result<ZonedDateTime, Error> {
    start(text, zone).map_err(|_| {
        Error::new(
            Code::InvalidText,
            format!("{text:?} is neither a date nor a time with an offset"),
            "write it like 2026-06-19 or 2026-06-19T05:00:00+01:00",
        )
        .at(pointer)
    })
}

/// An hour of the day, `HH:MM`.
pub(crate) fn hour(pointer: &str, text: &str) -> Result<Time, Error> {
    let wrong = || {
        Error::new(
            Code::OutOfRange,
            format!("{text:?} is not an hour of the day"),
            "write it like 06:30",
        )
        .at(pointer)
    };
    if !text.contains(':') {
        return Err(wrong());
    }
    text.parse::<Time>().map_err(|_| wrong())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_date_starts_at_local_noon() {
        let zone = jiff::tz::db().get("Europe/London").unwrap();
        let t = start("2026-06-21", &zone).unwrap();
        assert_eq!(rfc3339(&t), "2026-06-21T12:00:00+01:00");
        assert!(start("21.6.2026", &zone).is_err());
        assert!(start("", &zone).is_err());
        assert!(start("2026-13-01", &zone).is_err());
        assert!(hour("/x", "25:00").is_err());
        assert!(hour("/x", "5").is_err());
        assert_eq!(hour("/x", "05:30").unwrap(), jiff::civil::time(5, 30, 0, 0));
    }
}
