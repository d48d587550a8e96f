//! The moment from which an answer looks ahead: `now`, `18:00`, `tomorrow 06:00`, a date, a time.

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan as _};

/// A time with its offset, as requests have it.
pub(crate) const WRITTEN: &str = "%Y-%m-%dT%H:%M:%S%:z";

/// The start in a form that a request takes: a date, or a time with its offset. What is neither
/// now nor an hour of a near day is passed on as it is, and judged there.
pub(crate) fn start(at: Option<&str>, zone: &str, now: Timestamp) -> String {
    let zone = TimeZone::get(zone).unwrap_or(TimeZone::UTC);
    let here = now.to_zoned_datetime(zone.clone());
    let text = at.unwrap_or("now").trim();
    let lower = text.to_lowercase();
    if lower == "now" || lower == "today" {
        // Cut and not rounded: a moment that is not yet would make readings of it a forecast.
        let cut = here.with().second(0).subsec_nanosecond(0).build().unwrap_or(here);
        return cut.strftime(WRITTEN).to_string();
    }
    let near = |word: &str| -> Option<Date> {
        match word {
            "today" => Some(here.date()),
            "tomorrow" => here.date().checked_add(1.day()).ok(),
            "yesterday" => here.date().checked_sub(1.day()).ok(),
            _ => None,
        }
    };
    let clock = |t: &str| {
        let t = t.trim();
        let padded = if t.find(':') == Some(1) { format!("0{t}") } else { t.to_owned() };
        if t.contains(':') { padded.parse::<Time>().ok() } else { None }
    };
    if text.contains([' ', 'T'])
        && text.parse::<Timestamp>().is_err()
        && let Ok(local) = text.parse::<DateTime>()
        && let Ok(t) = local.to_zoned_datetime(zone.clone())
    {
        return t.strftime(WRITTEN).to_string();
    }
    let placed = match lower.split_once(' ') {
        Some((day, hour)) => near(day).zip(clock(hour)),
        None if lower.contains(['-', 't']) => None,
        None => clock(&lower).map(|hour| (here.date(), hour)),
    };
    if let Some((day, hour)) = placed
        && let Ok(t) = day.to_datetime(hour).to_zoned_datetime(zone)
    {
        return t.strftime(WRITTEN).to_string();
    }
    near(&lower).map_or_else(|| text.to_owned(), |day| day.to_string())
}

/// The date that is asked for, or today there.
pub(crate) fn date(asked: Option<&str>, zone: &str) -> String {
    match asked {
        Some(date) if date != "today" => date.to_owned(),
        _ => start(None, zone, Timestamp::now()).chars().take(10).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_as_people_write_them() {
        let now = "2026-06-21T17:30:45.4Z".parse().unwrap();
        let at = |text| start(text, "Europe/London", now);
        assert_eq!(at(None), "2026-06-21T18:30:00+01:00");
        assert_eq!(at(Some("now")), "2026-06-21T18:30:00+01:00");
        assert_eq!(at(Some("Today")), "2026-06-21T18:30:00+01:00");
        assert_eq!(at(Some("6:00")), "2026-06-21T06:00:00+01:00");
        assert_eq!(at(Some("06:00")), "2026-06-21T06:00:00+01:00");
        assert_eq!(at(Some("tomorrow 06:00")), "2026-06-22T06:00:00+01:00");
        assert_eq!(at(Some("tomorrow")), "2026-06-22");
        assert_eq!(at(Some("2026-06-20 05:30")), "2026-06-20T05:30:00+01:00");
        // In winter London is at UTC, and midnight is not yet a new day.
        let winter = "2026-01-01T23:59:29Z".parse().unwrap();
        assert_eq!(start(None, "Europe/London", winter), "2026-01-01T23:59:00+00:00");
        for same in ["2026-06-21", "2026-06-21T05:00:00+02:00", "soon", ""] {
            assert_eq!(at(Some(same)), same);
        }
    }
}
