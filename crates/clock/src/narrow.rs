//! How dry, cold or hot air narrows an opening.

use crate::air::Hour;
use crate::code::Code;
use crate::interval::{AirRange, Interval, push};
use guardcell_reference::parameters::clock as p;

/// Temperatures between which a pathway opens: shut, fully open, fully open, shut.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Temperatures {
    closed_low_c: f64,
    open_low_c: f64,
    open_high_c: f64,
    closed_high_c: f64,
}

pub(crate) const C3: Temperatures = Temperatures {
    closed_low_c: p::C3_TEMPERATURE_CLOSED_LOW.celsius(),
    open_low_c: p::C3_TEMPERATURE_OPEN_LOW.celsius(),
    open_high_c: p::C3_TEMPERATURE_OPEN_HIGH.celsius(),
    closed_high_c: p::C3_TEMPERATURE_CLOSED_HIGH.celsius(),
};

pub(crate) const CAM: Temperatures = Temperatures {
    closed_low_c: p::CAM_TEMPERATURE_CLOSED_LOW.celsius(),
    open_low_c: p::CAM_TEMPERATURE_OPEN_LOW.celsius(),
    open_high_c: p::CAM_TEMPERATURE_OPEN_HIGH.celsius(),
    closed_high_c: p::CAM_TEMPERATURE_CLOSED_HIGH.celsius(),
};

/// Relative stomatal conductance at a vapour pressure deficit: 1 − m ln(D/D₀), within 0 to 1
/// (Oren et al. 1999).
fn vpd_factor(vpd_kpa: f64) -> f64 {
    let d = vpd_kpa / p::STOMATA_VPD_REFERENCE.kpa();
    if d <= 1.0 {
        return 1.0;
    }
    (1.0 - p::STOMATA_VPD_SLOPE.number() * d.ln()).clamp(0.0, 1.0)
}

fn temperature_factor(t_c: f64, t: &Temperatures) -> f64 {
    let rise = (t_c - t.closed_low_c) / (t.open_low_c - t.closed_low_c);
    let fall = (t.closed_high_c - t_c) / (t.closed_high_c - t.open_high_c);
    rise.min(fall).clamp(0.0, 1.0)
}

/// Narrows intervals by the air, hour by hour. Returns the codes of what was cut out.
pub(crate) fn narrow(
    intervals: &[Interval],
    hours: &[Hour],
    t: &Temperatures,
) -> (Vec<Interval>, u64) {
    let mut out: Vec<Interval> = Vec::with_capacity(intervals.len());
    let mut cut = 0;
    for interval in intervals {
        let mut at = interval.start;
        let first = hours.partition_point(|h| h.end <= at);
        for hour in hours.iter().skip(first).take_while(|h| h.start < interval.end) {
            if hour.start > at {
                push(&mut out, unknown_air(interval, at, hour.start));
                at = hour.start;
            }
            let end = hour.end.min(interval.end);
            let (factor, codes) = hour_factor(hour, t);
            if factor < p::STOMATA_OPEN_MINIMUM.number() {
                cut |= shut(codes);
            } else {
                push(&mut out, narrowed(interval, hour, (at, end), factor, codes));
            }
            at = end;
        }
        if at < interval.end {
            push(&mut out, unknown_air(interval, at, interval.end));
        }
    }
    (out, cut)
}

fn narrowed(
    interval: &Interval,
    hour: &Hour,
    (start, end): (i64, i64),
    factor: f64,
    codes: u64,
) -> Interval {
    Interval {
        start,
        end,
        open: interval.open * factor,
        codes: interval.codes | codes,
        air: AirRange {
            coldest_c: hour.temperature_c,
            warmest_c: hour.temperature_c,
            driest_kpa: hour.vpd_kpa,
        },
        ..*interval
    }
}

fn unknown_air(interval: &Interval, start: i64, end: i64) -> Interval {
    Interval { start, end, codes: interval.codes | Code::AirUnknown.bit(), ..*interval }
}

fn hour_factor(hour: &Hour, t: &Temperatures) -> (f64, u64) {
    let (dry, warm) = (vpd_factor(hour.vpd_kpa), temperature_factor(hour.temperature_c, t));
    let mut codes = 0;
    if dry < 1.0 {
        codes |= Code::VpdNarrows.bit();
    }
    if warm < 1.0 {
        codes |= if hour.temperature_c < t.open_low_c {
            Code::ColdNarrows.bit()
        } else {
            Code::HeatNarrows.bit()
        };
    }
    (dry * warm, codes)
}

/// The codes of hours that were cut out, from the codes of what narrowed them.
fn shut(narrowed: u64) -> u64 {
    [
        (Code::VpdNarrows, Code::VpdShuts),
        (Code::ColdNarrows, Code::ColdShuts),
        (Code::HeatNarrows, Code::HeatShuts),
    ]
    .iter()
    .filter(|(n, _)| narrowed & n.bit() != 0)
    .fold(0, |set, (_, s)| set | s.bit())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::phase::Phase;

    #[test]
    fn vpd_response_follows_its_source() {
        // Oren et al. 1999: gs/gs(1 kPa) = 1 - 0.6 ln D
        for (d, expected) in [(0.5, 1.0), (1.0, 1.0), (2.0, 0.584), (3.0, 0.341), (6.0, 0.0)] {
            assert!((vpd_factor(d) - expected).abs() < 1e-3, "{d} kPa");
        }
    }

    #[test]
    fn temperature_factor_is_a_trapezoid() {
        assert_eq!(temperature_factor(-10.0, &C3), 0.0);
        assert_eq!(temperature_factor(20.0, &C3), 1.0);
        assert_eq!(temperature_factor(45.0, &C3), 0.0);
        assert!((temperature_factor(8.5, &C3) - 0.5).abs() < 1e-12);
        assert!((temperature_factor(36.0, &C3) - 0.5).abs() < 1e-12);
    }

    #[test]
    fn hours_without_air_are_kept_and_marked() {
        let whole = Interval {
            start: 0,
            end: 10_000,
            phase: Phase::DayOpen,
            part: None,
            open: 0.9,
            either: false,
            codes: 0,
            air: AirRange::EMPTY,
        };
        let hour = |start, vpd_kpa| Hour { start, end: start + 3600, temperature_c: 20.0, vpd_kpa };
        // 2 kPa narrows the first hour by 0.584; 4 kPa shuts the second; the rest is unknown.
        let (out, cut) = narrow(&[whole], &[hour(-1800, 2.0), hour(1800, 4.0)], &C3);
        let spans: Vec<(i64, i64)> = out.iter().map(|i| (i.start, i.end)).collect();
        assert_eq!(spans, [(0, 1800), (5400, 10_000)]);
        assert!((out[0].open - 0.9 * 0.584).abs() < 1e-3);
        assert_eq!(out[0].air.driest_kpa, 2.0);
        assert_eq!(out[1].codes, Code::AirUnknown.bit());
        assert_eq!(out[1].open, 0.9);
        assert_eq!(cut, Code::VpdShuts.bit());
    }
}
