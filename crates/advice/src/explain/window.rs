//! Windows as they go over the wire, and what each costs against the best.

use crate::answer::{ModelledResidue, UptakeShare, Window};
use crate::counterfactual::Counterfactual;
use crate::decide::{Candidate, Decision};
use crate::moment::rfc3339;
use crate::timeline::{AreaTimeline, FilmOutcome};
use guardcell_clock::{Opening, Phase};
use guardcell_error::Error;
use guardcell_units::uom::si::ratio::ratio;

/// Windows listed for a plant.
const MOST_WINDOWS: usize = 5;

/// The best window and the best of each other opening, best first.
pub(super) fn ranked(
    found: &[Candidate],
    decision: &Decision,
    timeline: &AreaTimeline<'_>,
) -> Result<Vec<Window>, Error> {
    let Some(best) = found.first() else { return Ok(Vec::new()) };
    let mut seen = Vec::new();
    let mut out = Vec::new();
    for f in found {
        if seen.contains(&f.opening) {
            continue;
        }
        seen.push(f.opening);
        out.push(one(f, best, decision, timeline, Counterfactual::default())?);
        if out.len() == MOST_WINDOWS {
            break;
        }
    }
    Ok(out)
}

/// The window that a round plans for a plant, and what it costs against its best.
pub(crate) fn planned(
    window: &Candidate,
    decision: &Decision,
    timeline: &AreaTimeline<'_>,
) -> Result<Window, Error> {
    let best = decision.fed.first().or_else(|| decision.water.first()).unwrap_or(window);
    one(window, best, decision, timeline, Counterfactual::default())
}

pub(super) fn one(
    f: &Candidate,
    best: &Candidate,
    decision: &Decision,
    timeline: &AreaTimeline<'_>,
    change: Counterfactual,
) -> Result<Window, Error> {
    let openings = &decision.openings.list;
    let scale = timeline.scale_probability(f.worst_step, f.dose.passes, change)?;
    let residue = f.worst.residue_probability;
    let last = timeline.step_at(f.worst.driest_at).max(f.steps.2);
    let share = f.share;
    Ok(Window {
        start: rfc3339(&timeline.local(f.start)),
        end: rfc3339(&timeline.local(f.end)),
        phase: openings.get(f.opening).map_or(Phase::DayOpen, |o| o.phase),
        open_probability: three_digits(f.terms.open),
        feed_strength_mg_l: f.dose.mg_l,
        passes: f.dose.passes,
        residue_probability: three_digits(residue),
        // Both are interpolated; the part is never more than the whole.
        scale_probability: three_digits(scale.min(residue)),
        modelled: modelled(&f.worst),
        basis: timeline.basis(f.steps.0..last + 1),
        dry_minutes: share.dry_minutes.map(f64::round),
        uptake: UptakeShare {
            low: three_digits(share.low),
            likely: three_digits(share.likely),
            high: three_digits(share.high),
        },
        velamen_minutes: f.velamen_minutes.flatten().map(f64::round),
        driest_rh_percent: f.worst.driest.air.rh_percent.round(),
        driest_at: rfc3339(&timeline.local(f.worst.driest_at)),
        worth: three_digits(f.worth),
        costs: costs(f, best, openings),
    })
}

fn modelled(o: &FilmOutcome) -> ModelledResidue {
    let air = o.driest.air;
    ModelledResidue {
        feed_g_m2: four_decimals(o.feed_g_m2),
        scale_g_m2: four_decimals(o.scale_g_m2),
        feed_log_sd: o.feed_log_sd.map(three_digits),
        temp_c: air.temp_c,
        rh_percent: air.rh_percent,
        air_m_s: air.air_m_s,
    }
}

/// A tenth of a milligram on a square metre is far below what anybody sees.
fn four_decimals(v: f64) -> f64 {
    (v * 10_000.0).round() / 10_000.0
}

/// The models bear no more than three digits.
pub(crate) fn three_digits(v: f64) -> f64 {
    (v * 1000.0).round() / 1000.0
}

/// What is lost against the best window, in words; empty for the best.
fn costs(f: &Candidate, best: &Candidate, openings: &[Opening]) -> String {
    let mut parts = Vec::new();
    let (a, b) = (f.dose.amount(), best.dose.amount());
    if b > 0.0 && a < b {
        parts.push(format!("{:.0} % less feed", (1.0 - a / b) * 100.0));
    }
    if let (Some(o), Some(first)) = (openings.get(f.opening), openings.get(best.opening)) {
        let (here, there) = (o.probability.get::<ratio>(), first.probability.get::<ratio>());
        if here + 0.005 < there {
            parts.push(format!(
                "open with {:.0} % instead of {:.0} % probability",
                here * 100.0,
                there * 100.0
            ));
        }
        if o.preference.rank > first.preference.rank {
            let message = o.preference.code.message();
            parts.push(lower_first(message.trim_end_matches('.')));
        }
    }
    let (r, s) = (f.worst.residue_probability, best.worst.residue_probability);
    if r > s + 0.005 {
        parts.push(format!("residue {:.0} % instead of {:.0} %", r * 100.0, s * 100.0));
    }
    parts.join("; ")
}

/// Lower case for the first letter, unless it begins an abbreviation.
fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    let (first, second) = (chars.next(), chars.next());
    match first {
        Some(c) if !second.is_some_and(char::is_uppercase) => {
            c.to_lowercase().chain(text.chars().skip(1)).collect()
        }
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decide::a_window;
    use crate::dose::Dose;
    use guardcell_clock::{Code as ClockCode, Phase, Preference};
    use guardcell_units::quantity::Ratio;

    #[test]
    fn only_what_is_worse_than_the_best_is_a_cost() {
        let opening = |probability: f64, rank: u8| {
            let at = a_window().start.to_zoned_datetime(jiff::tz::TimeZone::UTC);
            Opening {
                start: at.clone(),
                end: at,
                phase: Phase::DayOpen,
                part: None,
                either_pathway: false,
                probability: Ratio::new::<ratio>(probability),
                preference: Preference { rank, code: ClockCode::C3MorningBest },
                reasons: Vec::new(),
            }
        };
        let openings = [opening(0.8, 2), opening(0.5, 2), opening(0.9, 1), opening(0.8, 3)];
        let window = |opening, mg_l: f64, residue| {
            let mut w = a_window();
            (w.opening, w.dose) = (opening, Dose::one_pass(mg_l));
            w.worst.residue_probability = residue;
            w
        };
        let best = window(0, 300.0, 0.04);
        let said = |w: &Candidate| costs(w, &best, &openings);
        assert_eq!(said(&best), "");
        // More feed, opener, liked better, less residue: nothing is lost.
        assert_eq!(said(&window(2, 600.0, 0.0)), "");
        assert_eq!(said(&window(0, 225.0, 0.04)), "25 % less feed");
        assert_eq!(said(&window(1, 300.0, 0.04)), "open with 50 % instead of 80 % probability");
        assert_eq!(said(&window(0, 300.0, 0.09)), "residue 9 % instead of 4 %");
        let liked = ClockCode::C3MorningBest.message();
        let less_liked = said(&window(3, 300.0, 0.04));
        assert!(!less_liked.is_empty(), "{liked}");
        assert_eq!(less_liked.to_lowercase(), liked.trim_end_matches('.').to_lowercase());
        assert_eq!(
            said(&window(1, 150.0, 0.06)),
            "50 % less feed; open with 50 % instead of 80 % probability; residue 6 % instead of 4 %"
        );
        // Water beside water.
        let water = window(0, 0.0, 0.0);
        assert_eq!(costs(&water, &water, &openings), "");
    }
}
