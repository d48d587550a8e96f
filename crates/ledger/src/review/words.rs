//! A review in words. Every decision is made elsewhere.

use super::answer::{Finding, PlantReview};
use crate::account::PlantWeek;
use crate::figure::three;
use crate::moment::Moment;
use crate::threshold::words;
use guardcell_reference::parameters::journal;

/// Whether the strength is right.
pub(super) fn strength(r: &PlantReview) -> Vec<String> {
    let mut says = Vec::new();
    match r.usual {
        Some(usual) => says.push(format!(
            "The usual strength of the last {} is {:.0} mg/L of dissolved feed.",
            match usual.rounds {
                1 => "round".to_owned(),
                n => format!("{n} rounds"),
            },
            usual.feed_strength_mg_l
        )),
        None => says.push(format!(
            "No round with feed was logged in the last {} days.",
            journal::USUAL_WITHIN.days()
        )),
    }
    match &r.next {
        Some(next) => says.push(words::proposal(next)),
        None => says.push(
            "Nobody has looked for white yet, so nothing is learned: the advice for the day \
             decides the strength."
                .to_owned(),
        ),
    }
    says
}

/// What to change or do now.
pub(super) fn change(r: &PlantReview, now: Moment, unseen: bool) -> Vec<String> {
    let account = &r.account;
    if let Some(lost) = &account.lost {
        return vec![format!("Nothing: it was logged as lost on {}.", day(lost))];
    }
    let mut out = Vec::new();
    match (r.finding, r.next.as_ref().and_then(|n| n.proposed_mg_l)) {
        (Finding::TooStrong, Some(s)) => out.push(format!("Feed at {s:.0} mg/L instead.")),
        (Finding::TooStrong, None) => out.push("Plain water instead of feed.".to_owned()),
        (Finding::RoomForMore, Some(s)) => out.push(format!(
            "The strength may go up to {s:.0} mg/L, with a look after the first round."
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
