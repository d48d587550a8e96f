//! From a time as written to a moment, through the clock that wrote it.

use crate::error::in_map;
use crate::map::{Ambiguous, Nonexistent};
use guardcell::Error;
use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::fmt::strtime::BrokenDownTime;
use jiff::fmt::temporal::DateTimeParser;
use jiff::tz::{AmbiguousOffset, TimeZone};
use std::collections::HashMap;

/// How a source writes time.
#[derive(Debug, Clone)]
pub(crate) struct Clock {
    format: Format,
    zone: Option<TimeZone>,
    ambiguous: Ambiguous,
    nonexistent: Nonexistent,
}

#[derive(Debug, Clone)]
enum Format {
    Rfc3339,
    UnixSeconds,
    UnixMillis,
    Pattern(String),
}

/// A time as written: a moment, or what a local clock showed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Written {
    Moment(Timestamp),
    Local(DateTime),
}

/// The time of one row.
#[derive(Debug, Clone)]
pub(crate) struct Stamp {
    /// As written; none where it could not be read.
    pub(crate) time: Option<Written>,
    /// Rows with the same key follow one another through the hours, such as those of one area.
    pub(crate) key: String,
    /// Equal for rows that say the same.
    pub(crate) content: u64,
}

/// What became of a local time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Settled {
    /// There is one such moment.
    Moment(Timestamp),
    /// It came twice; this one is taken.
    Chosen(Timestamp),
    /// It came twice, and the map says to drop it.
    Ambiguous,
    /// It never was, and is read with the offset before.
    Shifted(Timestamp),
    /// It never was, and the map says to drop it.
    Nonexistent,
}

impl Clock {
    pub(crate) fn new(
        format: Option<&str>,
        zone: Option<&str>,
        ambiguous: Ambiguous,
        nonexistent: Nonexistent,
    ) -> Result<Self, Error> {
        let format = match format {
            None | Some("rfc3339") => Format::Rfc3339,
            Some("unix_s") => Format::UnixSeconds,
            Some("unix_ms") => Format::UnixMillis,
            Some(pattern) => Format::Pattern(checked(pattern)?),
        };
        let zone = zone
            .map(|name| {
                if name == "Z" || name == "UTC" {
                    return Ok(TimeZone::UTC);
                }
                DateTimeParser::new().parse_time_zone(name).map_err(|_| {
                    in_map(
                        "zone",
                        format!("{name:?} is not a time zone"),
                        "write a name of the IANA database such as Atlantic/Azores, or an offset \
                         such as -01:00",
                    )
                })
            })
            .transpose()?;
        if let (Format::Pattern(pattern), None) = (&format, &zone)
            && !pattern.contains("%z")
            && !pattern.contains("%:z")
            && !pattern.contains("%s")
        {
            return Err(in_map(
                "format",
                format!("{pattern:?} holds no offset, and no zone is stated"),
                "state the `zone` of the clock, such as Atlantic/Azores or -01:00",
            ));
        }
        Ok(Self { format, zone, ambiguous, nonexistent })
    }

    /// The zone in which readings are printed.
    pub(crate) fn zone(&self) -> TimeZone {
        self.zone.clone().unwrap_or(TimeZone::UTC)
    }

    /// Reads a time as written; the error says what was expected.
    pub(crate) fn read(&self, text: &str) -> Result<Written, String> {
        let text = text.trim();
        match &self.format {
            Format::Rfc3339 => {
                if let Ok(moment) = text.parse::<Timestamp>() {
                    return Ok(Written::Moment(moment));
                }
                match text.parse::<DateTime>() {
                    Ok(local) if self.zone.is_some() && text.len() > 10 => {
                        Ok(Written::Local(local))
                    }
                    Ok(_) if self.zone.is_none() => {
                        Err("has no offset, and the map states no `zone`".into())
                    }
                    _ => Err("is not a time of RFC 3339, such as 2026-06-21T05:00:00+01:00".into()),
                }
            }
            Format::UnixSeconds => unix(text, 1.0),
            Format::UnixMillis => unix(text, 1000.0),
            Format::Pattern(pattern) => {
                let fault = || format!("does not match {pattern:?}");
                let time = BrokenDownTime::parse(pattern, text).map_err(|_| fault())?;
                if let Some(moment) = time.timestamp() {
                    return Ok(Written::Moment(moment));
                }
                if time.offset().is_some() {
                    return time.to_timestamp().map(Written::Moment).map_err(|_| fault());
                }
                time.to_datetime().map(Written::Local).map_err(|_| fault())
            }
        }
    }

    /// Turns written times into moments. The order of the rows decides which pass through a
    /// repeated hour a row belongs to. A file with the newest row first is read from its end.
    pub(crate) fn settle(&self, written: &[Stamp]) -> Vec<Option<Settled>> {
        let zone = self.zone();
        let locals = || {
            written.iter().filter_map(|w| match w.time {
                Some(Written::Local(l)) => Some(l),
                _ => None,
            })
        };
        let backwards =
            matches!((locals().next(), locals().next_back()), (Some(a), Some(b)) if b < a);
        let mut out: Vec<Option<Settled>> = vec![None; written.len()];
        let mut before: HashMap<&str, (Timestamp, u64)> = HashMap::new();
        let mut rows: Vec<usize> = (0..written.len()).collect();
        if backwards {
            rows.reverse();
        }
        for i in rows {
            let Some(Stamp { time: Some(time), key, content }) = written.get(i) else { continue };
            let settled = match time {
                Written::Moment(t) => Settled::Moment(*t),
                Written::Local(l) => {
                    match self.local(&zone, *l, before.get(key.as_str()), *content) {
                        Some(settled) => settled,
                        None => continue,
                    }
                }
            };
            if let Some(t) = settled.moment() {
                before.insert(key, (t, *content));
            }
            if let Some(slot) = out.get_mut(i) {
                *slot = Some(settled);
            }
        }
        out
    }

    /// None for a time outside the range of the calendar.
    fn local(
        &self,
        zone: &TimeZone,
        local: DateTime,
        before: Option<&(Timestamp, u64)>,
        content: u64,
    ) -> Option<Settled> {
        let time = zone.to_ambiguous_timestamp(local);
        Some(match time.offset() {
            AmbiguousOffset::Unambiguous { .. } => Settled::Moment(time.compatible().ok()?),
            AmbiguousOffset::Gap { .. } => match self.nonexistent {
                Nonexistent::Drop => Settled::Nonexistent,
                Nonexistent::Shift => Settled::Shifted(time.compatible().ok()?),
            },
            AmbiguousOffset::Fold { .. } => {
                let (earlier, later) = (time.earlier().ok()?, time.later().ok()?);
                match self.ambiguous {
                    Ambiguous::Earlier => Settled::Chosen(earlier),
                    Ambiguous::Later => Settled::Chosen(later),
                    Ambiguous::Drop => Settled::Ambiguous,
                    // What follows this time or a later one is the second pass, save that the
                    // very same row again is a copy of the first.
                    Ambiguous::ByOrder => match before {
                        Some((t, _)) if *t > earlier => Settled::Chosen(later),
                        Some((t, c)) if *t == earlier && *c != content => Settled::Chosen(later),
                        _ => Settled::Chosen(earlier),
                    },
                }
            }
        })
    }
}

impl Settled {
    pub(crate) const fn moment(self) -> Option<Timestamp> {
        match self {
            Self::Moment(t) | Self::Chosen(t) | Self::Shifted(t) => Some(t),
            Self::Ambiguous | Self::Nonexistent => None,
        }
    }
}

fn unix(text: &str, per_second: f64) -> Result<Written, String> {
    let fault = || {
        format!(
            "is not a number of {} since 1970",
            if per_second > 1.0 { "milliseconds" } else { "seconds" }
        )
    };
    let number: f64 = text.parse().map_err(|_| fault())?;
    let millis = (number / per_second * 1000.0).round();
    // A double holds every whole number up to 2^53, beyond any year of the calendar.
    if !millis.is_finite() || millis.abs() > 9e15 {
        return Err(fault());
    }
    Timestamp::from_millisecond(millis as i64).map(Written::Moment).map_err(|_| fault())
}

/// A pattern that keeps date, hour and minute; tried on one time.
fn checked(pattern: &str) -> Result<String, Error> {
    let right =
        "write a pattern of strftime such as %Y-%m-%d %H:%M:%S, or rfc3339, unix_s, unix_ms";
    let fault = |wrong: String| in_map("format", wrong, right);
    let sample = jiff::civil::date(2003, 11, 25).at(17, 42, 0, 0);
    let moment = TimeZone::UTC.to_timestamp(sample).map_err(|e| fault(e.to_string()))?;
    let zoned = moment.to_zoned_datetime(TimeZone::UTC);
    let text = BrokenDownTime::from(&zoned)
        .to_string(pattern)
        .map_err(|e| fault(format!("{pattern:?} is not a pattern ({e})")))?;
    let back = BrokenDownTime::parse(pattern, &text)
        .map_err(|e| fault(format!("{pattern:?} cannot be read ({e})")))?;
    let same = back.timestamp() == Some(moment) || back.to_datetime().is_ok_and(|d| d == sample);
    if !same {
        return Err(fault(format!("{pattern:?} does not hold date, hour and minute")));
    }
    Ok(pattern.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clock(format: &str, zone: &str) -> Clock {
        Clock::new(Some(format), Some(zone), Ambiguous::ByOrder, Nonexistent::Drop).unwrap()
    }

    fn settle(clock: &Clock, texts: &[&str]) -> Vec<String> {
        let written: Vec<_> = (0..)
            .zip(texts)
            .map(|(content, t)| Stamp { time: clock.read(t).ok(), key: String::new(), content })
            .collect();
        clock
            .settle(&written)
            .into_iter()
            .map(|s| s.and_then(Settled::moment).map_or("none".into(), |t| t.to_string()))
            .collect()
    }

    /// Europe/Berlin put clocks back from 03:00 CEST to 02:00 CET on 2025-10-26 (tz database,
    /// file `europe`, rule EU: last Sunday of October, 01:00 UTC).
    #[test]
    fn the_order_of_rows_tells_the_passes_of_a_repeated_hour() {
        let c = clock("%Y-%m-%d %H:%M", "Europe/Berlin");
        let rows = [
            "2025-10-26 01:30",
            "2025-10-26 02:00",
            "2025-10-26 02:30",
            "2025-10-26 02:00",
            "2025-10-26 02:30",
            "2025-10-26 03:00",
        ];
        let want = [
            "2025-10-25T23:30:00Z",
            "2025-10-26T00:00:00Z",
            "2025-10-26T00:30:00Z",
            "2025-10-26T01:00:00Z",
            "2025-10-26T01:30:00Z",
            "2025-10-26T02:00:00Z",
        ];
        assert_eq!(settle(&c, &rows), want);
        let mut backwards = rows;
        backwards.reverse();
        let mut wanted = want;
        wanted.reverse();
        assert_eq!(settle(&c, &backwards), wanted);
    }

    #[test]
    fn an_hourly_logger_and_a_copied_row() {
        let c = clock("%Y-%m-%d %H:%M", "Europe/Berlin");
        let hourly =
            ["2025-10-26 01:00", "2025-10-26 02:00", "2025-10-26 02:00", "2025-10-26 03:00"];
        assert_eq!(settle(&c, &hourly)[1..3], ["2025-10-26T00:00:00Z", "2025-10-26T01:00:00Z"]);
        let copy = Stamp { time: c.read(hourly[1]).ok(), key: String::new(), content: 7 };
        let settled = c.settle(&[copy.clone(), copy]);
        assert_eq!(settled[0], settled[1]);
    }

    /// America/New_York skipped 02:00 to 03:00 on 2026-03-08 (tz database, file `northamerica`,
    /// rule US: second Sunday of March, 02:00).
    #[test]
    fn a_skipped_hour_is_dropped_or_shifted() {
        let texts = ["2026-03-08 02:30"];
        let c = clock("%Y-%m-%d %H:%M", "America/New_York");
        assert_eq!(settle(&c, &texts), ["none"]);
        let shift = Clock { nonexistent: Nonexistent::Shift, ..c };
        assert_eq!(settle(&shift, &texts), ["2026-03-08T07:30:00Z"]);
        let fixed = clock("%Y-%m-%d %H:%M", "-05:00");
        assert_eq!(settle(&fixed, &texts), ["2026-03-08T07:30:00Z"]);
    }

    #[test]
    fn reads_the_usual_forms() {
        let at = |format: &str, text: &str| {
            let c = Clock::new(Some(format), None, Ambiguous::ByOrder, Nonexistent::Drop).unwrap();
            match c.read(text) {
                Ok(Written::Moment(t)) => t.to_string(),
                other => format!("{other:?}"),
            }
        };
        assert_eq!(at("rfc3339", "2026-06-21T05:00:00+01:00"), "2026-06-21T04:00:00Z");
        assert_eq!(at("unix_s", "1782014400"), "2026-06-21T04:00:00Z");
        assert_eq!(at("unix_ms", "1782014400000"), "2026-06-21T04:00:00Z");
        assert_eq!(at("%Y-%m-%d %H:%M %z", "2026-06-21 05:00 +0100"), "2026-06-21T04:00:00Z");
        assert!(at("unix_s", "NaN").starts_with("Err"));
        assert!(at("unix_s", "1e300").starts_with("Err"));
        assert!(at("rfc3339", "2026-06-21T05:00:00").contains("zone"));
    }

    #[test]
    fn refuses_patterns_that_lose_the_hour() {
        for pattern in ["%Y-%m-%d", "%d.%m.%Y %I:%M", "%Q", "%H:%M"] {
            let c = Clock::new(Some(pattern), Some("UTC"), Ambiguous::ByOrder, Nonexistent::Drop);
            assert!(c.is_err(), "{pattern}");
        }
        assert!(
            Clock::new(
                Some("%d/%m/%y %I:%M %p"),
                Some("UTC"),
                Ambiguous::ByOrder,
                Nonexistent::Drop
            )
            .is_ok()
        );
        assert!(
            Clock::new(Some("%d/%m/%y %H:%M"), None, Ambiguous::ByOrder, Nonexistent::Drop)
                .is_err()
        );
    }
}
