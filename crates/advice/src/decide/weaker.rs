//! A window of a plant with a weaker dose than the one it could have, or with a strength that is
//! not sure: what a round needs to weigh.

use super::objective;
use super::search::Candidate;
use crate::dose::Dose;
use crate::practice::steps_below;
use crate::timeline::AreaTimeline;
use guardcell_error::Error;

/// The doses that a round may give where `most` is allowed, the strongest first: fewer passes and
/// weaker steps, never more.
pub(crate) fn doses_up_to(most: Dose) -> Vec<Dose> {
    if most.mg_l <= 0.0 {
        return vec![most];
    }
    let mut out = vec![most];
    if most.passes > 1 {
        out.push(Dose::one_pass(most.mg_l));
    }
    let weaker = steps_below(most.mg_l).into_iter().filter(|mg_l| *mg_l < most.mg_l);
    out.extend(weaker.map(Dose::one_pass));
    out
}

/// The window with a dose, whose strength is unsure by so much (the standard deviation of its
/// natural logarithm).
pub(crate) fn with_dose(
    window: &Candidate,
    dose: Dose,
    strength_log_sd: f64,
    timeline: &AreaTimeline<'_>,
) -> Result<Candidate, Error> {
    let mut out = window.clone();
    out.dose = dose;
    out.worst = timeline.outcome_of_unsure(window.steps.0, dose, strength_log_sd)?;
    out.worst_step = window.steps.0;
    for step in window.steps.0 + 1..window.steps.2 {
        let outcome = timeline.outcome_of_unsure(step, dose, strength_log_sd)?;
        if outcome.residue_probability > out.worst.residue_probability {
            (out.worst, out.worst_step) = (outcome, step);
        }
    }
    out.share = timeline.share_taken_up(window.steps.1, dose, Default::default())?;
    let taken = objective::taken(out.share, out.velamen_minutes);
    out.terms = out.terms.given(dose, out.worst.residue_probability, taken);
    out.worth = out.terms.worth();
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Fewer passes first, then the steps of data/practice.csv: 300, 150, 100, 50, 25 mg/L.
    #[test]
    fn a_round_may_give_less_and_never_more() {
        let doses = |mg_l, passes| -> Vec<(f64, u8)> {
            doses_up_to(Dose { mg_l, passes }).iter().map(|d| (d.mg_l, d.passes)).collect()
        };
        let steps = [(150.0, 1), (100.0, 1), (50.0, 1), (25.0, 1)];
        assert_eq!(doses(300.0, 2), [&[(300.0, 2), (300.0, 1)], &steps[..]].concat());
        assert_eq!(doses(600.0, 1), [&[(600.0, 1), (300.0, 1)], &steps[..]].concat());
        assert_eq!(doses(120.0, 1), [&[(120.0, 1)], &steps[1..]].concat());
        assert_eq!(doses(25.0, 1), [(25.0, 1)]);
        assert_eq!(doses(0.0, 1), [(0.0, 1)]);
    }
}
