//! Times of entries: RFC 3339 with an offset, kept as the grower's own clock showed them.

use guardcell_error::{Code, Error, excerpt};
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::fmt::temporal::Pieces;
use jiff::tz::Offset;

/// A time with the offset it was written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// The instant.
    pub instant: Timestamp,
    /// The offset of the clock it was read from.
    pub offset: Offset,
}

impl Moment {
    /// Reads `2026-06-21T18:00:00+01:00`.
    ///
    /// # Errors
    /// [`Code::InvalidText`] at `pointer`.
    pub fn parse(pointer: &str, text: &str) -> Result<Self, Error> {
        let wrong = || {
            Error::new(
                Code::InvalidText,
                format!("{:?} is not a time with an offset", excerpt(text, 60)),
                "write it like 2026-06-21T18:00:00+01:00",
            )
            .at(pointer)
        };
        let pieces = Pieces::parse(text).map_err(|_| wrong())?;
        if pieces.time_zone_annotation().is_some() || pieces.time().is_none() {
            return Err(wrong());
        }
        let offset = pieces.to_numeric_offset().ok_or_else(wrong)?;
        let instant: Timestamp = text.parse().map_err(|_| wrong())?;
        if offset.seconds() % 60 != 0 {
            return Err(wrong());
        }
        Ok(Self { instant, offset })
    }

    /// RFC 3339 with the same offset; UTC as `Z`. Parts of a second only where there are any.
    #[must_use]
    pub fn rfc3339(self) -> String {
        let local = self.offset.to_datetime(self.instant);
        let seconds = self.offset.seconds();
        if seconds == 0 {
            return format!("{local}Z");
        }
        let minutes = seconds.unsigned_abs() / 60;
        let sign = if seconds < 0 { '-' } else { '+' };
        format!("{local}{sign}{:02}:{:02}", minutes / 60, minutes % 60)
    }

    /// The date on the grower's calendar.
    #[must_use]
    pub fn date(self) -> Date {
        self.offset.to_datetime(self.instant).date()
    }

    /// Whether `zone` has this offset at this instant.
    pub(crate) fn check_zone(self, zone: &str) -> Result<(), Error> {
        let tz = jiff::tz::db().get(zone).map_err(|_| {
            Error::new(
                Code::InvalidText,
                format!("{:?} is not a time zone of the IANA database", excerpt(zone, 60)),
                "write it like Europe/London, or omit it",
            )
            .at("/zone")
        })?;
        let there = tz.to_offset(self.instant);
        if there == self.offset {
            return Ok(());
        }
        let right = Self { instant: self.instant, offset: there }.rfc3339();
        Err(Error::new(
            Code::Conflict,
            format!("{} does not have the offset of {zone}", self.rfc3339()),
            format!("the same instant there is {right}"),
        )
        .at("/at"))
    }
}

/// Reads `2026-06-21`.
pub(crate) fn date(text: &str) -> Result<Date, Error> {
    text.parse::<Date>().ok().filter(|d| d.to_string() == text).ok_or_else(|| {
        Error::new(
            Code::InvalidText,
            format!("{:?} is not a date", excerpt(text, 60)),
            "write it like 2026-06-21",
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keeps_the_offset_that_was_written() {
        for (text, canonical) in [
            ("2026-06-21T18:00:00+01:00", "2026-06-21T18:00:00+01:00"),
            ("2026-06-21 18:00+01:00", "2026-06-21T18:00:00+01:00"),
            ("2026-06-21T18:00:00.250-03:30", "2026-06-21T18:00:00.25-03:30"),
            ("2026-06-21T18:00:00+00:00", "2026-06-21T18:00:00Z"),
            ("2026-06-21T18:00:00Z", "2026-06-21T18:00:00Z"),
        ] {
            let m = Moment::parse("/at", text).unwrap();
            assert_eq!(m.rfc3339(), canonical);
            assert_eq!(Moment::parse("/at", canonical).unwrap(), m);
        }
        for text in ["2026-06-21", "2026-06-21T18:00:00", "yesterday", "", "2026-02-30T00:00:00Z"] {
            assert!(Moment::parse("/at", text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_zone_must_have_the_offset() {
        let m = Moment::parse("/at", "2026-06-21T18:00:00+01:00").unwrap();
        m.check_zone("Europe/London").unwrap();
        let says = m.check_zone("Europe/Vienna").unwrap_err().to_string();
        assert!(says.contains("2026-06-21T19:00:00+02:00"), "{says}");
        assert!(m.check_zone("Fernhollow/House").is_err());
    }
}
