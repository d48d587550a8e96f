//! The next feed strength: what the reports allow, and what is proposed.

use super::emission::{Emission, Emissions};
use super::grid::Grid;
use super::request::{NextStrengthRequest, UsualDay};
use super::response::{Guard, LookWanted, NextStrength, StrengthReason};
use super::timeline::{along, log_residue};
use guardcell_reference::parameters::{journal as p, practice};
use std::rc::Rc;

/// The chance of visible residue at any strength: over the threshold, the usual days, and days
/// that are far out, which are learned with and so are predicted with.
struct Chance<'a> {
    posterior: &'a Grid,
    days: Vec<(UsualDay, Rc<Emission>)>,
}

impl<'a> Chance<'a> {
    /// Nothing without a usual day.
    fn new(posterior: &'a Grid, days: &[UsualDay], emissions: &mut Emissions) -> Option<Self> {
        if days.is_empty() {
            return None;
        }
        let sd = |d: &UsualDay| d.residue_log_sd.unwrap_or(p::DAY_LOG_SD.number());
        Some(Self { posterior, days: days.iter().map(|d| (*d, emissions.of(sd(d)))).collect() })
    }

    fn at(&self, strength_mg_l: f64) -> f64 {
        let of_day = |(day, emission): &(UsualDay, Rc<Emission>)| -> f64 {
            let residue = day.residue_without_feed_g_m2 + day.residue_g_m2_per_mg_l * strength_mg_l;
            along(self.posterior, emission.white(), log_residue(residue))
                .zip(self.posterior.weights())
                .map(|(white, weight)| white * weight)
                .sum()
        };
        self.days.iter().map(of_day).sum::<f64>() / self.days.len() as f64
    }

    /// The highest strength of the grid, from the least useful one to the cap, within the
    /// tolerance.
    fn highest_within(&self, tolerance: f64, cap_mg_l: f64) -> Option<f64> {
        let grid = p::STRENGTH_GRID.mg_per_l();
        let least = (practice::STRENGTH_LEAST_USEFUL.mg_per_l() / grid).ceil() as u32;
        let mut high = (cap_mg_l / grid).floor() as u32;
        let mut low = least;
        if high < low || self.at(f64::from(low) * grid) > tolerance {
            return None;
        }
        // The chance rises with the strength: halve the interval.
        while low < high {
            let middle = low + (high - low).div_ceil(2);
            if self.at(f64::from(middle) * grid) <= tolerance {
                low = middle;
            } else {
                high = middle - 1;
            }
        }
        Some(f64::from(low) * grid)
    }
}

/// The one place where a strength is proposed. Numbers of the request must be in range.
pub(crate) fn next_strength(
    posterior: &Grid,
    guard: Option<Guard>,
    request: &NextStrengthRequest,
    look_wanted: Option<LookWanted>,
    emissions: &mut Emissions,
) -> NextStrength {
    let tolerance = request.tolerance.unwrap_or(practice::TOLERANCE.number());
    let cap = request.cap_mg_l.unwrap_or(practice::STRENGTH_ESTABLISHED.mg_per_l());
    let least = practice::STRENGTH_LEAST_USEFUL.mg_per_l();
    // Above the cap the rule lapses.
    let guard = guard.filter(|g| g.ceiling_mg_l <= cap);
    let chance = Chance::new(posterior, &request.usual_days, emissions);
    let allowed = chance.as_ref().and_then(|c| c.highest_within(tolerance, cap));
    let (proposed, reason) = match (&chance, allowed, &guard) {
        (Some(_), None, _) => (None, StrengthReason::ReportsPlainWater),
        (_, allowed, Some(g)) if g.ceiling_mg_l <= allowed.unwrap_or(cap) => {
            match on_grid(g.ceiling_mg_l) {
                s if s < least => (None, StrengthReason::GuardPlainWater),
                s => (Some(s), StrengthReason::Guard),
            }
        }
        (Some(_), Some(s), _) if s >= on_grid(cap) => (Some(s), StrengthReason::Cap),
        (Some(_), Some(s), _) => (Some(s), StrengthReason::Reports),
        (None, _, _) => (Some(on_grid(cap)), StrengthReason::NoUsualDay),
    };
    let at = |s: f64| chance.as_ref().map(|c| c.at(s));
    NextStrength {
        allowed_mg_l: allowed,
        proposed_mg_l: proposed,
        reason,
        guard,
        usual_days: u32::try_from(request.usual_days.len()).unwrap_or(u32::MAX),
        probability: at(proposed.unwrap_or(0.0)),
        probability_least_useful: at(least),
        probability_without_feed: at(0.0),
        probability_at_present: request.present_mg_l.and_then(at),
        tolerance,
        cap_mg_l: cap,
        look_wanted,
    }
}

/// Down to a strength that can be weighed.
fn on_grid(mg_l: f64) -> f64 {
    let grid = p::STRENGTH_GRID.mg_per_l();
    (mg_l / grid).floor() * grid
}
