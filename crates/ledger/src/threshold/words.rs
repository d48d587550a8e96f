//! What a proposed strength says, in English. Every decision is made elsewhere: these functions
//! only put its data into words, so that the same answer reads the same everywhere.

use super::response::{
    Changed, Guard, LookWanted, NextStrength, StrengthReason, ThresholdResponse,
};

/// A probability in whole percent.
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::threshold::words::percent;
/// assert_eq!(percent(0.004), "under 1 %");
/// assert_eq!(percent(0.12), "12 %");
/// ```
#[must_use]
pub fn percent(probability: f64) -> String {
    if probability < 0.01 { "under 1 %".into() } else { format!("{:.0} %", probability * 100.0) }
}

/// The proposal in one or two sentences: the number, and why it is not higher.
#[must_use]
pub fn proposal(next: &NextStrength) -> String {
    let number = next
        .proposed_mg_l
        .map_or_else(|| "Next: plain water.".to_owned(), |s| format!("Next: {s:.0} mg/L."));
    format!("{number} {}", reason(next))
}

/// Why the proposal is what it is.
#[must_use]
pub fn reason(next: &NextStrength) -> String {
    let accepted = percent(next.tolerance);
    let allowed = match next.allowed_mg_l {
        Some(s) => format!(" The reports alone would allow {s:.0} mg/L."),
        None => String::new(),
    };
    match (next.reason, &next.guard) {
        (StrengthReason::Guard, Some(g)) => format!("{}{allowed}", after_white(g)),
        (StrengthReason::GuardPlainWater, Some(g)) => format!(
            "White was seen on {} at {:.0} mg/L, and half of that is not worth giving; {}.{allowed}",
            g.white_on,
            g.white_at_mg_l,
            clean(g)
        ),
        (StrengthReason::ReportsPlainWater, _) => {
            let least = next.probability_least_useful.map_or_else(String::new, |p| {
                format!(" has a {} chance of visible residue, and", percent(p))
            });
            format!(
                "On the usual days even the least useful strength{least} {accepted} is accepted."
            )
        }
        (StrengthReason::NoUsualDay, _) => {
            "No recent round has a modelled residue, so what the reports allow is not known; this \
             is what practice gives."
                .to_owned()
        }
        (StrengthReason::Cap, _) => format!(
            "Practice gives such plants no more; the reports allow it{}.",
            chance(next).map_or_else(String::new, |c| format!(" ({c}, {accepted} is accepted)"))
        ),
        _ => format!(
            "More would be seen too often on the usual days{}.",
            chance(next).map_or_else(String::new, |c| format!(" ({c}, {accepted} is accepted)"))
        ),
    }
}

fn chance(next: &NextStrength) -> Option<String> {
    next.probability.map(|p| format!("{} chance of visible residue", percent(p)))
}

fn after_white(g: &Guard) -> String {
    format!(
        "White was seen on {} at {:.0} mg/L: at most half of that until looks are clean again; {}.",
        g.white_on,
        g.white_at_mg_l,
        clean(g)
    )
}

fn clean(g: &Guard) -> String {
    let left = (g.clean_looks_needed - g.clean_looks).max(0.0).ceil();
    format!(
        "{left:.0} more clean {} and it goes up a step",
        if left == 1.0 { "look" } else { "looks" }
    )
}

/// The request for looks.
#[must_use]
pub fn look_wanted(wanted: &LookWanted) -> String {
    format!(
        "Of the last {} days with a round {} had a clean look: log \"none\" too, {} of them are \
         needed to trust a strength.",
        wanted.of_rounds, wanted.clean_looks, wanted.wanted
    )
}

/// What else the answer rests on: recorded changes and rounds counted as clean.
#[must_use]
pub fn remarks(answer: &ThresholdResponse) -> Vec<String> {
    let mut out = Vec::new();
    if let Some(change) = answer.changes.last() {
        out.push(format!(
            "Since {} there is another {} ({}): what was seen before counts less.",
            change.day,
            changed(change.what),
            change.to
        ));
    }
    if answer.counted_as_clean > 0 {
        out.push(format!(
            "{} rounds without a look count as half a clean look each, because only white is \
             logged.",
            answer.counted_as_clean
        ));
    }
    if let Some(wanted) = answer.next.as_ref().and_then(|n| n.look_wanted) {
        out.push(look_wanted(&wanted));
    }
    out
}

const fn changed(what: Changed) -> &'static str {
    match what {
        Changed::Product => "product",
        Changed::Water => "water",
        Changed::WettingAgent => "wetting agent",
        Changed::Sprayer => "sprayer",
    }
}
