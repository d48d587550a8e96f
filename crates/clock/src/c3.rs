//! Openings of a C3 leaf: the light, less the time it takes to open.

use crate::light::DAY_SECONDS;
use crate::piece::{Piece, Range, minutes, push_clipped};
use crate::{Code, LightHours, PeakTime, Phase, WaterStatus};
use guardcell_reference::parameters::clock as p;

/// The candidate openings in the window, before the air narrows them.
pub(crate) fn pieces(light: &LightHours, peak: Option<PeakTime>, water: WaterStatus) -> Vec<Piece> {
    let mut out = Vec::new();
    let (water_factor, water_codes) = match water {
        WaterStatus::Watered => (1.0, 0),
        WaterStatus::Drought => (p::DRY_C3_FACTOR.value, Code::DryLowers.bit()),
        WaterStatus::SevereDrought => return out,
    };
    let peak =
        peak.filter(|p| matches!(p, PeakTime::Forenoon | PeakTime::Noon | PeakTime::Afternoon));
    let open = p::PROBABILITY_C3_LIGHT.value * water_factor;
    let codes = Code::C3LightOpen.bit() | water_codes;
    let piece = |start, end, part| {
        let (peak_factor, peak_code) = peak_of(peak, part);
        Piece {
            start,
            end,
            phase: Phase::DayOpen,
            part,
            open: open * peak_factor,
            either: false,
            codes: codes | peak_code,
            air: Range::EMPTY,
        }
    };
    for &(start, end) in &light.lit {
        let length = end - start;
        let opened = start + minutes(p::C3_OPENING_DELAY.value).min(length);
        if length > DAY_SECONDS {
            // light without end has no morning
            push_clipped(&mut out, light, piece(opened, end, None));
            continue;
        }
        let (a, b) = (start + length / 3, start + 2 * length / 3);
        for (from, to, part) in [
            (opened, a, PeakTime::Forenoon),
            (a.max(opened), b, PeakTime::Noon),
            (b.max(opened), end, PeakTime::Afternoon),
        ] {
            push_clipped(&mut out, light, piece(from, to, Some(part)));
        }
    }
    out
}

/// The factor and code of a part of the day, given where the widest opening was measured.
pub(crate) fn peak_of(peak: Option<PeakTime>, part: Option<PeakTime>) -> (f64, u64) {
    match (peak, part) {
        (None, _) | (_, None) => (1.0, 0),
        (Some(a), Some(b)) if a == b => (1.0, Code::MeasuredPeak.bit()),
        _ => (p::OFF_PEAK_FACTOR.value, Code::OffPeak.bit()),
    }
}
