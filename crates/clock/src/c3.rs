//! Openings of a C3 leaf: the light, less the time it takes to open, with a dip around midday.

use crate::calendar::DAY_SECONDS;
use crate::code::Code;
use crate::interval::{AirRange, Interval, minutes, push_clipped};
use crate::light_hours::{LightHours, overlap};
use crate::peak;
use crate::phase::Phase;
use crate::trait_view::WaterStatus;
use guardcell_reference::PeakTime;
use guardcell_reference::parameters::clock as p;

/// The candidate openings in the window, before the air narrows them.
pub(crate) fn intervals(
    light: &LightHours,
    peak: Option<PeakTime>,
    water: WaterStatus,
) -> Vec<Interval> {
    let mut out = Vec::new();
    let (water_factor, water_codes) = match water {
        WaterStatus::Watered => (1.0, 0),
        WaterStatus::Drought => (p::DRY_C3_FACTOR.number(), Code::DryLowers.bit()),
        WaterStatus::SevereDrought => return out,
    };
    let measured =
        peak.filter(|p| matches!(p, PeakTime::Forenoon | PeakTime::Noon | PeakTime::Afternoon));
    let open = p::PROBABILITY_C3_LIGHT.number() * water_factor;
    let codes = Code::C3LightOpen.bit() | water_codes;
    let interval = |start, end, part| {
        let (peak_factor, peak_code) = match (measured, part) {
            // A measured peak says more than the rule.
            (None, Some(PeakTime::Noon)) if overlap(&light.sun, start, end) > 0 => {
                (p::C3_MIDDAY_FACTOR.number(), Code::C3MiddayDips.bit())
            }
            _ => peak::factor(measured, part),
        };
        Interval {
            start,
            end,
            phase: Phase::DayOpen,
            part,
            open: open * peak_factor,
            either: false,
            codes: codes | peak_code,
            air: AirRange::EMPTY,
        }
    };
    for &(start, end) in &light.lit {
        let length = end - start;
        let opened = start + minutes(p::C3_OPENING_DELAY.minutes()).min(length);
        if length > DAY_SECONDS {
            // Light without end has no morning.
            push_clipped(&mut out, light, interval(opened, end, None));
            continue;
        }
        let (a, b) = (start + length / 3, start + 2 * length / 3);
        for (from, to, part) in [
            (opened, a, PeakTime::Forenoon),
            (a.max(opened), b, PeakTime::Noon),
            (b.max(opened), end, PeakTime::Afternoon),
        ] {
            push_clipped(&mut out, light, interval(from, to, Some(part)));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::Shelter;
    use jiff::tz::TimeZone;

    fn twelve_hours(sunlit: bool) -> LightHours {
        let lit = vec![(0, 12 * 3600)];
        LightHours {
            zone: TimeZone::UTC,
            shelter: Shelter::UnderCover,
            from: 0,
            to: 24 * 3600,
            sun: if sunlit { lit.clone() } else { Vec::new() },
            lit,
            dark: vec![(12 * 3600, 24 * 3600)],
        }
    }

    fn by_part(found: &[Interval]) -> Vec<(Option<PeakTime>, i64, i64, f64)> {
        found.iter().map(|i| (i.part, i.start, i.end, i.open)).collect()
    }

    /// Thirds of the light, half an hour late; narrower in the middle of a sunlit day only.
    #[test]
    fn the_middle_of_a_sunlit_day_dips() {
        let open = p::PROBABILITY_C3_LIGHT.number();
        let dip = open * p::C3_MIDDAY_FACTOR.number();
        let h = 3600;
        for (sunlit, middle) in [(true, dip), (false, open)] {
            assert_eq!(
                by_part(&intervals(&twelve_hours(sunlit), None, WaterStatus::Watered)),
                [
                    (Some(PeakTime::Forenoon), h / 2, 4 * h, open),
                    (Some(PeakTime::Noon), 4 * h, 8 * h, middle),
                    (Some(PeakTime::Afternoon), 8 * h, 12 * h, open)
                ]
            );
        }
    }

    /// Where the widest opening was measured the rule of the midday dip gives way.
    #[test]
    fn a_measured_peak_replaces_the_dip() {
        let light = twelve_hours(true);
        let found = intervals(&light, Some(PeakTime::Noon), WaterStatus::Watered);
        let open = p::PROBABILITY_C3_LIGHT.number();
        assert_eq!(found[1].open, open);
        assert_eq!(found[0].open, open * p::OFF_PEAK_FACTOR.number());
        assert_ne!(found[1].codes & Code::MeasuredPeak.bit(), 0);
        assert_ne!(found[0].codes & Code::OffPeak.bit(), 0);
        // A peak by night says nothing of a C3 leaf.
        let night = intervals(&light, Some(PeakTime::Night), WaterStatus::Watered);
        assert_eq!(night[0].open, open);
    }

    #[test]
    fn water_narrows_and_shuts() {
        let light = twelve_hours(false);
        let dry = intervals(&light, None, WaterStatus::Drought);
        let open = p::PROBABILITY_C3_LIGHT.number() * p::DRY_C3_FACTOR.number();
        assert!(dry.iter().all(|i| (i.open - open).abs() < 1e-12));
        assert!(intervals(&light, None, WaterStatus::SevereDrought).is_empty());
    }

    #[test]
    fn light_without_end_has_no_parts() {
        let mut light = twelve_hours(false);
        (light.lit, light.dark) = (vec![(-3600, 30 * 3600)], Vec::new());
        let found = intervals(&light, None, WaterStatus::Watered);
        assert_eq!(by_part(&found), [(None, 0, 24 * 3600, p::PROBABILITY_C3_LIGHT.number())]);
    }
}
