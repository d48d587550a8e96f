//! A rescue as planned and as done: which soaks were logged, what was seen, when to look or stop.

use crate::entry::{Entry, Event, Growth, Measure, Sign};
use crate::moment::Moment;
use crate::standing::standing;
use guardcell_advice::{Reason, ReasonCode, Soak as Planned};
use guardcell_call::{Bound, Bounded as _, bounds};
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::{journal, practice};
use serde::{Deserialize, Serialize};

/// A request for the adherence to a plan of soaks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct AdherenceRequest {
    /// What was done and seen, in any order; at most 100,000.
    pub entries: Vec<Entry>,
    /// The grower's identifier of the plant.
    pub plant: String,
    /// The planned soaks, as the plan gives them.
    pub soaks: Vec<Planned>,
    /// The moment it is drawn up for, RFC 3339 with offset; later entries are left out.
    pub at: String,
}

impl AdherenceRequest {
    /// What became of the planned soaks of a plant up to a moment, RFC 3339 with offset.
    #[must_use]
    pub fn new(
        entries: Vec<Entry>,
        plant: impl Into<String>,
        soaks: Vec<Planned>,
        at: impl Into<String>,
    ) -> Self {
        Self { entries, plant: plant.into(), soaks, at: at.into() }
    }
}

bounds! { AdherenceRequest {
    entries: Bound::items(0, 100_000),
    plant: Bound::text(1, 64),
    soaks: Bound::items(1, 10_000),
    at: Bound::text(1, 64),
} }

/// What became of a plan of soaks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Adherence {
    /// The plant.
    pub plant: String,
    /// The moment it was drawn up for, RFC 3339.
    pub at: String,
    /// Soaks planned up to now.
    pub planned: usize,
    /// Planned soaks that were logged.
    pub done: Vec<DoneSoak>,
    /// Planned soaks that were not.
    pub missed: Vec<Planned>,
    /// Days on which soaks were planned and none was logged.
    pub days_missed: usize,
    /// Soaks that were logged and belong to none of the plan.
    pub beside_the_plan: usize,
    /// Whole days since the first planned soak.
    pub days: i64,
    /// Signs of growth, or the end, that were logged since, in order of time.
    pub signs: Vec<SeenSign>,
    /// What that means, most important first.
    pub says: Vec<Reason>,
}

/// A planned soak that was logged.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DoneSoak {
    /// Its planned start, RFC 3339.
    pub planned: String,
    /// The entry.
    pub entry: String,
    /// When it was, RFC 3339.
    pub at: String,
}

/// A sign that was logged.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SeenSign {
    /// What was seen.
    pub sign: Sign,
    /// The entry.
    pub entry: String,
    /// When it was, RFC 3339.
    pub at: String,
}

/// Compares the entries with a plan of soaks.
///
/// # Errors
/// For a time that cannot be read, or a plan without soaks.
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::{AdherenceRequest, adherence};
/// let request: AdherenceRequest = serde_json::from_str(
///     r#"{"entries": [], "plant": "F015", "at": "2026-06-22T12:00:00+01:00", "soaks": [
///         {"start": "2026-06-21T06:00:00+01:00", "end": "2026-06-21T06:30:00+01:00"}]}"#,
/// ).unwrap();
/// let answer = adherence(&request).unwrap();
/// assert_eq!((answer.planned, answer.missed.len()), (1, 1));
/// assert!(answer.says.iter().any(|r| r.message.contains("no harm")));
/// ```
pub fn adherence(request: &AdherenceRequest) -> Result<Adherence, Error> {
    request.check_bounds()?;
    let at = Moment::parse("/at", &request.at)?;
    let mut plan = Vec::with_capacity(request.soaks.len());
    for (i, soak) in request.soaks.iter().enumerate() {
        let start = Moment::parse(&format!("/soaks/{i}/start"), &soak.start)?;
        let end = Moment::parse(&format!("/soaks/{i}/end"), &soak.end)?;
        plan.push((start, end, soak));
    }
    plan.sort_by_key(|(start, _, _)| start.instant);
    let Some((first, _, _)) = plan.first().copied() else {
        return Err(
            Error::new(Code::Missing, "there are none", "give the soaks of a plan").at("/soaks")
        );
    };
    let within = journal::SOAK_MATCHED_WITHIN.minutes();
    let minutes = |a: Moment, b: Moment| a.instant.duration_since(b.instant).as_secs_f64() / 60.0;
    let (mut logged, mut signs) = (Vec::new(), Vec::new());
    for t in standing(&request.entries, at)? {
        let (when, entry) = (t.when, t.entry);
        let named = entry.event.plants().contains(&request.plant.as_str());
        if !named || minutes(when, first) < -within {
            continue;
        }
        match &entry.event {
            Event::Soak(soak) => logged.push((when, entry, soak)),
            Event::Response(r) => signs.push((when, entry, r.sign)),
            Event::Growth(g) => signs.extend(sign_of(g).map(|sign| (when, entry, sign))),
            _ => {}
        }
    }
    let mut by: Vec<Option<usize>> = vec![None; plan.len()];
    let mut beside_the_plan = 0;
    for (number, (when, _, _)) in logged.iter().enumerate() {
        guardcell_call::checkpoint();
        let nearest = plan
            .iter()
            .zip(&mut by)
            .filter(|((start, _, _), taken)| {
                taken.is_none() && minutes(*when, *start).abs() <= within
            })
            .min_by(|((a, _, _), _), ((b, _, _), _)| {
                minutes(*when, *a).abs().total_cmp(&minutes(*when, *b).abs())
            });
        match nearest {
            Some((_, taken)) => *taken = Some(number),
            None => beside_the_plan += 1,
        }
    }
    let (mut done, mut missed) = (Vec::new(), Vec::new());
    let (mut days_done, mut days_planned) = (Vec::new(), Vec::new());
    for ((start, end, soak), number) in plan.iter().zip(&by) {
        if let Some((when, entry, _)) = number.and_then(|n| logged.get(n)) {
            days_done.push(start.date());
            days_planned.push(start.date());
            done.push(DoneSoak {
                planned: soak.start.clone(),
                entry: entry.id.clone(),
                at: when.rfc3339(),
            });
        } else if minutes(at, *end) >= within {
            // A soak that can still be made up for is not missed yet.
            days_planned.push(start.date());
            missed.push((*soak).clone());
        }
    }
    days_planned.dedup();
    let days_missed = days_planned.iter().filter(|d| !days_done.contains(d)).count();
    let days = i64::from(first.date().until(at.date()).map_or(0, |s| s.get_days()));
    let mut answer = Adherence {
        plant: request.plant.clone(),
        at: at.rfc3339(),
        planned: done.len() + missed.len(),
        done,
        missed,
        days_missed,
        beside_the_plan,
        days,
        signs: signs
            .iter()
            .map(|(when, entry, sign)| SeenSign {
                sign: *sign,
                entry: entry.id.clone(),
                at: when.rfc3339(),
            })
            .collect(),
        says: Vec::new(),
    };
    let longest = logged.iter().max_by(|a, b| a.2.duration_min.total_cmp(&b.2.duration_min));
    let strongest =
        logged.iter().max_by(|a, b| a.2.feed_strength_mg_l.total_cmp(&b.2.feed_strength_mg_l));
    answer.says.extend(outlook(&answer, first));
    answer.says.extend(kept(&answer));
    if let Some((when, _, soak)) =
        longest.filter(|s| s.2.duration_min > practice::SOAK_DURATION.minutes())
    {
        answer.says.push(
            Reason::new(
                ReasonCode::Rootless,
                format!(
                    "A soak of {} min was logged on {}: keep to {} min, the leaves must breathe.",
                    soak.duration_min,
                    when.date(),
                    practice::SOAK_DURATION.minutes()
                ),
            )
            .with("duration_min", soak.duration_min)
            .with_parameter(practice::SOAK_DURATION),
        );
    }
    if let Some((when, _, soak)) =
        strongest.filter(|s| s.2.feed_strength_mg_l > practice::STRENGTH_ROOTLESS.mg_per_l())
    {
        answer.says.push(
            Reason::new(
                ReasonCode::StrengthByStanding,
                format!(
                    "A soak at {} mg/L was logged on {}: {} mg/L is what a plant without roots gets.",
                    soak.feed_strength_mg_l,
                    when.date(),
                    practice::STRENGTH_ROOTLESS.mg_per_l()
                ),
            )
            .with("feed_strength_mg_l", soak.feed_strength_mg_l)
            .with_parameter(practice::STRENGTH_ROOTLESS),
        );
    }
    Ok(answer)
}

/// The sign that a count is.
fn sign_of(g: &Growth) -> Option<Sign> {
    match g.measure.filter(|_| g.value.is_some_and(|v| v > 0.0))? {
        Measure::NewRoot => Some(Sign::RootTip),
        Measure::NewLeaf | Measure::NewPseudobulb => Some(Sign::NewGrowth),
        Measure::Flower | Measure::LostLeaf | Measure::LeafLengthMm | Measure::WeightG => None,
    }
}

/// Whether the plan was kept to, and that it does not matter much.
fn kept(a: &Adherence) -> Option<Reason> {
    if a.planned == 0 {
        return None;
    }
    let says = if a.missed.is_empty() {
        format!("All {} soaks planned so far were logged.", a.planned)
    } else {
        let days = match a.days_missed {
            0 => String::new(),
            1 => ", one whole day among them".into(),
            n => format!(", {n} whole days among them"),
        };
        format!(
            "Of {} soaks planned so far {} were logged and {} missed{days}. A missed day does no \
             harm: go on with the next soak, do not make it longer.",
            a.planned,
            a.done.len(),
            a.missed.len()
        )
    };
    Some(
        Reason::new(ReasonCode::Rootless, says)
            .with("planned", a.planned)
            .with("done", a.done.len())
            .with("missed", a.missed.len())
            .with_parameter(practice::SOAKS_A_DAY),
    )
}

/// What the signs, or their absence, say about going on.
fn outlook(a: &Adherence, first: Moment) -> Option<Reason> {
    let (look, give_up) = (practice::RESCUE_LOOK_AFTER, practice::RESCUE_GIVE_UP_AFTER);
    let reason = |says: String| {
        Reason::new(ReasonCode::Rootless, says).with("days", a.days).with_parameter(look)
    };
    let last = |wanted: Sign| a.signs.iter().rev().find(|s| s.sign == wanted);
    let day = |s: &SeenSign| s.at.get(..10).unwrap_or(&s.at).to_owned();
    if let Some(lost) = last(Sign::Loss) {
        return Some(reason(format!(
            "It was logged as lost on {}: the plan is over. Burn or bin soft tissue, and clean the \
             vessel and the blade before the next plant.",
            day(lost)
        )));
    }
    if let Some(root) = last(Sign::RootTip) {
        return Some(reason(format!(
            "A root tip was logged on {}. Once roots are a few millimetres long, stop the soaks, \
             mount or pot the plant, and mist it as a weak plant.",
            day(root)
        )));
    }
    if let Some(growth) = last(Sign::NewGrowth) {
        return Some(reason(format!(
            "New growth was logged on {}: roots mostly follow from its base. Keep on, keep the \
             growth above the water, and look for root tips.",
            day(growth)
        )));
    }
    let days = a.days as f64;
    if days >= give_up.days() {
        return Some(
            reason(format!(
                "No root and no growth was logged in {} days: the soaks have not helped. Whether to \
                 go on is for the grower to say; somebody experienced who sees the plant knows more \
                 than a plan.",
                a.days
            ))
            .with_parameter(give_up),
        );
    }
    if days >= look.days() {
        return Some(reason(format!(
            "{} days have gone by and no sign was logged: look for green root tips or a swelling \
             eye, and log what you see. Firm and green is good enough to go on; soft or brown is \
             not, then stop, cut back to firm tissue, keep dry for some days and ask somebody \
             experienced.",
            a.days
        )));
    }
    let on = first.date().saturating_add(jiff::Span::new().days(look.days() as i64));
    Some(reason(format!(
        "Too early to tell: look for green root tips or a swelling eye from {on} on."
    )))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plan() -> Vec<Planned> {
        (21..=23)
            .flat_map(|d| {
                [6, 10].map(|h| Planned {
                    start: format!("2026-06-{d}T{h:02}:00:00+01:00"),
                    end: format!("2026-06-{d}T{h:02}:30:00+01:00"),
                    plain_water: false,
                })
            })
            .collect()
    }

    fn entry(id: &str, at: &str, event: &str) -> Entry {
        let draft: crate::Draft =
            serde_json::from_str(&format!(r#"{{"at": "{at}", "site": "F", "event": {event}}}"#))
                .unwrap();
        draft.checked(id, "2026-07-01T00:00:00Z").unwrap()
    }

    const SOAK: &str =
        r#"{"kind": "soak", "plants": ["P"], "feed_strength_mg_l": 50, "duration_min": 30}"#;

    fn ask(entries: &[Entry], at: &str) -> Adherence {
        let request = AdherenceRequest::new(entries.to_vec(), "P", plan(), at);
        adherence(&request).unwrap()
    }

    #[test]
    fn a_missed_day_is_counted_and_harmless() {
        let entries = [
            entry("a", "2026-06-21T06:20:00+01:00", SOAK),
            entry("b", "2026-06-21T09:10:00+01:00", SOAK),
            entry("c", "2026-06-23T06:00:00+01:00", SOAK),
            entry("d", "2026-06-23T20:00:00+01:00", SOAK),
        ];
        let a = ask(&entries, "2026-06-23T11:00:00+01:00");
        // The soak at ten of the 23rd can still be made up for.
        assert_eq!((a.planned, a.done.len(), a.missed.len(), a.days_missed), (5, 3, 2, 1));
        assert_eq!(a.done[1].entry, "b");
        assert!(a.says.iter().any(|r| r.message.contains("no harm")), "{:?}", a.says);
        let a = ask(&entries, "2026-06-24T11:00:00+01:00");
        assert_eq!((a.planned, a.missed.len(), a.beside_the_plan), (6, 3, 1));
    }

    #[test]
    fn signs_decide_before_days_do() {
        let says = |e: &[Entry], at| ask(e, at).says[0].message.clone();
        assert!(says(&[], "2026-06-22T00:00:00+01:00").contains("2026-07-12"));
        assert!(says(&[], "2026-07-20T00:00:00+01:00").contains("look for green root tips"));
        assert!(says(&[], "2026-12-30T00:00:00+01:00").contains("for the grower to say"));
        let root = r#"{"kind": "response", "plants": ["P"], "sign": "root_tip"}"#;
        let root = [entry("r", "2026-07-15T08:00:00+01:00", root)];
        assert!(says(&root, "2026-12-30T00:00:00+01:00").contains("2026-07-15"));
        // Two roots that were counted are a sign too; a look that found none is not.
        let counted = |n: u8| {
            let count = format!(
                r#"{{"kind": "growth", "plants": ["P"], "measure": "new_root", "value": {n}}}"#
            );
            says(&[entry("g", "2026-07-16T08:00:00+01:00", &count)], "2026-12-30T00:00:00+01:00")
        };
        assert!(counted(2).contains("2026-07-16") && !counted(0).contains("2026-07-16"));
        let long = SOAK.replace("30}", "45}").replace("50", "200");
        let long = [entry("l", "2026-06-21T06:00:00+01:00", &long)];
        let a = ask(&long, "2026-06-22T00:00:00+01:00");
        assert!(a.says.iter().any(|r| r.message.contains("breathe")));
        assert!(a.says.iter().any(|r| r.message.contains("200 mg/L")));
    }

    #[test]
    fn an_empty_plan_is_refused() {
        let request = AdherenceRequest::new(vec![], "P", vec![], "2026-06-22T00:00:00Z");
        assert!(adherence(&request).unwrap_err().to_string().starts_with("/soaks"));
    }
}
