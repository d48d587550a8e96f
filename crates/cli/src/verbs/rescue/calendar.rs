//! The soaks as a calendar (iCalendar, RFC 5545): one event a soak, times in UTC, the same bytes
//! for the same plan.

use guardcell::Error;
use guardcell::advice::{RescueRequest, RescueResponse};
use icalendar::{Calendar, Component, Event, Property};
use jiff::Timestamp;
use jiff::tz::TimeZone;

/// The calendar as text.
pub(crate) fn text(
    plan: &RescueResponse,
    request: &RescueRequest,
    plant: Option<&str>,
) -> Result<String, Error> {
    let area =
        request.area.as_deref().or_else(|| request.site.areas.first().map(|a| a.id.as_str()));
    let who = match plant {
        Some(id) => format!("{id} {}", plan.name),
        None => plan.name.clone(),
    };
    let place = [Some(request.site.name.as_str()), area, Some(&who)];
    let place: Vec<String> = place.into_iter().flatten().map(slug).collect();
    // The day the plan begins stands for the day it was made: the clock stays out of the file.
    let stamp = stamp(&format!("{}T00:00:00Z", request.from.trim()))?;
    let description = description(plan);
    let mut calendar = Calendar::empty();
    for (key, value) in [
        ("VERSION", "2.0"),
        ("PRODID", "-//guardcell//rescue//EN"),
        ("CALSCALE", "GREGORIAN"),
        ("X-WR-CALNAME", &format!("Soaks for {who}")),
    ] {
        calendar.append_property(Property::new(key, value));
    }
    for soak in &plan.soaks {
        let start = self::stamp(&soak.start)?;
        let mut event = Event::new();
        event
            .add_property("UID", format!("{}.{start}@guardcell.invalid", place.join(".")))
            .add_property("DTSTAMP", stamp.as_str())
            .add_property("DTEND", self::stamp(&soak.end)?)
            .add_property("DTSTART", start)
            .add_property("SUMMARY", format!("Soak {who}"))
            .add_property("DESCRIPTION", description.as_str());
        calendar.push(event.done());
    }
    Ok(calendar.to_string())
}

/// What to do and when to stop, with the limits in it.
fn description(plan: &RescueResponse) -> String {
    let mut lines = plan.steps.clone();
    lines.push("Stop or change when:".into());
    lines.extend(plan.stop_when.iter().cloned());
    lines.push("Common practice, no source. The label of the product comes first.".into());
    lines.join("\n")
}

/// `20260621T050000Z`, the UTC form of RFC 5545, 3.3.5.
fn stamp(time: &str) -> Result<String, Error> {
    let instant: Timestamp = time.parse().map_err(|_| {
        Error::internal(format!("the plan has the time {time:?}, which has no offset"))
    })?;
    Ok(instant.to_zoned_datetime(TimeZone::UTC).strftime("%Y%m%dT%H%M%SZ").to_string())
}

/// Letters and digits in lower case, hyphens for the rest.
fn slug(text: &str) -> String {
    let words: Vec<String> = text
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_ascii_lowercase)
        .collect();
    words.join("-")
}
