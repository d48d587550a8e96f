//! Times as people write them: `now`, `18:00`, `tomorrow 06:00`, a date, a date and an hour, a time
//! with its offset. One reader; what a date alone means is for the verb to say.

use crate::error::argument;
use guardcell::Error;
use jiff::civil::{Date, DateTime, Time};
use jiff::fmt::temporal::Pieces;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan as _, ZonedDateTime};

/// What was written.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum When {
    /// `now`.
    Now,
    /// A date alone.
    Day(Date),
    /// A moment, on the clock it was written by.
    At(ZonedDateTime),
}

/// The clock of a place, as far as it is known.
#[derive(Debug, Clone)]
pub(crate) struct Clock {
    pub(crate) zone: Option<TimeZone>,
    pub(crate) now: Timestamp,
}

impl Clock {
    /// Reads a time of `--at`.
    pub(crate) fn read(&self, text: &str) -> Result<When, Error> {
        let text = text.trim();
        let lower = text.to_lowercase();
        if lower == "now" {
            return Ok(When::Now);
        }
        let offset = Pieces::parse(text).ok().and_then(|p| p.to_numeric_offset());
        if let (Some(offset), Ok(instant)) = (offset, text.parse::<Timestamp>()) {
            return Ok(When::At(instant.to_zoned_datetime(TimeZone::fixed(offset))));
        }
        let not_a_time = || {
            argument(
                "--at",
                format!("{text:?} is not a time"),
                "write it like now, 05:30, yesterday 05:30, tomorrow 05:30, 2026-06-21 05:30 or \
                 2026-06-21T05:30+01:00; a date such as 2026-06-21 where a day will do",
            )
        };
        // A day by a word needs to know which day it is there.
        let named = matches!(lower.as_str(), "today" | "tomorrow" | "yesterday");
        if !named && let Some(day) = self.day(&lower) {
            return Ok(When::Day(day));
        }
        let Some(zone) = &self.zone else {
            return Err(if named || self.local(&lower).is_some() {
                no_zone(text)
            } else {
                not_a_time()
            });
        };
        if let Some(day) = self.day(&lower) {
            return Ok(When::Day(day));
        }
        let local = self.local(&lower).ok_or_else(not_a_time)?;
        let placed = zone.to_ambiguous_zoned_datetime(local).unambiguous().map_err(|_| {
            argument(
                "--at",
                format!("{local} occurs twice or never there, because the clocks change"),
                "give the offset too, like 2026-10-25T01:30+01:00",
            )
        })?;
        Ok(When::At(placed))
    }

    /// Now, there; to the second.
    pub(crate) fn now(&self) -> Result<ZonedDateTime, Error> {
        let now = self.now.round(jiff::Unit::Second).unwrap_or(self.now);
        let zone = self.zone.clone().ok_or_else(|| no_zone("now"))?;
        Ok(now.to_zoned_datetime(zone))
    }

    /// The moment that is looked back from: now where none is given, the end of a day.
    pub(crate) fn looking_back(&self, at: Option<&str>) -> Result<ZonedDateTime, Error> {
        match self.read(at.unwrap_or("now"))? {
            When::Now => self.now(),
            When::Day(day) => self.end_of(day),
            When::At(at) => Ok(at),
        }
    }

    /// The last second of a day there.
    pub(crate) fn end_of(&self, day: Date) -> Result<ZonedDateTime, Error> {
        let zone = self.zone.clone().ok_or_else(|| no_zone(&day.to_string()))?;
        day.at(23, 59, 59, 0).to_zoned_datetime(zone).map_err(|_| no_zone(&day.to_string()))
    }

    fn today(&self) -> Date {
        let zone = self.zone.clone().unwrap_or(TimeZone::UTC);
        self.now.to_zoned_datetime(zone).date()
    }

    /// A day by its word or its date.
    fn day(&self, word: &str) -> Option<Date> {
        let today = self.today();
        match word {
            "today" => Some(today),
            "tomorrow" => today.checked_add(1.day()).ok(),
            "yesterday" => today.checked_sub(1.day()).ok(),
            date if date.len() == 10 => date.parse().ok(),
            _ => None,
        }
    }

    /// `05:30`, `today 05:30`, `2026-06-21 05:30`, `2026-06-21t05:30`.
    fn local(&self, text: &str) -> Option<DateTime> {
        let clock = |t: &str| {
            let t = t.trim();
            // A parser of times would take the time out of a whole date and time.
            let plain = t.contains(':') && !t.contains(['-', 't', ' ']);
            let padded = if t.find(':') == Some(1) { format!("0{t}") } else { t.to_owned() };
            plain.then(|| padded.parse::<Time>().ok()).flatten()
        };
        if let Some(time) = clock(text) {
            return Some(self.today().to_datetime(time));
        }
        let (day, time) = text.split_once([' ', 't'])?;
        match (self.day(day), clock(time)) {
            (Some(day), Some(time)) => Some(day.to_datetime(time)),
            // `today` and `tomorrow` hold a `t` themselves.
            _ => {
                let (day, time) = text.split_once(' ')?;
                Some(self.day(day)?.to_datetime(clock(time)?))
            }
        }
    }
}

fn no_zone(text: &str) -> Error {
    argument(
        "--zone",
        format!("the time zone of {text:?} is not known"),
        "give --zone (such as Europe/London) or --site, or a time with its offset",
    )
}

/// A zone of the IANA database.
pub(crate) fn time_zone(zone: &str) -> Result<TimeZone, Error> {
    TimeZone::get(zone).map_err(|_| {
        argument(
            "--zone",
            format!("{zone:?} is not a time zone of the IANA database"),
            "write it like Europe/London",
        )
    })
}

/// A time with its offset, as requests and the journal have it.
pub(crate) fn rfc3339(t: &ZonedDateTime) -> String {
    let form = if t.offset().is_zero() { "%Y-%m-%dT%H:%M:%SZ" } else { "%Y-%m-%dT%H:%M:%S%:z" };
    t.strftime(form).to_string()
}

/// The moment from which an answer looks ahead, in a form that a request takes: a date, or a time
/// with its offset. Without one, and for `today`, it is now. A zone that is not known is refused
/// with the site.
pub(crate) fn start(at: Option<&str>, zone: &str, now: Timestamp) -> Result<String, Error> {
    let clock = Clock { zone: Some(TimeZone::get(zone).unwrap_or(TimeZone::UTC)), now };
    let text = at.unwrap_or("now");
    let when = match text.trim().to_lowercase().as_str() {
        "today" => When::Now,
        _ => clock.read(text)?,
    };
    Ok(match when {
        When::Now => {
            let here = now.to_zoned_datetime(clock.zone.unwrap_or(TimeZone::UTC));
            // Cut and not rounded: a moment that is not yet would make readings of it a forecast.
            let cut = here.with().second(0).subsec_nanosecond(0).build().unwrap_or(here);
            rfc3339(&cut)
        }
        When::Day(day) => day.to_string(),
        When::At(t) => rfc3339(&t),
    })
}

/// The date that is asked for, or today there; what is not a date is passed on, and judged there.
pub(crate) fn date(asked: Option<&str>, zone: &str) -> String {
    let zone = TimeZone::get(zone).unwrap_or(TimeZone::UTC);
    let clock = Clock { zone: Some(zone), now: Timestamp::now() };
    match asked {
        None => clock.today().to_string(),
        Some(text) => clock
            .day(&text.trim().to_lowercase())
            .map_or_else(|| text.to_owned(), |d| d.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clock(zone: Option<&str>) -> Clock {
        let zone = zone.map(|z| TimeZone::get(z).unwrap());
        Clock { zone, now: "2026-06-21T17:30:45.4Z".parse().unwrap() }
    }

    #[test]
    fn starts_as_people_write_them() {
        let now = "2026-06-21T17:30:45.4Z".parse().unwrap();
        let at = |text| start(text, "Europe/London", now).unwrap();
        assert_eq!(at(None), "2026-06-21T18:30:00+01:00");
        assert_eq!(at(Some("now")), "2026-06-21T18:30:00+01:00");
        assert_eq!(at(Some("Today")), "2026-06-21T18:30:00+01:00");
        assert_eq!(at(Some("6:00")), "2026-06-21T06:00:00+01:00");
        assert_eq!(at(Some("06:00")), "2026-06-21T06:00:00+01:00");
        assert_eq!(at(Some("tomorrow 06:00")), "2026-06-22T06:00:00+01:00");
        assert_eq!(at(Some("today 6:00")), "2026-06-21T06:00:00+01:00");
        assert_eq!(at(Some("tomorrow")), "2026-06-22");
        assert_eq!(at(Some("2026-06-20 05:30")), "2026-06-20T05:30:00+01:00");
        assert_eq!(at(Some("2026-06-20T05:30")), "2026-06-20T05:30:00+01:00");
        // In winter London is at UTC, and midnight is not yet a new day.
        let winter = "2026-01-01T23:59:29Z".parse().unwrap();
        assert_eq!(start(None, "Europe/London", winter).unwrap(), "2026-01-01T23:59:00Z");
        for same in ["2026-06-21", "2026-06-21T05:00:00+02:00"] {
            assert_eq!(at(Some(same)), same);
        }
        for wrong in ["soon", "", "2026-13-01", "25:00", "2026-10-25 01:30", "noon tomorrow"] {
            assert!(start(Some(wrong), "Europe/London", now).is_err(), "{wrong}");
        }
    }

    #[test]
    fn without_a_zone_a_local_time_is_not_known() {
        let nowhere = clock(None);
        for local in ["05:30", "today", "yesterday 05:30", "2026-06-21 05:30"] {
            assert!(nowhere.read(local).unwrap_err().to_string().contains("--zone"), "{local}");
        }
        let day: Date = "2026-06-21".parse().unwrap();
        assert_eq!(nowhere.read("2026-06-21").unwrap(), When::Day(day));
        assert!(matches!(nowhere.read("2026-06-21T05:30Z").unwrap(), When::At(_)));
        let here = clock(Some("Europe/London"));
        assert_eq!(rfc3339(&here.end_of(day).unwrap()), "2026-06-21T23:59:59+01:00");
        assert_eq!(rfc3339(&here.now().unwrap()), "2026-06-21T18:30:45+01:00");
    }
}
