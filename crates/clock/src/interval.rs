//! Candidate openings in plain seconds, before they become times of day.

use crate::light_hours::LightHours;
use crate::phase::Phase;
use guardcell_reference::PeakTime;

/// A stretch of time with one phase and one probability.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Interval {
    pub(crate) start: i64,
    pub(crate) end: i64,
    pub(crate) phase: Phase,
    pub(crate) part: Option<PeakTime>,
    /// Probability of open stomata, 0 to 1.
    pub(crate) open: f64,
    /// Open by C3 and by CAM alike.
    pub(crate) either: bool,
    /// Set of [`Code::bit`](crate::code::Code::bit).
    pub(crate) codes: u64,
    pub(crate) air: AirRange,
}

/// The range of the air over an interval; empty if the air is not known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct AirRange {
    pub(crate) coldest_c: f64,
    pub(crate) warmest_c: f64,
    pub(crate) driest_kpa: f64,
}

impl AirRange {
    pub(crate) const EMPTY: Self = Self {
        coldest_c: f64::INFINITY,
        warmest_c: f64::NEG_INFINITY,
        driest_kpa: f64::NEG_INFINITY,
    };

    pub(crate) fn with(self, other: Self) -> Self {
        Self {
            coldest_c: self.coldest_c.min(other.coldest_c),
            warmest_c: self.warmest_c.max(other.warmest_c),
            driest_kpa: self.driest_kpa.max(other.driest_kpa),
        }
    }
}

/// Appends an interval, joined to the last if it continues the same phase and part; the
/// probability of the joined interval is the mean over its time.
pub(crate) fn push(out: &mut Vec<Interval>, next: Interval) {
    if next.start >= next.end {
        return;
    }
    match out.last_mut() {
        Some(last)
            if last.end == next.start
                && last.phase == next.phase
                && last.part == next.part
                && last.either == next.either =>
        {
            let (a, b) = ((last.end - last.start) as f64, (next.end - next.start) as f64);
            last.open = (last.open * a + next.open * b) / (a + b);
            last.end = next.end;
            last.codes |= next.codes;
            last.air = last.air.with(next.air);
        }
        _ => out.push(next),
    }
}

/// Appends an interval clipped to the window.
pub(crate) fn push_clipped(out: &mut Vec<Interval>, light: &LightHours, next: Interval) {
    push(out, Interval { start: next.start.max(light.from), end: next.end.min(light.to), ..next });
}

/// Seconds in a parameter given in minutes.
pub(crate) const fn minutes(value: f64) -> i64 {
    (value * 60.0) as i64
}

/// Seconds in a parameter given in hours.
pub(crate) const fn hours(value: f64) -> i64 {
    (value * 3600.0) as i64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn interval(start: i64, end: i64, open: f64) -> Interval {
        Interval {
            start,
            end,
            phase: Phase::PhaseI,
            part: None,
            open,
            either: false,
            codes: 1,
            air: AirRange::EMPTY,
        }
    }

    #[test]
    fn joined_intervals_have_the_mean_probability_over_their_time() {
        let mut out = Vec::new();
        push(&mut out, interval(0, 100, 0.8));
        push(&mut out, Interval { codes: 2, ..interval(100, 400, 0.4) });
        assert_eq!(out.len(), 1);
        assert!((out[0].open - 0.5).abs() < 1e-12, "{}", out[0].open);
        assert_eq!((out[0].start, out[0].end, out[0].codes), (0, 400, 3));
    }

    #[test]
    fn a_gap_or_another_part_or_phase_is_not_joined() {
        for next in [
            interval(101, 200, 0.5),
            Interval { part: Some(PeakTime::Night), ..interval(100, 200, 0.5) },
            Interval { phase: Phase::PhaseII, ..interval(100, 200, 0.5) },
            Interval { either: true, ..interval(100, 200, 0.5) },
        ] {
            let mut out = vec![interval(0, 100, 0.5)];
            push(&mut out, next);
            assert_eq!(out.len(), 2, "{next:?}");
        }
    }

    #[test]
    fn an_empty_interval_is_dropped() {
        let mut out = Vec::new();
        push(&mut out, interval(5, 5, 0.5));
        assert!(out.is_empty());
    }

    #[test]
    fn ranges_widen() {
        let a = AirRange { coldest_c: 10.0, warmest_c: 12.0, driest_kpa: 0.5 };
        let b = AirRange { coldest_c: 8.0, warmest_c: 11.0, driest_kpa: 0.9 };
        assert_eq!(a.with(b), AirRange { coldest_c: 8.0, warmest_c: 12.0, driest_kpa: 0.9 });
        assert_eq!(AirRange::EMPTY.with(a), a);
    }
}
