//! Openings of a CAM leaf: the dark (phase I), a tail after dawn (II), late afternoon (IV).
//!
//! Dry air narrows them as it narrows those of a C3 leaf: night-time conductance of a CAM leaf
//! falls with dry air (Herppich 1997), though its carbon uptake need not, and in *Angraecum* drought
//! and temperature count for more than dryness of the air (Kluge et al. 1998, abstract).

use crate::c3::peak_of;
use crate::light::DAY_SECONDS;
use crate::piece::{Piece, Range, hours, minutes, push_clipped};
use crate::{Code, LightHours, PeakTime, Phase, WaterStatus};
use guardcell_reference::parameters::clock as p;

/// The candidate openings in the window, before the air narrows them.
pub(crate) fn pieces(light: &LightHours, peak: Option<PeakTime>, water: WaterStatus) -> Vec<Piece> {
    let mut out = Vec::new();
    if water == WaterStatus::SevereDrought {
        return out;
    }
    for &(start, end) in &light.dark {
        // a dark of more than a day leaves nothing to spend by day and nothing to refill at night
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
    out: &mut Vec<Piece>,
    light: &LightHours,
    (start, end): (i64, i64),
    peak: Option<PeakTime>,
    water: WaterStatus,
) {
    let peak =
        peak.filter(|p| matches!(p, PeakTime::Evening | PeakTime::Night | PeakTime::PreDawn));
    let (water_factor, water_codes) = if water == WaterStatus::Drought {
        (p::DRY_CAM_FACTOR.value, Code::DryLowers.bit() | Code::DryNoDayTails.bit())
    } else {
        (1.0, 0)
    };
    let length = end - start;
    // in a short night the parts share it evenly
    let opened = start + minutes(p::CAM_NIGHT_DELAY.value).min(length / 4);
    let evening = start + hours(p::CAM_EVENING_LENGTH.value).min(length / 3);
    let pre_dawn = end - hours(p::CAM_PRE_DAWN_LENGTH.value).min(length / 3);
    for (from, to, part) in [
        (opened, evening, PeakTime::Evening),
        (evening, pre_dawn, PeakTime::Night),
        (pre_dawn, end, PeakTime::PreDawn),
    ] {
        let (peak_factor, peak_code) = peak_of(peak, Some(part));
        push_clipped(
            out,
            light,
            Piece {
                start: from,
                end: to,
                phase: Phase::PhaseI,
                part: Some(part),
                open: p::PROBABILITY_CAM_NIGHT.value * water_factor * peak_factor,
                either: false,
                codes: Code::CamNightOpen.bit() | water_codes | peak_code,
                air: Range::EMPTY,
            },
        );
    }
}

fn tails(out: &mut Vec<Piece>, light: &LightHours, (start, end): (i64, i64)) {
    let length = end - start;
    if length > DAY_SECONDS {
        return; // no night before it or after it within the day
    }
    let share = |share: f64| (length as f64 * share) as i64;
    let two = hours(p::CAM_PHASE_II_LENGTH.value).min(share(p::CAM_PHASE_II_SHARE.value));
    let four = hours(p::CAM_PHASE_IV_LENGTH.value).min(share(p::CAM_PHASE_IV_SHARE.value));
    for (from, to, phase, part, open, code) in [
        (
            start,
            start + two,
            Phase::PhaseII,
            PeakTime::Forenoon,
            p::PROBABILITY_CAM_PHASE_II.value,
            Code::CamDawnTail,
        ),
        (
            end - four,
            end,
            Phase::PhaseIV,
            PeakTime::Afternoon,
            p::PROBABILITY_CAM_PHASE_IV.value,
            Code::CamLateAfternoon,
        ),
    ] {
        push_clipped(
            out,
            light,
            Piece {
                start: from,
                end: to,
                phase,
                part: Some(part),
                open,
                either: false,
                codes: code.bit(),
                air: Range::EMPTY,
            },
        );
    }
}
