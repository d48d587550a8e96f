//! A calendar file (iCalendar, RFC 5545): times in UTC, no clock, the same bytes for the same plan.

use crate::error::argument;
use crate::quantity;
use chrono::TimeDelta;
use guardcell::Error;
use icalendar::{Alarm, Calendar, Component as _, Event, EventLike as _, Property};
use jiff::Timestamp;
use jiff::tz::TimeZone;

/// The most minutes that an alarm rings before.
const A_DAY: f64 = 24.0 * 60.0;

/// What is to be done at a time.
pub(crate) struct Appointment<'a> {
    /// Whose it is: with its start it tells it from all others.
    pub(crate) of: String,
    /// RFC 3339.
    pub(crate) start: &'a str,
    /// RFC 3339.
    pub(crate) end: &'a str,
    pub(crate) summary: String,
    pub(crate) description: String,
}

/// The calendar as text. `made` is the moment of the plan, RFC 3339; the alarm rings so many minutes
/// before each appointment, and not at all for 0.
pub(crate) fn text(
    verb: &str,
    name: &str,
    made: &str,
    appointments: &[Appointment<'_>],
    alarm_min: f64,
) -> Result<String, Error> {
    let made = stamp(made)?;
    let mut calendar = Calendar::empty();
    for (key, value) in [
        ("VERSION", "2.0"),
        ("PRODID", &format!("-//guardcell//{verb}//EN")),
        ("CALSCALE", "GREGORIAN"),
        ("X-WR-CALNAME", name),
    ] {
        calendar.append_property(Property::new(key, value));
    }
    for a in appointments {
        let start = stamp(a.start)?;
        let mut event = Event::new();
        event
            .add_property("UID", format!("{}.{start}@guardcell.invalid", a.of))
            .add_property("DTSTAMP", made.as_str())
            .add_property("DTEND", stamp(a.end)?)
            .add_property("DTSTART", start.as_str())
            .add_property("SUMMARY", a.summary.as_str())
            .add_property("DESCRIPTION", a.description.as_str());
        if alarm_min > 0.0 {
            // A day at most, as the flag has it.
            let before = TimeDelta::seconds(-(60.0 * alarm_min).round() as i64);
            let mut alarm = Alarm::display(&a.summary, before);
            // Else the library adds random letters and the clock.
            alarm
                .add_property("UID", format!("{}.{start}.alarm@guardcell.invalid", a.of))
                .add_property("DTSTAMP", made.as_str());
            event.alarm(alarm.done());
        }
        calendar.push(event.done());
    }
    Ok(calendar.to_string())
}

/// Minutes of `--alarm`.
pub(crate) fn minutes_before(alarm: &str) -> Result<f64, Error> {
    let minutes = quantity::minutes("--alarm", alarm)?;
    if (0.0..=A_DAY).contains(&minutes) {
        return Ok(minutes);
    }
    let detail = format!("{alarm} is not within 0 and a day");
    Err(argument("--alarm", detail, "give a time such as \"15 min\", or 0 for no alarm"))
}

/// `20260621T050000Z`, the UTC form of RFC 5545, 3.3.5; to the minute, as the texts print it.
fn stamp(time: &str) -> Result<String, Error> {
    let instant: Timestamp = time.parse().map_err(|_| {
        Error::internal(format!("the plan has the time {time:?}, which has no offset"))
    })?;
    Ok(instant.to_zoned_datetime(TimeZone::UTC).strftime("%Y%m%dT%H%M00Z").to_string())
}

/// Letters and digits in lower case, hyphens for the rest.
pub(crate) fn slug(text: &str) -> String {
    let words: Vec<String> = text
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_ascii_lowercase)
        .collect();
    words.join("-")
}
