//! Limits that lie within the error of the instruments: how near, and what lies beyond.

use super::search::{Candidate, Lowered, Obstacle, Search};
use crate::dose::Dose;
use crate::rule::{self, Constraint};
use crate::timeline::Variation;
use guardcell_clock::Code as ClockCode;
use guardcell_error::Error;
use guardcell_reference::parameters::{clock, film, practice as p};

/// Which limit, and on which side the answer lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NearKind {
    /// A little drier and the dose would be weaker, or none.
    Drier,
    /// A little damper and the dose would be stronger.
    Damper,
    /// A little more air movement and the dose would be weaker.
    Moves,
    /// A little less air movement and the dose could be stronger.
    Calmer,
    /// A little colder and nothing would be misted.
    Colder,
    /// A little colder night and the evening would be refused.
    CoolNight,
    /// A little warmer night and the evening would be allowed.
    WarmerNight,
}

/// A limit near the answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Near {
    pub(crate) kind: NearKind,
    /// What was read or assumed, in % (humidity), m/s (air) or °C.
    pub(crate) value: f64,
    /// Where the answer changes.
    pub(crate) at: f64,
    /// The strength beyond it, mg/L; `None` where nothing is fed beyond.
    pub(crate) beyond_mg_l: Option<f64>,
}

/// Halvings of the error of a hygrometer: to a sixteenth of it, a quarter of a point.
const HALVINGS: usize = 4;

/// The limits near the best window.
pub(crate) fn of(
    search: &Search<'_>,
    best: &Candidate,
    lowered: Option<&Lowered>,
) -> Result<Vec<Near>, Error> {
    let mut out = Vec::new();
    out.extend(drier(search, best)?);
    if let Some(lowered) = lowered
        && lowered.by == Constraint::Residue
    {
        out.extend(damper(search, best, Dose::one_pass(lowered.next_mg_l))?);
    }
    out.extend(single_pass(search, best)?);
    let coldest = coldest_c(search, best)?;
    let limit = p::FEED_TEMPERATURE_LEAST.celsius();
    if coldest - limit < p::THERMOMETER_ERROR.coefficient() {
        out.push(Near { kind: NearKind::Colder, value: coldest, at: limit, beyond_mg_l: None });
    }
    let evening = search.openings.get(best.opening).is_some_and(|o| {
        matches!(o.preference.code, ClockCode::CamDuskIfDry | ClockCode::CamDuskWarm)
    });
    if let Some(mean) = search.timeline.night_mean_c(best.start)
        && evening
        && mean - clock::COOL_NIGHT.celsius() < p::THERMOMETER_ERROR.coefficient()
    {
        let at = clock::COOL_NIGHT.celsius();
        out.push(Near { kind: NearKind::CoolNight, value: mean, at, beyond_mg_l: None });
    }
    Ok(out)
}

/// The limits near where nothing is fed.
pub(crate) fn of_nothing(search: &Search<'_>, obstacle: Option<Obstacle>) -> Vec<Near> {
    if obstacle != Some(Obstacle::Refused) {
        return Vec::new();
    }
    let at = clock::COOL_NIGHT.celsius();
    search
        .openings
        .iter()
        .filter(|o| o.preference.code == ClockCode::DuskNotInCoolRoom)
        .filter_map(|o| search.timeline.night_mean_c(o.start.timestamp()))
        .find(|mean| (0.0..p::THERMOMETER_ERROR.coefficient()).contains(&(at - mean)))
        .map(|value| Near { kind: NearKind::WarmerNight, value, at, beyond_mg_l: None })
        .into_iter()
        .collect()
}

/// Whether air a little drier would forbid the dose by its residue.
fn drier(search: &Search<'_>, best: &Candidate) -> Result<Option<Near>, Error> {
    let accepted = |points: f64| shifted(search, best, best.dose, -points);
    let Some(points) = first_where(film::HUMIDITY_SD.percent(), |x| Ok(!accepted(x)?))? else {
        return Ok(None);
    };
    let value = best.worst.driest.air.rh_percent;
    let weaker = search.subject.doses().into_iter().find(|d| d.mg_l < best.dose.mg_l);
    Ok(Some(Near {
        kind: NearKind::Drier,
        value,
        at: value - points,
        beyond_mg_l: weaker.map(|d| d.mg_l),
    }))
}

/// Whether air a little damper would allow the next stronger dose by its residue.
fn damper(search: &Search<'_>, best: &Candidate, next: Dose) -> Result<Option<Near>, Error> {
    let points = first_where(film::HUMIDITY_SD.percent(), |x| shifted(search, best, next, x))?;
    let value = best.worst.driest.air.rh_percent;
    Ok(points.map(|points| Near {
        kind: NearKind::Damper,
        value,
        at: value + points,
        beyond_mg_l: Some(next.mg_l),
    }))
}

/// Whether a dose is accepted in air shifted by so many points of humidity.
fn shifted(search: &Search<'_>, best: &Candidate, dose: Dose, points: f64) -> Result<bool, Error> {
    let vary = Variation { humidity: points, water: search.change.water(), ..Variation::NONE };
    let probability = search.timeline.varied(best.worst_step, dose, vary)?;
    Ok(rule::accepts(probability, search.tolerance()))
}

/// The smallest shift up to `most` from which a condition holds; `None` where it does not at
/// `most`, or does already without a shift.
fn first_where(
    most: f64,
    holds: impl Fn(f64) -> Result<bool, Error>,
) -> Result<Option<f64>, Error> {
    if !holds(most)? || holds(0.0)? {
        return Ok(None);
    }
    let (mut low, mut high) = (0.0, most);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if holds(middle)? {
            high = middle;
        } else {
            low = middle;
        }
    }
    Ok(Some(high))
}

/// The limits of the strength of humid air: humidity and air movement in the window itself.
fn single_pass(search: &Search<'_>, best: &Candidate) -> Result<Vec<Near>, Error> {
    let mut out = Vec::new();
    let Some(strong) = search.subject.allowance.humid_single_pass else { return Ok(out) };
    let full = search.subject.allowance.strength.mg_per_l();
    if search.subject.rules_out(Dose::one_pass(strong.mg_per_l())).is_some()
        || best.dose.mg_l < full
    {
        return Ok(out);
    }
    let (mut driest, mut fastest): (f64, f64) = (f64::INFINITY, 0.0);
    let mut known = true;
    for step in best.steps.0..best.steps.2 {
        let facts = search.facts(step)?;
        driest = driest.min(facts.rh_percent);
        fastest = fastest.max(facts.air_m_s.unwrap_or(f64::INFINITY));
        known &= facts.known_day;
    }
    let (rh, speed) = (p::HUMID_SINGLE_PASS_RH.percent(), p::HUMID_SINGLE_PASS_AIR_MOST.m_per_s());
    let within_speed = |a: f64, b: f64| a / b < 1.0 + film::AIR_SPEED_LOG_SD.number();
    let error = film::HUMIDITY_SD.percent();
    if best.dose.mg_l > full {
        let beyond_mg_l = Some(full);
        if driest - rh < error {
            out.push(Near { kind: NearKind::Drier, value: driest, at: rh, beyond_mg_l });
        }
        if within_speed(speed, fastest) {
            out.push(Near { kind: NearKind::Moves, value: fastest, at: speed, beyond_mg_l });
        }
    } else if known {
        let beyond_mg_l = Some(strong.mg_per_l());
        let (damp, calm) = (driest >= rh, fastest <= speed);
        if !damp && calm && rh - driest < error {
            out.push(Near { kind: NearKind::Damper, value: driest, at: rh, beyond_mg_l });
        }
        if damp && !calm && within_speed(fastest, speed) {
            out.push(Near { kind: NearKind::Calmer, value: fastest, at: speed, beyond_mg_l });
        }
    }
    Ok(out)
}

fn coldest_c(search: &Search<'_>, best: &Candidate) -> Result<f64, Error> {
    let mut coldest = f64::INFINITY;
    for step in best.steps.0..best.steps.2 {
        coldest = coldest.min(search.timeline.air(step)?.air.temp_c);
    }
    Ok(coldest)
}
