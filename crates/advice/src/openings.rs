//! When a plant opens, in the light and air of its area.

use crate::error::below;
use crate::timeline::AreaTimeline;
use guardcell_clock::{
    Code as ClockCode, Opening, Phase, Preference, Reason, TraitView, openings_in,
};
use guardcell_error::Error;
use guardcell_units::quantity::Ratio;
use guardcell_units::uom::si::ratio::ratio;
use jiff::{SignedDuration, ZonedDateTime};

/// The openings of a plant over a timeline, and what the clock says of the whole time.
#[derive(Debug)]
pub(crate) struct PlantOpenings {
    pub(crate) list: Vec<Opening>,
    pub(crate) reasons: Vec<Reason>,
    /// Without leaves: nothing is gained by timing.
    pub(crate) leafless: bool,
}

/// The openings of plants of one view of their traits.
pub(crate) fn of(view: &TraitView, timeline: &AreaTimeline<'_>) -> Result<PlantOpenings, Error> {
    let water = timeline.area().description.water_status;
    let found = openings_in(view, timeline.light(), timeline.air_hours(), water)
        .map_err(|e| below("/site", e))?;
    let list = if view.leafless { root_times(timeline) } else { found.openings };
    Ok(PlantOpenings {
        list: list.into_iter().flat_map(by_day).collect(),
        reasons: found.reasons,
        leafless: view.leafless,
    })
}

/// For a plant without leaves: the lit time, its first half before its second, so that roots dry
/// by day. The velamen takes up water at any hour.
fn root_times(timeline: &AreaTimeline<'_>) -> Vec<Opening> {
    let mut out = Vec::new();
    let start = timeline.local(timeline.start());
    for s in timeline.light().lit() {
        let length = s.end.timestamp().duration_since(s.start.timestamp());
        let Ok(middle) = s.start.checked_add(length / 2) else { continue };
        for (from, to, rank) in [(s.start, middle.clone(), 1), (middle, s.end, 2)] {
            if to <= start {
                continue;
            }
            out.push(Opening {
                start: from.max(start.clone()),
                end: to,
                phase: Phase::DayOpen,
                part: None,
                either_pathway: false,
                probability: Ratio::new::<ratio>(1.0),
                preference: Preference { rank, code: ClockCode::LeaflessRootOnly },
                reasons: Vec::new(),
            });
        }
    }
    out
}

/// An opening that lasts longer than a day (under the midnight sun), cut at midnight.
fn by_day(opening: Opening) -> Vec<Opening> {
    let mut out = Vec::new();
    let mut rest = opening;
    while rest.end.timestamp().duration_since(rest.start.timestamp())
        > SignedDuration::from_hours(24)
    {
        let Some(midnight) = next_midnight(&rest.start) else { break };
        out.push(Opening { end: midnight.clone(), ..rest.clone() });
        rest.start = midnight;
    }
    out.push(rest);
    out
}

fn next_midnight(t: &ZonedDateTime) -> Option<ZonedDateTime> {
    t.date().tomorrow().ok()?.to_zoned_datetime(t.time_zone().clone()).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_opening_under_the_midnight_sun_is_cut_at_midnight() {
        let at = |text: &str| -> ZonedDateTime {
            let zone = jiff::tz::TimeZone::UTC;
            format!("2026-06-{text}:00Z")
                .parse::<jiff::Timestamp>()
                .unwrap()
                .to_zoned_datetime(zone)
        };
        let cut = |from: &str, to: &str| -> Vec<(ZonedDateTime, ZonedDateTime)> {
            let opening = Opening {
                start: at(from),
                end: at(to),
                phase: Phase::DayOpen,
                part: None,
                either_pathway: false,
                probability: Ratio::new::<ratio>(1.0),
                preference: Preference { rank: 1, code: ClockCode::LeaflessRootOnly },
                reasons: Vec::new(),
            };
            by_day(opening).into_iter().map(|o| (o.start, o.end)).collect()
        };
        let span = |from: &str, to: &str| (at(from), at(to));
        // Up to 24 hours it is one opening, over midnight too.
        for (from, to) in
            [("21T04:00", "21T20:00"), ("21T22:00", "22T03:00"), ("21T10:00", "22T10:00")]
        {
            assert_eq!(cut(from, to), [span(from, to)]);
        }
        assert_eq!(
            cut("21T10:00", "22T10:01"),
            [span("21T10:00", "22T00:00"), span("22T00:00", "22T10:01")]
        );
        assert_eq!(
            cut("21T10:00", "23T12:00"),
            [
                span("21T10:00", "22T00:00"),
                span("22T00:00", "23T00:00"),
                span("23T00:00", "23T12:00")
            ]
        );
    }
}
