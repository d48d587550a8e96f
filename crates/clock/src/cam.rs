//! Openings of a CAM leaf: the dark (phase I), a tail after dawn (II), late afternoon (IV).
//!
//! Dry air narrows them as it narrows those of a C3 leaf: night-time conductance of a CAM leaf
//! falls with dry air (Herppich 1997), though its carbon uptake need not, and in *Angraecum* drought
//! and temperature count for more than dryness of the air (Kluge et al. 1998, abstract).

use crate::calendar::DAY_SECONDS;
use crate::code::Code;
use crate::interval::{AirRange, Interval, hours, minutes, push_clipped};
use crate::light_hours::LightHours;
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
    if water == WaterStatus::SevereDrought {
        return out;
    }
    for &(start, end) in &light.dark {
        // A dark of more than a day leaves nothing to spend by day and nothing to refill at night.
        if end - start <= DAY_SECONDS {
            night(&mut out, light, (start, end), peak, water);
        }
    }
    if water == WaterStatus::Watered {
        for &(start, end) in &light.lit {
            tails(&mut out, light, (start, end));
        }
    }
    out.sort_by_key(|p| p.start);
    out
}

fn night(
    out: &mut Vec<Interval>,
    light: &LightHours,
    (start, end): (i64, i64),
    peak: Option<PeakTime>,
    water: WaterStatus,
) {
    let measured =
        peak.filter(|p| matches!(p, PeakTime::Evening | PeakTime::Night | PeakTime::PreDawn));
    let (water_factor, water_codes) = if water == WaterStatus::Drought {
        (p::DRY_CAM_FACTOR.number(), Code::DryLowers.bit() | Code::DryNoDayTails.bit())
    } else {
        (1.0, 0)
    };
    let length = end - start;
    let (delay, delay_code) = delay(light, start, length);
    let opened = start + delay;
    // In a short night the parts share it evenly.
    let evening = start + hours(p::CAM_EVENING_LENGTH.hours()).min(length / 3);
    let pre_dawn = end - hours(p::CAM_PRE_DAWN_LENGTH.hours()).min(length / 3);
    for (from, to, part) in [
        (opened, evening, PeakTime::Evening),
        (evening.max(opened), pre_dawn, PeakTime::Night),
        (pre_dawn.max(opened), end, PeakTime::PreDawn),
    ] {
        let (peak_factor, peak_code) = peak::factor(measured, Some(part));
        push_clipped(
            out,
            light,
            Interval {
                start: from,
                end: to,
                phase: Phase::PhaseI,
                part: Some(part),
                open: p::PROBABILITY_CAM_NIGHT.number() * water_factor * peak_factor,
                either: false,
                codes: Code::CamNightOpen.bit() | delay_code | water_codes | peak_code,
                air: AirRange::EMPTY,
            },
        );
    }
}

/// Seconds of dark before the leaf opens, and the code that says so. The clock of the leaf needs
/// about a day: in short cycles it opens late (`Doritaenopsis` under 6 and 8 h of each opened in the
/// middle of the dark, under 10 and 12 h of each at its start).
fn delay(light: &LightHours, start: i64, dark: i64) -> (i64, u64) {
    let usual = minutes(p::CAM_NIGHT_DELAY.minutes()).min(dark / 4);
    let before = light.lit.iter().find(|(_, lit_end)| *lit_end == start);
    let Some(lit) = before.map(|(a, b)| b - a) else { return (usual, 0) };
    let (short, full) = (p::CAM_SHORT_CYCLE.hours(), p::CAM_FULL_CYCLE.hours());
    let cycle_h = (lit + dark) as f64 / 3600.0;
    let late = ((full - cycle_h) / (full - short)).clamp(0.0, 1.0);
    if late <= 0.0 {
        return (usual, 0);
    }
    let share = late * p::CAM_SHORT_CYCLE_START.number();
    (usual.max((share * dark as f64) as i64), Code::CamShortCycle.bit())
}

fn tails(out: &mut Vec<Interval>, light: &LightHours, (start, end): (i64, i64)) {
    let length = end - start;
    if length > DAY_SECONDS {
        return; // No night before it or after it within the day.
    }
    let share = |share: f64| (length as f64 * share) as i64;
    let two = hours(p::CAM_PHASE_II_LENGTH.hours()).min(share(p::CAM_PHASE_II_SHARE.number()));
    let four = hours(p::CAM_PHASE_IV_LENGTH.hours()).min(share(p::CAM_PHASE_IV_SHARE.number()));
    for (from, to, phase, part, open, code) in [
        (
            start,
            start + two,
            Phase::PhaseII,
            PeakTime::Forenoon,
            p::PROBABILITY_CAM_PHASE_II.number(),
            Code::CamDawnTail,
        ),
        (
            end - four,
            end,
            Phase::PhaseIV,
            PeakTime::Afternoon,
            p::PROBABILITY_CAM_PHASE_IV.number(),
            Code::CamLateAfternoon,
        ),
    ] {
        push_clipped(
            out,
            light,
            Interval {
                start: from,
                end: to,
                phase,
                part: Some(part),
                open,
                either: false,
                codes: code.bit(),
                air: AirRange::EMPTY,
            },
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::Shelter;
    use jiff::tz::TimeZone;

    /// Light and dark in turn, in hours, the window over the whole.
    fn cycle(lit_h: f64, dark_h: f64) -> LightHours {
        let s = |h: f64| (h * 3600.0) as i64;
        let period = lit_h + dark_h;
        let lit: Vec<_> = (0..4).map(|k| f64::from(k) * period).collect();
        LightHours {
            zone: TimeZone::UTC,
            shelter: Shelter::UnderCover,
            from: 0,
            to: s(4.0 * period),
            lit: lit.iter().map(|a| (s(*a), s(a + lit_h))).collect(),
            dark: lit.iter().map(|a| (s(a + lit_h), s(a + period))).collect(),
            sun: Vec::new(),
        }
    }

    fn first(found: &[Interval], phase: Phase) -> (f64, f64) {
        let of: Vec<_> = found.iter().filter(|i| i.phase == phase).collect();
        let end = of
            .iter()
            .skip(1)
            .scan(of[0].end, |end, i| (i.start == *end).then(|| *end = i.end).map(|()| i.end));
        let end = end.last().unwrap_or(of[0].end);
        (of[0].start as f64 / 3600.0, end as f64 / 3600.0)
    }

    /// Doritaenopsis under 6, 8, 10 and 12 h of light and of dark in turn took CO2 up from the middle,
    /// the middle, the start and the start of the dark (thesis of Seoul National University).
    #[test]
    fn short_cycles_open_late() {
        for (half, opens_h) in
            [(12.0, 12.0 + 1.0 / 6.0), (10.0, 10.0 + 1.0 / 6.0), (8.0, 12.0), (6.0, 9.0)]
        {
            let light = cycle(half, half);
            let (start, end) = first(&intervals(&light, None, WaterStatus::Watered), Phase::PhaseI);
            assert!((start - opens_h).abs() < 1e-3, "{half}: {start}");
            assert!((end - 2.0 * half).abs() < 1e-9, "{half}: {end}");
        }
        // Halfway between 16 and 20 h of cycle: a quarter of the dark.
        let light = cycle(9.0, 9.0);
        let (start, _) = first(&intervals(&light, None, WaterStatus::Watered), Phase::PhaseI);
        assert!((start - 11.25).abs() < 1e-3, "{start}");
    }

    /// A short winter day with its long night is not a short cycle.
    #[test]
    fn a_short_day_is_no_short_cycle() {
        let light = cycle(8.0, 16.0);
        let (start, _) = first(&intervals(&light, None, WaterStatus::Watered), Phase::PhaseI);
        assert!((start - (8.0 + 1.0 / 6.0)).abs() < 1e-3, "{start}");
    }

    /// Osmond 1978, lengths of `data/clock.csv`: 1.5 h after dawn, 3 h before dusk, each at most a
    /// share of the light; in drought neither.
    #[test]
    fn tails_of_the_day() {
        let found = intervals(&cycle(12.0, 12.0), None, WaterStatus::Watered);
        assert_eq!(first(&found, Phase::PhaseII), (0.0, 1.5));
        assert_eq!(first(&found, Phase::PhaseIV), (9.0, 12.0));
        let short = intervals(&cycle(6.0, 18.0), None, WaterStatus::Watered);
        assert_eq!(first(&short, Phase::PhaseII), (0.0, 0.9));
        assert_eq!(first(&short, Phase::PhaseIV), (4.5, 6.0));
        let dry = intervals(&cycle(12.0, 12.0), None, WaterStatus::Drought);
        assert!(dry.iter().all(|i| i.phase == Phase::PhaseI));
        let factor = p::PROBABILITY_CAM_NIGHT.number() * p::DRY_CAM_FACTOR.number();
        assert!(dry.iter().all(|i| (i.open - factor).abs() < 1e-12));
        assert!(intervals(&cycle(12.0, 12.0), None, WaterStatus::SevereDrought).is_empty());
    }

    /// Three hours of evening, three before dawn, the night between.
    #[test]
    fn parts_of_the_night() {
        let found = intervals(&cycle(12.0, 12.0), Some(PeakTime::Night), WaterStatus::Watered);
        let parts: Vec<_> = found
            .iter()
            .filter(|i| i.phase == Phase::PhaseI && i.end <= 24 * 3600)
            .map(|i| (i.part, i.end / 3600, i.codes & Code::MeasuredPeak.bit() != 0))
            .collect();
        assert_eq!(
            parts,
            [
                (Some(PeakTime::Evening), 15, false),
                (Some(PeakTime::Night), 21, true),
                (Some(PeakTime::PreDawn), 24, false)
            ]
        );
    }

    #[test]
    fn light_or_dark_of_more_than_a_day_has_no_openings() {
        assert!(intervals(&cycle(6.0, 30.0), None, WaterStatus::Drought).is_empty());
        let endless = intervals(&cycle(30.0, 6.0), None, WaterStatus::Watered);
        assert!(endless.iter().all(|i| i.phase == Phase::PhaseI));
    }
}
