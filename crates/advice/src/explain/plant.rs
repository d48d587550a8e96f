//! The answer for a plant.

use super::opening::{plant_opening, preference};
use super::window::three_digits;
use super::{change, near, obstacle, strength, unknown, window};
use crate::answer::{Change, PlantAdvice, PlantOpening, Verdict, WeeklyDose, Window};
use crate::decide::{Candidate, Decision, Obstacle};
use crate::moment::rfc3339;
use crate::plant::CheckedPlant;
use crate::reason::{Draft, Reason, Unknown};
use crate::reason_code::ReasonCode;
use crate::request::{Growth, Setting, Standing};
use crate::round::volume;
use crate::timeline::AreaTimeline;
use guardcell_clock::Opening;
use guardcell_error::Error;
use guardcell_reference::parameters::practice as p;
use jiff::SignedDuration;

/// A decision in words: what plants that are alike share.
#[derive(Debug)]
pub(crate) struct Explained {
    pub(crate) decision: Decision,
    pub(crate) verdict: Verdict,
    until: Option<String>,
    openings: Vec<PlantOpening>,
    windows: Vec<Window>,
    /// Reasons before and after those of the plant's name.
    first: Vec<Reason>,
    last: Vec<Reason>,
    near_limits: Vec<Reason>,
    unknowns: Vec<Unknown>,
    pub(crate) changes: Vec<Change>,
}

/// Puts a decision into words.
pub(crate) fn explained(
    decision: Decision,
    timeline: &AreaTimeline<'_>,
) -> Result<Explained, Error> {
    let openings = &decision.openings;
    let listed = openings.list.iter().filter(|o| o.start.timestamp() < timeline.end());
    let mut out = Explained {
        verdict: verdict(&decision),
        until: None,
        openings: listed.map(plant_opening).collect(),
        windows: Vec::new(),
        first: Vec::new(),
        last: Vec::new(),
        near_limits: near::reasons(&decision.near),
        unknowns: unknown::of_area(&decision.unknowns, timeline.area()),
        changes: change::all(&decision, timeline)?,
        decision,
    };
    let clock: Vec<Reason> = out.decision.openings.reasons.iter().map(Reason::from).collect();
    if out.verdict == Verdict::Feed {
        out.windows = window::ranked(&out.decision.fed, &out.decision, timeline)?;
        out.last = fed(&out.decision, clock, timeline)?;
    } else {
        if out.verdict == Verdict::WaterOnly {
            out.windows = window::ranked(&out.decision.water, &out.decision, timeline)?;
        }
        out.first = vec![obstacle::reason(&out.decision, timeline)?];
        out.first.extend(clock);
        out.until = change::until(&out.decision, timeline);
    }
    Ok(out)
}

fn verdict(decision: &Decision) -> Verdict {
    if !decision.fed.is_empty() {
        return Verdict::Feed;
    }
    let water_helps = matches!(
        decision.obstacle,
        Some(Obstacle::Residue | Obstacle::Weekly | Obstacle::Learned | Obstacle::WaterTurn)
    );
    if water_helps && !decision.water.is_empty() { Verdict::WaterOnly } else { Verdict::Wait }
}

/// Why a plant is fed as it is.
fn fed(
    decision: &Decision,
    clock: Vec<Reason>,
    timeline: &AreaTimeline<'_>,
) -> Result<Vec<Reason>, Error> {
    let Some(best) = decision.fed.first() else { return Ok(Vec::new()) };
    let mut out = of_hour(decision, best);
    out.extend(clock);
    out.extend(strength::reasons(decision, best, timeline.inputs().tolerance));
    out.extend(of_film(decision, best, timeline));
    Ok(out)
}

/// Why the hour of a window is a good or a poor one.
fn of_hour(decision: &Decision, window: &Candidate) -> Vec<Reason> {
    let Some(opening) = decision.openings.list.get(window.opening) else { return Vec::new() };
    let mut out = vec![preference(opening)];
    out.extend(opening.reasons.iter().map(Reason::from));
    out
}

/// What becomes of the film of a window.
fn of_film(decision: &Decision, window: &Candidate, timeline: &AreaTimeline<'_>) -> Vec<Reason> {
    let mut out =
        vec![strength::residue(window, timeline.inputs().tolerance), strength::drying(window)];
    out.extend(strength::velamen(window));
    if !decision.openings.leafless {
        out.push(Draft::new(ReasonCode::TimingInferred).done());
    }
    out
}

/// Why a window is planned as it is, when a round puts a plant there: the reasons of that hour and
/// of that dose, whatever the best would have been.
pub(crate) fn planned(
    shared: &Explained,
    window: &Candidate,
    timeline: &AreaTimeline<'_>,
) -> Vec<Reason> {
    let decision = &shared.decision;
    let mut out = of_hour(decision, window);
    out.extend(decision.openings.reasons.iter().map(Reason::from));
    if shared.verdict == Verdict::Feed {
        out.extend(strength::planned(decision, window, timeline.inputs().tolerance));
        out.extend(of_film(decision, window, timeline));
    } else {
        out.extend(shared.first.iter().take(1).cloned());
    }
    out
}

/// Whether the state of the plant itself rules a round out.
pub(crate) fn left_alone(plant: &CheckedPlant<'_>) -> Option<Reason> {
    if plant.entry.standing == Standing::Rootless {
        return Some(
            Draft::new(ReasonCode::Rootless)
                .with("feed_strength_mg_l", p::STRENGTH_ROOTLESS.mg_per_l())
                .with("soak_min", p::SOAK_DURATION.minutes())
                .with("soaks_a_day", p::SOAKS_A_DAY.number())
                .with_parameter(p::SOAK_DURATION)
                .done(),
        );
    }
    (plant.growth() == Growth::Resting)
        .then(|| Draft::new(ReasonCode::NotGrowing).source("common practice, no source").done())
}

/// The answer for a plant that is left alone.
pub(crate) fn alone(
    plant: &CheckedPlant<'_>,
    why: Reason,
    openings: &[Opening],
    timeline: &AreaTimeline<'_>,
) -> PlantAdvice {
    let mut advice = blank(plant);
    let listed = openings.iter().filter(|o| o.start.timestamp() < timeline.end());
    advice.openings = listed.map(plant_opening).collect();
    advice.reasons.push(why);
    advice.reasons.extend(plant.reasons.iter().cloned());
    advice
}

/// The answer for a plant from what plants alike share.
pub(crate) fn plant(
    plant: &CheckedPlant<'_>,
    shared: &Explained,
    timeline: &AreaTimeline<'_>,
) -> PlantAdvice {
    let mut advice = blank(plant);
    advice.verdict = shared.verdict;
    advice.until.clone_from(&shared.until);
    advice.openings.clone_from(&shared.openings);
    advice.windows.clone_from(&shared.windows);
    if let Some(best) = best(shared) {
        advice.feed_strength_mg_l = Some(best.dose.mg_l);
        advice.passes = best.dose.passes;
        advice.residue_probability = Some(three_digits(best.worst.residue_probability));
    }
    advice.reasons.extend(shared.first.iter().cloned());
    advice.reasons.extend(plant.reasons.iter().cloned());
    advice.reasons.extend(shared.last.iter().cloned());
    advice.near_limits.clone_from(&shared.near_limits);
    advice.changes.clone_from(&shared.changes);
    advice.unknowns.extend(shared.unknowns.iter().cloned());
    if plant.growth() == Growth::Unknown {
        advice.unknowns.push(unknown::growth());
    }
    advice.unknowns.sort_by(|a, b| b.spread.total_cmp(&a.spread));
    if plant.entry.setting == Setting::Potted {
        weekly(&mut advice, plant, timeline);
    }
    advice
}

/// The window that is advised.
fn best(shared: &Explained) -> Option<&Candidate> {
    match shared.verdict {
        Verdict::Feed => shared.decision.fed.first(),
        Verdict::WaterOnly => shared.decision.water.first(),
        Verdict::Wait | Verdict::Leave => None,
    }
}

fn blank(plant: &CheckedPlant<'_>) -> PlantAdvice {
    let entry = plant.entry;
    PlantAdvice {
        id: entry.id.clone(),
        name: entry.name.clone(),
        taken_for: plant.taken_for.clone(),
        area: entry.area.clone(),
        verdict: Verdict::Leave,
        pathway: plant.pathway,
        opens: plant.opens,
        until: None,
        openings: Vec::new(),
        windows: Vec::new(),
        feed_strength_mg_l: None,
        passes: 0,
        interval_days: plant.allowance.interval_days,
        due: plant.due().map(|t| rfc3339(&t)),
        residue_probability: None,
        weekly: None,
        reasons: Vec::new(),
        near_limits: Vec::new(),
        unknowns: plant.unknowns.clone(),
        changes: Vec::new(),
    }
}

/// What a pot gets in a week, against its ceiling, and when it is due for a flush.
fn weekly(advice: &mut PlantAdvice, plant: &CheckedPlant<'_>, timeline: &AreaTimeline<'_>) {
    let entry = plant.entry;
    let kept_l = volume::kept_ml(entry) / 1000.0;
    let rounds = 7.0 / advice.interval_days;
    let strength = advice.feed_strength_mg_l.unwrap_or(0.0);
    let leaf_mg = strength * kept_l * f64::from(advice.passes) * rounds;
    let root_mg = entry.root_feed_mg_week.unwrap_or(0.0);
    let ceiling_mg = entry.pot_l.map(|l| l * p::POT_WEEKLY_SALTS.mg_per_l());
    let flush_due = plant.last_flush.as_ref().and_then(|t| {
        let days = p::POT_FLUSH_INTERVAL.days();
        t.checked_add(SignedDuration::from_secs_f64(days * 86_400.0)).ok()
    });
    let said = advice.reasons.iter().any(|r| r.code == ReasonCode::WeeklyCeiling.as_str());
    if let Some(ceiling) = ceiling_mg
        && !said
    {
        advice.reasons.push(
            Draft::new(ReasonCode::WeeklyCeiling)
                .with("leaf_mg_week", leaf_mg.round())
                .with("root_mg_week", root_mg)
                .with("total_mg_week", (leaf_mg + root_mg).round())
                .with("ceiling_mg_week", ceiling)
                .with_parameter(p::POT_WEEKLY_SALTS)
                .variant(if root_mg > ceiling { "over" } else { "" }),
        );
    }
    if let Some(due) = &flush_due
        && due.timestamp() <= timeline.end()
    {
        advice.reasons.push(
            Draft::new(ReasonCode::FlushDue)
                .with("flush_due", due.date().to_string())
                .with_parameter(p::POT_FLUSH_INTERVAL)
                .done(),
        );
    }
    advice.weekly = Some(WeeklyDose {
        leaf_mg: leaf_mg.round(),
        root_mg: entry.root_feed_mg_week,
        ceiling_mg: ceiling_mg.map(f64::round),
        flush_due: flush_due.map(|t| t.date().to_string()),
    });
}
