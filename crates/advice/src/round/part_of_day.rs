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
