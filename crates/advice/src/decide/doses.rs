//! What of a plant decides, and the doses that practice and its pot allow it.

use crate::dose::Dose;
use crate::practice::{Allowance, steps_below};
use crate::request::Standing;
use crate::rule::Constraint;
use guardcell_reference::parameters::practice as p;
use jiff::Timestamp;

/// What of a plant decides on its windows and doses, besides its openings and its area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Subject {
    pub(crate) standing: Standing,
    /// Whether its roots hang in the air.
    pub(crate) exposed_roots: bool,
    pub(crate) allowance: Allowance,
    /// When it is due, where that is after the start.
    pub(crate) not_before: Option<Timestamp>,
    /// What its pot may still get by the leaf in a week.
    pub(crate) weekly: Option<WeeklyRoom>,
    /// The highest strength that the journal proposes for the next round, mg/L.
    pub(crate) learned_mg_l: Option<f64>,
    /// The strength that left white, mg/L, where that is why.
    pub(crate) white_at_mg_l: Option<f64>,
    /// Whether the turn is one of plain water.
    pub(crate) water_turn: bool,
}

/// The room under the weekly ceiling of a pot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct WeeklyRoom {
    pub(crate) ceiling_mg: f64,
    pub(crate) root_mg: f64,
    /// Litres of feed that stay on the plant in a pass.
    pub(crate) kept_l: f64,
    /// Rounds a week.
    pub(crate) rounds: f64,
}

impl WeeklyRoom {
    /// The highest strength times passes that stays under the ceiling, mg/L.
    pub(crate) fn most_mg_l(self) -> f64 {
        (self.ceiling_mg - self.root_mg).max(0.0) / (self.kept_l * self.rounds)
    }
}

impl Subject {
    /// The doses to try, strongest first, plain water left aside.
    pub(crate) fn doses(&self) -> Vec<Dose> {
        if self.water_turn {
            return Vec::new();
        }
        let mut doses = self.doses_of_practice();
        let learned = self.learned_mg_l.unwrap_or(f64::INFINITY);
        if let Some(learned) = self.learned_mg_l
            && (p::STRENGTH_LEAST_USEFUL.mg_per_l()..self.allowance.strength.mg_per_l())
                .contains(&learned)
            && !doses.iter().any(|d| d.mg_l == learned)
        {
            doses.push(Dose::one_pass(learned));
            doses.sort_by(|a, b| b.amount().total_cmp(&a.amount()));
        }
        let most = self.weekly.map_or(f64::INFINITY, WeeklyRoom::most_mg_l);
        doses.retain(|d| d.mg_l <= learned && d.amount() <= most);
        // Where the journal lowers the strength, a second pass would take it back.
        if learned < self.allowance.strength.mg_per_l() {
            doses.retain(|d| d.passes == 1);
        }
        doses
    }

    /// What practice allows, the pot and the journal left aside.
    fn doses_of_practice(&self) -> Vec<Dose> {
        let full = self.allowance.strength.mg_per_l();
        let mut doses: Vec<Dose> =
            self.allowance.humid_single_pass.iter().map(|s| Dose::one_pass(s.mg_per_l())).collect();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 or 2")]
        let passes = self.allowance.passes.number() as u8;
        for mg_l in steps_below(full) {
            // A second pass is for the full strength: below it, weaker feed is the remedy.
            let most = if mg_l >= full { passes } else { 1 };
            doses.extend((1..=most).rev().map(|passes| Dose { mg_l, passes }));
        }
        doses
    }

    /// The next stronger dose in one pass that practice allows in ordinary air.
    pub(crate) fn next_stronger(&self, dose: Dose) -> Option<Dose> {
        steps_below(self.allowance.strength.mg_per_l())
            .into_iter()
            .rfind(|mg_l| *mg_l > dose.mg_l)
            .map(Dose::one_pass)
    }

    /// Whether the journal or the pot rules a dose out.
    pub(crate) fn rules_out(&self, dose: Dose) -> Option<Constraint> {
        if self.learned_mg_l.is_some_and(|most| dose.mg_l > most) {
            return Some(Constraint::Learned);
        }
        self.weekly.is_some_and(|w| dose.amount() > w.most_mg_l()).then_some(Constraint::Weekly)
    }
}
