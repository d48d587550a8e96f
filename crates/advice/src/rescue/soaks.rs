//! When the soaks of a rootless plant are: two a day, in its light (C3) or its dark (CAM).
//!
//! Every stretch of light or dark belongs to one date by the local time at which it starts, so that
//! neither a clock change nor lamps that burn over midnight give a date two stretches or none. A
//! dark belongs to the date on whose day or evening it starts, a light to the date in which it
//! brings the day. A date without one (under the midnight sun, in the polar night) gets the hours
//! that practice would give it.

use crate::error::below;
use crate::moment::rfc3339;
use crate::site::{CheckedArea, CheckedSite};
use guardcell_clock::light_hours;
use guardcell_error::{Code, Error};
use guardcell_reference::Pathway;
use guardcell_reference::parameters::practice as p;
use jiff::civil::{Date, DateTime};
use jiff::{SignedDuration, Timestamp, ToSpan, ZonedDateTime};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// One soak.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Soak {
    /// When it starts, RFC 3339 with offset.
    pub start: String,
    /// When the plant comes out and dries, RFC 3339 with offset.
    pub end: String,
    /// Whether it is one of plain water, where feed and water alternate.
    #[serde(default, skip_serializing_if = "core::ops::Not::not")]
    pub plain_water: bool,
}

/// Whether the soaks go by day or by night.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Timing {
    Day,
    Night,
}

impl Timing {
    pub(super) fn new(pathway: Pathway, leafless: bool, cam_share: Option<f64>) -> Self {
        let cam = match pathway {
            Pathway::Cam => true,
            Pathway::C3 | Pathway::WeakCam => false,
            // A plant short of water, as a rootless one is, leans to CAM where it can.
            Pathway::Facultative => true,
            Pathway::Variable | Pathway::Unknown => {
                cam_share.is_some_and(|s| s >= p::SOAK_BY_NIGHT_SHARE.number())
            }
        };
        if cam && !leafless { Self::Night } else { Self::Day }
    }

    /// The date that a stretch belongs to, by the local time at which it starts.
    fn date(self, start: &ZonedDateTime) -> Option<Date> {
        let civil = start.datetime();
        let moved = match self {
            // A dark may start from six in the morning (lamps) to long after midnight (summer).
            Self::Night => civil.checked_sub(6.hours()),
            // A light may start from six in the evening (lamps) to late in the morning (winter).
            Self::Day => civil.checked_add(6.hours()),
        };
        moved.ok().map(DateTime::date)
    }

    /// The hours that a date gets where it has no stretch of its own: from six to six.
    fn usual(self, date: Date) -> Option<(DateTime, DateTime)> {
        let six = |hour: i8, date: Date| date.at(hour, 0, 0, 0);
        Some(match self {
            Self::Day => (six(6, date), six(18, date)),
            Self::Night => (six(18, date), six(6, date.tomorrow().ok()?)),
        })
    }
}

/// What is planned.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plan {
    pub(super) first: Date,
    pub(super) days: u16,
    pub(super) timing: Timing,
    pub(super) soak_min: f64,
    /// Whether every second soak is of plain water.
    pub(super) alternate: bool,
}

/// The soaks of every date of the plan, in order.
pub(super) fn plan(
    plan: &Plan,
    area: &CheckedArea,
    site: &CheckedSite,
) -> Result<Vec<Soak>, Error> {
    let stretches = stretches(plan, area, site)?;
    let mut soaks = Vec::with_capacity(usize::from(plan.days) * 2);
    let mut date = plan.first;
    let mut dry_since: Option<Timestamp> = None;
    for _ in 0..plan.days {
        guardcell_call::checkpoint();
        let stretch = match stretches.get(&date) {
            Some(stretch) => *stretch,
            None => usual(plan.timing, date, site)?,
        };
        for (start, end) in times(stretch, plan, dry_since) {
            let (from, to) = (rfc3339(&site.local(start)), rfc3339(&site.local(end)));
            let plain_water = plan.alternate && soaks.len() % 2 == 1;
            soaks.push(Soak { start: from, end: to, plain_water });
            dry_since = Some(end);
        }
        date = date.tomorrow().map_err(|_| past_the_calendar())?;
    }
    Ok(soaks)
}

/// The longest stretch of light or dark of every date that has one shorter than a day.
fn stretches(
    plan: &Plan,
    area: &CheckedArea,
    site: &CheckedSite,
) -> Result<BTreeMap<Date, (Timestamp, Timestamp)>, Error> {
    let midnight = |date: Date| {
        date.to_zoned_datetime(site.zone.clone())
            .map(|z| z.timestamp())
            .map_err(|_| past_the_calendar())
    };
    let yesterday = plan.first.yesterday().map_err(|_| past_the_calendar())?;
    let after = plan
        .first
        .checked_add((i64::from(plan.days) + 1).days())
        .map_err(|_| past_the_calendar())?;
    let light = light_hours(&area.site, midnight(yesterday)?, midnight(after)?)
        .map_err(|e| below("/site", e))?;
    let spans = match plan.timing {
        Timing::Day => light.lit(),
        Timing::Night => light.dark(),
    };
    let mut out: BTreeMap<Date, (Timestamp, Timestamp)> = BTreeMap::new();
    let length = |(a, b): (Timestamp, Timestamp)| b.duration_since(a);
    for span in spans {
        let stretch = (span.start.timestamp(), span.end.timestamp());
        if length(stretch) > SignedDuration::from_hours(24) {
            continue;
        }
        let Some(date) = plan.timing.date(&span.start) else { continue };
        let longest = out.get(&date).is_none_or(|known| length(*known) < length(stretch));
        if longest {
            out.insert(date, stretch);
        }
    }
    Ok(out)
}

fn usual(timing: Timing, date: Date, site: &CheckedSite) -> Result<(Timestamp, Timestamp), Error> {
    let (from, to) = timing.usual(date).ok_or_else(past_the_calendar)?;
    let at = |t: DateTime| {
        t.to_zoned_datetime(site.zone.clone())
            .map(|z| z.timestamp())
            .map_err(|_| past_the_calendar())
    };
    Ok((at(from)?, at(to)?))
}

/// The soaks in one stretch: the first some time after the light changes; by day the second after
/// the spacing, so that the leaf dries before dark, by night shortly before the light comes, so
/// that nobody has to rise for it at two. The plant is dry in between as long as practice wants,
/// even where the stretch is too short for both.
fn times(
    (from, to): (Timestamp, Timestamp),
    plan: &Plan,
    dry_since: Option<Timestamp>,
) -> Vec<(Timestamp, Timestamp)> {
    let minute = |m: f64| SignedDuration::from_secs_f64(m * 60.0);
    let soak = minute(plan.soak_min);
    let dry = minute(p::SOAK_DRY_BETWEEN.minutes());
    let wanted = match plan.timing {
        Timing::Day => {
            let first = later(from, minute(p::SOAK_AFTER_LIGHT_CHANGE.minutes()));
            let second = later(first, minute(p::SOAK_SPACING.minutes()));
            [first, second.min(earlier(to, soak))]
        }
        Timing::Night => [
            later(from, minute(p::SOAK_AFTER_LIGHT_CHANGE.minutes())),
            earlier(to, soak + minute(p::SOAK_BEFORE_LIGHT.minutes())),
        ],
    };
    let mut last = dry_since;
    let mut out = Vec::new();
    for start in wanted {
        let start = last.map_or(start, |end| start.max(later(end, dry)));
        let end = later(start, soak);
        out.push((start, end));
        last = Some(end);
    }
    out
}

fn later(t: Timestamp, by: SignedDuration) -> Timestamp {
    t.saturating_add(by).unwrap_or(t)
}

fn earlier(t: Timestamp, by: SignedDuration) -> Timestamp {
    t.saturating_sub(by).unwrap_or(t)
}

fn past_the_calendar() -> Error {
    Error::new(Code::OutOfRange, "the plan runs past the calendar", "start earlier").at("/from")
}

#[cfg(test)]
mod tests;
