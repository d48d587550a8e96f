//! The search for the plan: which window and which dose every unit gets, so that worth, waste,
//! fills, minutes and walk together cost least.
//!
//! It starts with everyone at their best, then tries to dissolve sittings, to merge strengths, and
//! to move single units, and keeps what costs less, until nothing does or the work allowed is done.
//! It is deterministic.

use super::layout::{Cost, Ground};

/// Steps of work allowed, counted in units looked at: well under a second.
const WORK_MOST: usize = 400_000;
/// Improvements smaller than this are none.
const LEAST_GAIN: f64 = 1e-9;

/// A plan sought.
struct Sought<'a> {
    ground: Ground<'a>,
    picks: Vec<usize>,
    cost: Cost,
    work: usize,
}

/// The choice picked for every unit.
pub(super) fn best_picks(ground: Ground<'_>) -> Vec<usize> {
    let picks = vec![0; ground.units.len()];
    let cost = ground.cost(&picks);
    let mut sought = Sought { ground, picks, cost, work: 0 };
    loop {
        let before = sought.cost.total();
        sought.dissolve();
        sought.merge();
        sought.move_units();
        if before - sought.cost.total() < LEAST_GAIN || sought.is_spent() {
            return sought.picks;
        }
    }
}

impl Sought<'_> {
    fn is_spent(&self) -> bool {
        self.work >= WORK_MOST
    }

    /// Takes other picks where they cost less.
    fn try_picks(&mut self, picks: Vec<usize>) -> bool {
        if self.is_spent() || picks == self.picks {
            return false;
        }
        guardcell_call::checkpoint();
        let cost = self.ground.cost(&picks);
        self.work += self.ground.units.len() + cost.fills;
        if self.cost.total() - cost.total() < LEAST_GAIN {
            return false;
        }
        self.picks = picks;
        self.cost = cost;
        true
    }

    /// Whole sittings into others, the smallest first.
    fn dissolve(&mut self) {
        let mut tried = 0;
        loop {
            let groups = self.ground.sittings(&self.picks);
            let mut order: Vec<usize> = (0..groups.len()).collect();
            order.sort_by_key(|i| (groups.get(*i).map_or(0, |g| self.ground.plants(&g.units)), *i));
            let Some(&i) = order.get(tried) else { return };
            let moved = self.ground.dissolved(i, &groups, &self.picks);
            if !moved.is_some_and(|picks| self.try_picks(picks)) {
                tried += 1;
            }
            if self.is_spent() {
                return;
            }
        }
    }

    /// Strengths into weaker ones of the same sitting.
    fn merge(&mut self) {
        'again: loop {
            for group in self.ground.sittings(&self.picks) {
                let classes = self.ground.classes(&group, &self.picks);
                for class in &classes {
                    for other in &classes {
                        let joined =
                            self.ground.joined(class, other, group.span, false, &self.picks);
                        if joined.is_some_and(|picks| self.try_picks(picks)) {
                            continue 'again;
                        }
                    }
                }
            }
            return;
        }
    }

    /// Single units to any other window and dose of theirs.
    fn move_units(&mut self) {
        for u in 0..self.ground.units.len() {
            let choices = self.ground.units.get(u).map_or(0, |unit| unit.choices.len());
            for choice in 0..choices {
                let mut picks = self.picks.clone();
                if let Some(pick) = picks.get_mut(u) {
                    *pick = choice;
                }
                self.try_picks(picks);
                if self.is_spent() {
                    return;
                }
            }
        }
    }
}
