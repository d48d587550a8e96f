//! What a round may do with plants that are alike: every window of theirs with every dose up to
//! the one that the window allows them.

use super::span::Span;
use crate::answer::Verdict;
use crate::decide::{Candidate, doses_up_to, with_dose};
use crate::explain::Explained;
use crate::rule;
use crate::timeline::AreaTimeline;
use guardcell_error::Error;
use guardcell_reference::parameters::practice as p;
use jiff::SignedDuration;
use std::cmp::Ordering;

/// Choices kept for a kind of plant: more windows than a grower would ever weigh.
const MOST: usize = 32;

/// A window with a dose.
#[derive(Debug, Clone)]
pub(super) struct Choice {
    pub(super) window: Candidate,
    pub(super) span: Span,
}

impl Choice {
    pub(super) const fn worth(&self) -> f64 {
        self.window.worth
    }

    pub(super) fn amount(&self) -> f64 {
        self.window.dose.amount()
    }

    /// Strength and passes, as a key.
    pub(super) fn dose_key(&self) -> (u64, u8) {
        (self.window.dose.micrograms(), self.window.dose.passes)
    }

    /// Whether another choice is as good in every way.
    fn is_covered_by(&self, other: &Self) -> bool {
        self.dose_key() == other.dose_key()
            && other.span.start <= self.span.start
            && other.span.end >= self.span.end
            && other.worth() >= self.worth()
    }
}

/// Whether a window comes a day or more after the best: whoever is moved there misses a round.
fn passes_over_a_day(window: &Candidate, best: &Candidate) -> bool {
    window.start.duration_since(best.start) >= SignedDuration::from_hours(24)
}

/// Whether a window gives more than a better one gives at the same hours.
fn is_stronger_then(window: &Candidate, better: &Candidate) -> bool {
    better.opening == window.opening
        && better.start < window.end
        && window.start < better.end
        && window.dose.amount() > better.dose.amount()
}

/// The windows of the advice, best first.
pub(super) fn advised(explained: &Explained) -> &[Candidate] {
    match explained.verdict {
        Verdict::Feed => &explained.decision.fed,
        Verdict::WaterOnly => &explained.decision.water,
        Verdict::Wait | Verdict::Leave => &[],
    }
}

/// The choices of a kind of plant, the advised one first where it is still safe with such a strength, then by worth: none that is worth less
/// than the share of the practice table, none a day later, none that leaves residue beyond the tolerance with a
/// strength that is unsure by so much.
pub(super) fn of(
    explained: &Explained,
    strength_log_sd: f64,
    timeline: &AreaTimeline<'_>,
) -> Result<Vec<Choice>, Error> {
    let windows = advised(explained);
    let Some(best) = windows.first() else { return Ok(Vec::new()) };
    let least = best.worth * p::SITTING_WORTH_LEAST.number();
    let tolerance = timeline.inputs().tolerance;
    let mut out: Vec<Choice> = Vec::new();
    for (rank, candidate) in windows.iter().take(MOST).enumerate() {
        // The advice gives one dose at an hour, the best: a stronger one there is not for a plan.
        let better = windows.get(..rank).unwrap_or_default();
        if better.iter().any(|other| is_stronger_then(candidate, other)) {
            continue;
        }
        for dose in doses_up_to(candidate.dose) {
            let window = with_dose(candidate, dose, strength_log_sd, timeline)?;
            let span = Span { start: window.start, end: window.end };
            let choice = Choice { window, span };
            let safe = rule::accepts(choice.window.worst.residue_probability, tolerance)
                && !passes_over_a_day(&choice.window, best);
            let covered = out.iter().any(|other| choice.is_covered_by(other));
            if safe && choice.worth() >= least && !covered {
                out.push(choice);
            }
        }
    }
    if out.is_empty() {
        // Unsure as the strength is, the advised window stays: the answer says what it leaves.
        let window = with_dose(best, best.dose, strength_log_sd, timeline)?;
        out.push(Choice { span: Span { start: window.start, end: window.end }, window });
    }
    // The advised window stays in front; worths that are equal keep the order of the advice.
    let rest = out.get_mut(1..).unwrap_or_default();
    rest.sort_by(|a, b| b.worth().partial_cmp(&a.worth()).unwrap_or(Ordering::Equal));
    out.truncate(MOST);
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decide::a_window;

    #[test]
    fn windows_are_held_against_better_ones_of_the_same_hours() {
        let minutes = |m: i64| SignedDuration::from_mins(m);
        let best = a_window();
        // From `from` to `to` minutes after the start of the best, with another dose.
        let other = |from: i64, to: i64, mg_l: f64, passes: u8| {
            let mut w = best.clone();
            (w.start, w.end) = (best.start + minutes(from), best.start + minutes(to));
            w.dose.mg_l = mg_l;
            w.dose.passes = passes;
            w
        };
        let better = other(0, 60, 150.0, 1);
        for (window, stronger) in [
            (other(0, 60, 300.0, 1), true),
            (other(30, 90, 300.0, 1), true),
            (other(-30, 30, 300.0, 1), true),
            (other(-30, 90, 100.0, 2), true),
            // As much or less, or not at the same time.
            (other(0, 60, 150.0, 1), false),
            (other(0, 60, 75.0, 2), false),
            (other(0, 60, 100.0, 1), false),
            (other(60, 120, 300.0, 1), false),
            (other(-60, 0, 300.0, 1), false),
        ] {
            assert_eq!(is_stronger_then(&window, &better), stronger, "{window:?}");
            let elsewhere = Candidate { opening: better.opening + 1, ..window };
            assert!(!is_stronger_then(&elsewhere, &better));
        }
        assert!(passes_over_a_day(&other(1440, 1500, 150.0, 1), &better));
        assert!(!passes_over_a_day(&other(1439, 1500, 150.0, 1), &better));

        let choice = |from, to, mg_l, passes, worth| {
            let window = Candidate { worth, ..other(from, to, mg_l, passes) };
            Choice { span: Span { start: window.start, end: window.end }, window }
        };
        let one = choice(10, 50, 150.0, 1, 0.5);
        assert!(one.is_covered_by(&choice(10, 50, 150.0, 1, 0.5)));
        assert!(one.is_covered_by(&choice(0, 60, 150.0, 1, 0.6)));
        for worse in [
            choice(11, 60, 150.0, 1, 0.6),
            choice(0, 49, 150.0, 1, 0.6),
            choice(0, 60, 150.0, 1, 0.4),
            choice(0, 60, 100.0, 1, 0.6),
            choice(0, 60, 150.0, 2, 0.6),
        ] {
            assert!(!one.is_covered_by(&worse), "{worse:?}");
        }
    }
}
