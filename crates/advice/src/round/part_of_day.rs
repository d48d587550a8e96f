//! The part of the day of a sitting, in a word.

use super::span::Span;
use crate::error::below;
use crate::site::{CheckedArea, CheckedSite};
use guardcell_clock::{LightHours, LightKind, light_hours};
use guardcell_error::Error;
use guardcell_reference::parameters::practice as p;
use jiff::{SignedDuration, Timestamp};
use std::collections::BTreeSet;

/// The part of the day of a sitting in some areas: by the sun where any of them sees it, else by
/// the lamps.
pub(super) fn of(
    span: Span,
    areas: &BTreeSet<usize>,
    site: &CheckedSite,
) -> Result<&'static str, Error> {
    let by_lamps = |a: &CheckedArea| a.description.light == LightKind::Lamps;
    let seen = areas.iter().filter_map(|i| Some((*i, site.areas.get(*i)?)));
    let Some((_, area)) = seen.min_by_key(|(i, a)| (by_lamps(a), *i)) else {
        return Ok("day");
    };
    let day = SignedDuration::from_hours(24);
    let (start, end) = (span.start, span.end.max(span.start));
    let from = start.saturating_sub(day).unwrap_or(start);
    let to = end.saturating_add(day).unwrap_or(end);
    let light = light_hours(&area.site, from, to).map_err(|e| below("/site", e))?;
    let middle = start.saturating_add(end.duration_since(start) / 2).unwrap_or(start);
    Ok(part_of_day(middle, &light, by_lamps(area)))
}

fn part_of_day(middle: Timestamp, light: &LightHours, lamps: bool) -> &'static str {
    let hours = |a: Timestamp, b: Timestamp| b.duration_since(a).as_secs_f64() / 3600.0;
    let around = |spans: Vec<guardcell_clock::Span>| {
        spans.into_iter().find_map(|s| {
            let (start, end) = (s.start.timestamp(), s.end.timestamp());
            (start <= middle && middle < end).then(|| (hours(start, middle), hours(middle, end)))
        })
    };
    if let Some((since, until)) = around(light.lit()) {
        return match since / (since + until) {
            _ if lamps => "lights-on",
            share if share < p::MORNING_SHARE.number() => "morning",
            share if share > p::LATE_AFTERNOON_SHARE.number() => "late-afternoon",
            _ => "day",
        };
    }
    match (around(light.dark()), lamps) {
        (Some((since, until)), false) if until < since => "before-dawn",
        (Some((since, until)), true) if until < since => "before-lights-on",
        (_, false) => "evening",
        (_, true) => "after-lights-off",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    // On the equator at the equinox the sun is up from about 06:00 to 18:00; lamps from 08:00 to
    // 20:00. Morning up to 0.4 of the lit time, 10:48; late afternoon from 0.75 on, 15:00
    // (data/practice.csv). The middle of the sitting counts.
    #[test]
    fn the_middle_of_a_sitting_says_its_part_of_the_day() {
        let site = serde_json::from_value(json!({
            "name": "House", "latitude_deg": 0.0, "longitude_deg": 0.0, "time_zone": "Etc/UTC",
            "areas": [
                {"id": "sun", "name": "House", "shelter": "glass"},
                {"id": "lamps", "name": "Cellar", "shelter": "room", "light": "lamps",
                    "lamps": [{"on": "08:00", "off": "20:00"}]}
            ]
        }))
        .unwrap();
        let site = crate::site::checked(&site).unwrap();
        let part = |from: &str, to: &str, areas: &[usize]| {
            let t = |text: &str| format!("2026-03-20T{text}:00Z").parse::<Timestamp>().unwrap();
            let span = Span { start: t(from), end: t(to) };
            of(span, &areas.iter().copied().collect(), &site).unwrap()
        };
        for (from, to, by_sun, by_lamps) in [
            ("02:00", "04:00", "before-dawn", "before-lights-on"),
            ("04:00", "05:30", "before-dawn", "before-lights-on"),
            ("06:30", "08:30", "morning", "before-lights-on"),
            ("09:00", "12:00", "morning", "lights-on"),
            ("09:00", "13:00", "day", "lights-on"),
            ("13:00", "16:00", "day", "lights-on"),
            ("14:00", "17:00", "late-afternoon", "lights-on"),
            ("17:30", "21:00", "evening", "lights-on"),
            ("20:30", "23:00", "evening", "after-lights-off"),
        ] {
            let found = (part(from, to, &[0]), part(from, to, &[1]));
            assert_eq!(found, (by_sun, by_lamps), "{from} {to}");
            // Where any of the areas sees the sun, by the sun.
            assert_eq!(part(from, to, &[0, 1]), by_sun);
        }
    }
}
