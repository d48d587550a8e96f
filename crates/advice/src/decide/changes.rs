//! What would make a window where there is none, found by searching again with one thing changed;
//! and until when to wait where nothing does.

use super::search::{Candidate, Horizon, Obstacle, Search};
use crate::counterfactual::{AirChange, Counterfactual};
use guardcell_error::Error;
use guardcell_reference::parameters::practice as p;
use jiff::Timestamp;
use jiff::civil::Date;

/// What would have to change, the cheapest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum ChangeKind {
    /// Wait until it is due.
    Due(Timestamp),
    /// Wait until the days are long enough again.
    Spring(Date),
    /// Wait for a window after the time looked at.
    Later,
    /// Give plain water now.
    PlainWater,
    /// Be there outside the working hours.
    AnyHour,
    /// Replace so many per cent of the water by rain.
    Rain(u8),
    /// Stop the fans until the leaves are dry.
    StillAir,
    /// Keep the humidity at so many per cent or more.
    Humidity(u8),
    /// Nothing in sight: ask again then.
    AskAgain(Timestamp),
}

/// A change and the window that it would make.
#[derive(Debug, Clone)]
pub(crate) struct Possible {
    pub(crate) kind: ChangeKind,
    pub(crate) change: Counterfactual,
    pub(crate) best: Option<Candidate>,
}

impl Possible {
    const fn until(kind: ChangeKind) -> Self {
        Self { kind, change: AS_IT_IS, best: None }
    }
}

const AS_IT_IS: Counterfactual = Counterfactual {
    any_hour: false,
    air: AirChange { still: false, humidity_least: 0 },
    rain_percent: 0,
};

/// The changes for a plant that is not fed, cheapest first; never none.
pub(crate) fn of(
    search: &Search<'_>,
    obstacle: Option<Obstacle>,
    water: &[Candidate],
) -> Result<Vec<Possible>, Error> {
    let mut out = Vec::new();
    let end = search.timeline.end();
    match (obstacle, search.subject.not_before) {
        (Some(Obstacle::NotDue), Some(due)) => {
            return Ok(vec![Possible::until(ChangeKind::Due(due))]);
        }
        (Some(Obstacle::DarkMonth), _) => {
            let spring = search.timeline.dark_months_end(search.timeline.start())?;
            out.extend(spring.map(|date| Possible::until(ChangeKind::Spring(date))));
        }
        _ => {}
    }
    let later = Search { horizon: Horizon::DayAfter, ..*search };
    out.extend(attempt(&later, ChangeKind::Later, AS_IT_IS)?);
    if let Some(best) = water.first() {
        let best = Some(best.clone());
        out.push(Possible { kind: ChangeKind::PlainWater, change: AS_IT_IS, best });
    }
    if obstacle.is_some() {
        out.extend(by_effort(search, obstacle)?);
    }
    if out.is_empty() {
        out.push(Possible::until(ChangeKind::AskAgain(end)));
    }
    out.sort_by_key(|c| c.kind);
    Ok(out)
}

/// Changes that cost the grower something.
fn by_effort(search: &Search<'_>, obstacle: Option<Obstacle>) -> Result<Vec<Possible>, Error> {
    let mut out = Vec::new();
    let grower = &search.timeline.inputs().request.site.grower;
    if !grower.working_hours.is_empty() {
        let any_hour = Counterfactual { any_hour: true, ..AS_IT_IS };
        out.extend(attempt(search, ChangeKind::AnyHour, any_hour)?);
    }
    let by_film = matches!(
        obstacle,
        Some(Obstacle::Residue | Obstacle::Scale | Obstacle::WetNight | Obstacle::NobodyThere)
    );
    if !by_film {
        return Ok(out);
    }
    let still = Counterfactual { air: AirChange { still: true, humidity_least: 0 }, ..AS_IT_IS };
    out.extend(attempt(search, ChangeKind::StillAir, still)?);
    if search.timeline.inputs().request.water.is_some() {
        out.extend(least_rain(search)?);
    }
    if matches!(obstacle, Some(Obstacle::Residue | Obstacle::Scale)) {
        out.extend(least_humidity(search)?);
    }
    Ok(out)
}

fn attempt(
    search: &Search<'_>,
    kind: ChangeKind,
    change: Counterfactual,
) -> Result<Option<Possible>, Error> {
    let found = Search { change, ..*search }.run()?;
    // A turn of plain water waits for water.
    let water = found.water.into_iter().next().filter(|_| search.subject.water_turn);
    let best = found.fed.into_iter().next().or(water);
    Ok(best.map(|best| Possible { kind, change, best: Some(best) }))
}

/// The least share of rain, in steps, with which there is a window: more rain never leaves more.
fn least_rain(search: &Search<'_>) -> Result<Option<Possible>, Error> {
    let with = |percent: u8| {
        let change = Counterfactual { rain_percent: percent, ..AS_IT_IS };
        attempt(search, ChangeKind::Rain(percent), change)
    };
    let Some(mut best) = with(100)? else { return Ok(None) };
    let step = percent(p::RAIN_SHARE_STEP.percent());
    // Steps of the share: `low` is known not to do, `high` is known to do.
    let (mut low, mut high) = (0, 100 / step);
    while high - low > 1 {
        let middle = u8::midpoint(low, high);
        match with(middle * step)? {
            Some(found) => {
                best = found;
                high = middle;
            }
            None => low = middle,
        }
    }
    Ok(Some(best))
}

/// The least humidity to keep, in steps, with which there is a window.
fn least_humidity(search: &Search<'_>) -> Result<Option<Possible>, Error> {
    let (step, most) =
        (percent(p::HUMIDITY_STEP.percent()), percent(p::HUMIDITY_KEPT_MOST.percent()));
    let mut least = percent(p::HUMIDITY_KEPT_LEAST.percent());
    while least <= most {
        let air = AirChange { still: false, humidity_least: least };
        let change = Counterfactual { air, ..AS_IT_IS };
        if let Some(found) = attempt(search, ChangeKind::Humidity(least), change)? {
            return Ok(Some(found));
        }
        least += step;
    }
    Ok(None)
}

/// A whole per cent of the practice table; at least 1.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 100")]
fn percent(value: f64) -> u8 {
    value.clamp(1.0, 100.0) as u8
}
