//! One plant in three questions: what did it get, is its strength right, what to change now.

use crate::entry::{Entry, Event, Level, Place};
use crate::error::JournalError;
use crate::ledger::{PlantLedger, PlantWeek};
use crate::moment::{self, Moment};
use crate::svg::three;
use crate::threshold::{
    NextStrength, NextStrengthRequest, ThresholdAnswer, ThresholdRequest, learn_threshold,
    observations, spread,
};
use guardcell::advice::{PlantEntry, Standing};
use guardcell::reference::parameters::{film, journal, practice};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Whether the feed strength is right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Finding {
    /// The chance of visible residue is within what is accepted, and little would be gained.
    Right,
    /// The chance of visible residue is above what is accepted.
    TooStrong,
    /// A higher strength would still be within what is accepted.
    RoomForMore,
    /// No round is recent enough, or none has a modelled residue.
    NotKnown,
}

/// What is usual for a plant now, from its last rounds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Usual {
    /// Rounds it is taken from.
    pub rounds: usize,
    /// Their feed strength (median), mg/L.
    pub feed_strength_mg_l: f64,
    /// Modelled residue for each mg/L of feed strength (median), g/m² per mg/L.
    pub residue_g_m2_per_mg_l: f64,
    /// Modelled scale of the water, weighed as whiteness (median), g/m².
    pub residue_without_feed_g_m2: f64,
    /// Log-normal uncertainty of a day (median).
    pub residue_log_sd: f64,
}

/// The review of one plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Review {
    /// What it got.
    pub ledger: PlantLedger,
    /// Looks for residue on its leaves in that time, by what was seen: none, faint, clear, heavy.
    pub looks: [usize; 4],
    /// The last look on its leaves, RFC 3339.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_look: Option<String>,
    /// What is usual for it now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub usual: Option<Usual>,
    /// The residue threshold that holds for it: of its group where there are reports enough, else
    /// of the site.
    pub threshold: ThresholdAnswer,
    /// Whether its strength is right.
    pub finding: Finding,
    /// That in words.
    pub strength_says: Vec<String>,
    /// What to change or do now, most important first; empty where there is nothing.
    pub change: Vec<String>,
}

/// Reviews one plant from the entries that stand, its ledger, and its row of the collection where
/// there is one.
///
/// # Errors
/// [`JournalError::Value`] for a time that cannot be read or a tolerance out of range.
///
/// ```
/// use guardcell_journal::{Finding, LedgerRequest, ledger, review};
/// let at = "2026-06-21T18:00:00Z";
/// let plants = serde_json::from_str(
///     r#"[{"id": "F1", "name": "Vanda", "area": "house", "setting": "basket",
///          "standing": "established"}]"#).unwrap();
/// let books = ledger(&[], &LedgerRequest { plants, from: None, at: at.into() }).unwrap();
/// let answer = review(&[], &books.plants[0], None, at, None).unwrap();
/// assert_eq!(answer.finding, Finding::NotKnown);
/// ```
pub fn review(
    entries: &[Entry],
    account: &PlantLedger,
    plant: Option<&PlantEntry>,
    at: &str,
    tolerance: Option<f64>,
) -> Result<Review, JournalError> {
    let now = Moment::parse("/at", at)?;
    let known: Vec<Entry> = entries
        .iter()
        .filter_map(|e| match Moment::parse("/at", &e.at) {
            Ok(when) if when.instant > now.instant => None,
            Ok(_) => Some(Ok(e.clone())),
            Err(e) => Some(Err(e)),
        })
        .collect::<Result<_, _>>()?;
    let usual = middle(&known, Some(&account.id), now)?;
    let (mut looks, mut last_look, mut group) = ([0; 4], None, None);
    let first = account.weeks.first().map(|w| moment::date("/from", &w.starts)).transpose()?;
    for e in &known {
        let Event::Residue(r) = &e.event else { continue };
        if r.place != Place::Leaf || !r.plants.contains(&account.id) {
            continue;
        }
        group = r.group.clone().or(group);
        let when = Moment::parse("/at", &e.at)?;
        if first.is_none_or(|f| when.date() >= f) {
            for (count, level) in looks.iter_mut().zip(Level::ALL) {
                *count += usize::from(r.level == *level);
            }
        }
        last_look = Some((e.at.clone(), when));
    }
    let threshold = threshold(&known, group, usual.as_ref(), plant, tolerance)?;
    let (finding, strength_says) = strength(usual.as_ref(), threshold.next.as_ref(), plant);
    let mut answer = Review {
        ledger: account.clone(),
        looks,
        last_look: last_look.as_ref().map(|(text, _)| text.clone()),
        usual,
        threshold,
        finding,
        strength_says,
        change: Vec::new(),
    };
    let unseen = last_look.is_none_or(|(_, when)| {
        let days = when.date().until(now.date()).map_or(0, |s| s.get_days());
        f64::from(days) > journal::LOOKS_WITHIN.value
    });
    answer.change = change(&answer, now, unseen);
    Ok(answer)
}

/// What is usual at a moment, for one plant or for all: the middle of the last rounds with feed and
/// a modelled residue.
///
/// # Errors
/// [`JournalError::Value`] for a time that cannot be read.
///
/// ```
/// assert!(guardcell_journal::usual(&[], None, "2026-06-21T18:00:00Z").unwrap().is_none());
/// ```
pub fn usual(
    entries: &[Entry],
    plant: Option<&str>,
    at: &str,
) -> Result<Option<Usual>, JournalError> {
    middle(entries, plant, Moment::parse("/at", at)?)
}

fn middle(
    entries: &[Entry],
    plant: Option<&str>,
    now: Moment,
) -> Result<Option<Usual>, JournalError> {
    let mut rounds = Vec::new();
    for e in entries {
        let Event::Round(r) = &e.event else { continue };
        let named = plant.is_none_or(|id| r.plants.iter().any(|p| p.plant == id));
        let when = Moment::parse("/at", &e.at)?;
        if r.feed_strength_mg_l <= 0.0 || !named || when.instant > now.instant {
            continue;
        }
        let days = when.date().until(now.date()).map_or(0, |s| s.get_days());
        let Some(c) = r.conditions.as_ref() else { continue };
        let Some(residue) = c.residue_g_m2 else { continue };
        if f64::from(days) <= journal::USUAL_WITHIN.value {
            rounds.push((when.instant, r.feed_strength_mg_l, residue, c));
        }
    }
    rounds.sort_by_key(|r| r.0);
    let skip = rounds.len().saturating_sub(journal::USUAL_ROUNDS.value as usize);
    let last: Vec<_> = rounds.into_iter().skip(skip).collect();
    if last.is_empty() {
        return Ok(None);
    }
    let scale = |s: Option<f64>| s.unwrap_or(0.0) * film::SCALE_VISIBILITY.value;
    Ok(Some(Usual {
        rounds: last.len(),
        feed_strength_mg_l: median(last.iter().map(|r| r.1)),
        residue_g_m2_per_mg_l: median(last.iter().map(|r| r.2 / r.1)).min(0.01),
        residue_without_feed_g_m2: median(last.iter().map(|r| scale(r.3.scale_g_m2))),
        residue_log_sd: median(last.iter().map(|r| {
            spread(r.3, r.2 + scale(r.3.scale_g_m2)).unwrap_or(journal::DAY_LOG_SD.value)
        })),
    }))
}

/// The lower of the two middle ones, so that a median is a value that was met.
fn median(values: impl Iterator<Item = f64>) -> f64 {
    let mut sorted: Vec<f64> = values.collect();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len().saturating_sub(1) / 2).copied().unwrap_or(0.0)
}

fn threshold(
    entries: &[Entry],
    group: Option<String>,
    usual: Option<&Usual>,
    plant: Option<&PlantEntry>,
    tolerance: Option<f64>,
) -> Result<ThresholdAnswer, JournalError> {
    let (observations, not_used) = observations(entries)?;
    let enough = |g: &String| {
        let reports = observations.iter().filter(|o| o.group.as_ref() == Some(g)).count();
        reports as f64 >= journal::GROUP_REPORTS_LEAST.value
    };
    let group = group.filter(enough);
    let next = usual.map(|u| NextStrengthRequest {
        residue_g_m2_per_mg_l: u.residue_g_m2_per_mg_l,
        residue_without_feed_g_m2: u.residue_without_feed_g_m2,
        residue_log_sd: Some(u.residue_log_sd),
        tolerance,
        cap_mg_l: Some(cap(u.feed_strength_mg_l, plant)),
        present_mg_l: Some(u.feed_strength_mg_l),
        odd_days: Some(false),
    });
    learn_threshold(&ThresholdRequest {
        observations,
        not_used,
        group,
        next,
        ..ThresholdRequest::default()
    })
}

/// The highest strength that practice gives a plant of this standing; without one, that of an
/// ordinary plant or the present one.
fn cap(present: f64, plant: Option<&PlantEntry>) -> f64 {
    match plant.map(|p| p.standing) {
        // More than the usual only in one pass and humid air: for those who have such rounds.
        Some(Standing::Established) if present > practice::STRENGTH_ESTABLISHED.value => {
            practice::STRENGTH_ESTABLISHED_HUMID_SINGLE_PASS.value
        }
        Some(Standing::Established) => practice::STRENGTH_ESTABLISHED.value,
        Some(Standing::Ordinary) => practice::STRENGTH_ORDINARY.value,
        Some(Standing::Seedling | Standing::Weak) => practice::STRENGTH_WEAK.value,
        Some(Standing::Rootless) => practice::STRENGTH_ROOTLESS.value,
        None => present.max(practice::STRENGTH_ORDINARY.value),
    }
}

fn strength(
    usual: Option<&Usual>,
    next: Option<&NextStrength>,
    plant: Option<&PlantEntry>,
) -> (Finding, Vec<String>) {
    let (Some(usual), Some(next)) = (usual, next) else {
        return (
            Finding::NotKnown,
            vec![format!(
                "Not known: no round of the last {} days has both a strength and a modelled \
                 residue. Rounds that are logged from a plan have them.",
                journal::USUAL_WITHIN.value
            )],
        );
    };
    let percent = |p: f64| {
        if p < 0.01 { "under 1 %".to_owned() } else { format!("{:.0} %", p * 100.0) }
    };
    let present = usual.feed_strength_mg_l;
    let chance = next.probability_at_present.unwrap_or(next.probability);
    let mut says = vec![format!(
        "The usual strength of the last {} is {present:.0} mg/L of dissolved feed; on a day \
         like theirs, if it turns out as modelled, it has a chance of visible residue of {}, and {} \
         is accepted.",
        if usual.rounds == 1 { "round".into() } else { format!("{} rounds", usual.rounds) },
        percent(chance),
        percent(next.tolerance)
    )];
    let step = journal::STRENGTH_STEP.value;
    let finding = match next.feed_strength_mg_l {
        None => {
            says.push(
                "Even the least useful strength is too likely to be seen on such a day: wait for \
                 damper air, or give plain water."
                    .into(),
            );
            Finding::TooStrong
        }
        Some(s) if chance > next.tolerance => {
            says.push(format!("Too strong for that day: {s:.0} mg/L would be within it."));
            Finding::TooStrong
        }
        Some(s) if s < present => {
            says.push(format!(
                "The residue allows it, but practice gives {} at most {s:.0} mg/L.",
                plant.map_or("such plants".to_owned(), |p| format!("{} plants", p.standing.word()))
            ));
            Finding::TooStrong
        }
        Some(s) if s > present * (1.0 + step) => {
            says.push(format!(
                "There is room: up to {s:.0} mg/L stays within it{}.",
                if next.capped { ", and practice gives such a plant no more" } else { "" }
            ));
            Finding::RoomForMore
        }
        Some(_) => {
            says.push("The strength is right.".into());
            Finding::Right
        }
    };
    (finding, says)
}

fn change(r: &Review, now: Moment, unseen: bool) -> Vec<String> {
    let account = &r.ledger;
    if let Some(lost) = &account.lost {
        return vec![format!("Nothing: it was logged as lost on {}.", day(lost))];
    }
    let mut out = Vec::new();
    let next = r.threshold.next.as_ref().and_then(|n| n.feed_strength_mg_l);
    match (r.finding, next) {
        (Finding::TooStrong, Some(s)) => out.push(format!("Feed at {s:.0} mg/L instead.")),
        (Finding::TooStrong, None) => {
            out.push("No feed through the leaf on such days; plain water, or damper air.".into());
        }
        (Finding::RoomForMore, Some(s)) => out.push(format!(
            "The strength may go up, in steps and with a look after each, to {s:.0} mg/L."
        )),
        _ => {}
    }
    let today = now.date().to_string();
    if let Some(due) = account.flush_due.as_ref().filter(|d| **d <= today) {
        out.push(format!("Flush the pot with plain water: due since {due}."));
    }
    if let Some(week) = account.weeks.last().filter(|w| over(w)) {
        out.push(format!(
            "No more feed this week: {} mg from leaf and root are over the ceiling of {} mg.",
            three(week.total_mg()),
            three(week.ceiling_mg.unwrap_or_default())
        ));
    }
    match (&account.next_due, account.days_since_fed) {
        (Some(due), Some(days)) if *due <= today => out.push(format!(
            "Feed again when the advice has a window: last fed {}.",
            match days {
                0 => "today".to_owned(),
                1 => "yesterday".to_owned(),
                n => format!("{n} days ago"),
            }
        )),
        (Some(due), _) => out.push(format!("No feed before {due}.")),
        (None, _) => {}
    }
    if unseen && account.last_fed.is_some() {
        out.push("Look for white residue once it is dry after the next round, and log it.".into());
    }
    out
}

fn over(week: &PlantWeek) -> bool {
    week.ceiling_mg.is_some_and(|c| week.total_mg() > c)
}

/// The day of an RFC 3339 time or of a date.
fn day(text: &str) -> &str {
    text.get(..10).unwrap_or(text)
}
