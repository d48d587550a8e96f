//! What was not known of an area, and how far it moves the answer: the probability of visible
//! residue is worked out again at both ends of what is plausible.

use super::search::Candidate;
use crate::air::AirBasis;
use crate::inputs::MixWater;
use crate::timeline::{AreaTimeline, Variation};
use guardcell_error::Error;
use guardcell_film::AirWord;
use guardcell_reference::parameters::film;

/// What was not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum UnknownKind {
    /// At which residue the grower sees white.
    Threshold,
    /// How fast the air moves.
    AirSpeed,
    /// What the water holds.
    Water,
    /// What the feed is.
    Feed,
    /// The air of the following day, from a forecast.
    DayForecast,
    /// The air of the following day, assumed.
    DayAssumed,
    /// How far the hygrometer is off.
    Hygrometer,
}

/// Something not known, and how far the probability of visible residue moves with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct UnknownSpread {
    pub(crate) kind: UnknownKind,
    pub(crate) spread: f64,
    /// The spread of the air that was tried, in points of humidity; 0 for other things.
    pub(crate) points: f64,
}

/// What was not known of the best window.
pub(crate) fn of(
    timeline: &AreaTimeline<'_>,
    best: &Candidate,
) -> Result<Vec<UnknownSpread>, Error> {
    let request = timeline.inputs().request;
    let spread = |a: Variation, b: Variation| -> Result<f64, Error> {
        let a = timeline.varied(best.worst_step, best.dose, a)?;
        Ok((a - timeline.varied(best.worst_step, best.dose, b)?).abs())
    };
    let none = Variation::NONE;
    let humidity = |points: f64, as_read: bool| {
        let at = |humidity| Variation { humidity, as_read, ..none };
        spread(at(-points), at(points))
    };
    let mut out = Vec::new();
    let mut push = |kind, spread, points| out.push(UnknownSpread { kind, spread, points });
    if request.site.grower.residue_threshold_g_m2.is_none() {
        let at = |threshold_sds| Variation { threshold_sds, ..none };
        push(UnknownKind::Threshold, spread(at(-1.0), at(1.0))?, 0.0);
    }
    if timeline.air(best.steps.0)?.air.air_m_s.is_none() {
        let at = |word| Variation { moved: Some(word), ..none };
        push(UnknownKind::AirSpeed, spread(at(AirWord::Still), at(AirWord::Fan))?, 0.0);
    }
    if request.water.is_none() {
        let hard = Variation { water: MixWater::Hard, ..none };
        push(UnknownKind::Water, spread(none, hard)?, 0.0);
    }
    if request.feed.is_none() {
        push(UnknownKind::Feed, best.worst.residue_probability, 0.0);
    }
    let error = film::HUMIDITY_SD.percent();
    push(UnknownKind::Hygrometer, humidity(error, false)?, error);
    let sd = best.worst.driest.rh_sd;
    match best.worst.driest.basis {
        AirBasis::Reading => {}
        AirBasis::Forecast => push(UnknownKind::DayForecast, humidity(sd, true)?, sd),
        AirBasis::Assumed => push(UnknownKind::DayAssumed, humidity(sd, true)?, sd),
    }
    Ok(out)
}
