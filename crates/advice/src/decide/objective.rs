//! The stated objective: what a dose in a window is worth.
//!
//! A window is worth the share of a full dose it gives (what goes beyond counts little), times the
//! probability that the stomata are open, times the weight of its place in practice (before dawn
//! for CAM, morning for C3), times the probability that no residue is seen (a little less for a
//! dose that takes two passes), times a factor for how much enters before the leaf is dry; less
//! the cost of a residue times its probability. A full dose is the same for every plant, so that
//! plants of different standing are judged on one scale. Nothing else counts.

use crate::dose::Dose;
use crate::timeline::ShareTakenUp;
use guardcell_reference::parameters::{film, practice as p};

/// The terms of the objective.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Terms {
    /// In full doses.
    pub(crate) dose: f64,
    /// 1 for one pass, a little less for two.
    pub(crate) walks: f64,
    /// Probability that the stomata are open.
    pub(crate) open: f64,
    /// Weight of the place of the opening in practice.
    pub(crate) place: f64,
    /// Factor for what enters before the leaf is dry, up to 1.
    pub(crate) uptake: f64,
    /// Probability of visible residue at the worst hour.
    pub(crate) residue: f64,
    /// What one visible residue costs, in full doses.
    pub(crate) residue_cost: f64,
}

impl Terms {
    /// The terms with those that a dose decides, from its residue at the worst hour and what enters
    /// of the most that can.
    pub(crate) fn given(self, dose: Dose, residue: f64, taken: f64) -> Self {
        Self {
            dose: in_full_doses(dose),
            walks: walks(dose),
            uptake: uptake(taken),
            residue,
            ..self
        }
    }

    pub(crate) fn worth(self) -> f64 {
        self.dose * self.walks * self.open * self.place * self.uptake * (1.0 - self.residue)
            - self.residue_cost * self.residue
    }
}

/// A dose in full doses: growth does not double with the dose, so what goes beyond a full one
/// counts little. Plain water counts as one, since only its time is to be chosen.
pub(crate) fn in_full_doses(dose: Dose) -> f64 {
    let doses = dose.amount() / p::STRENGTH_ESTABLISHED.mg_per_l();
    match dose.mg_l {
        x if x <= 0.0 => 1.0,
        _ if doses > 1.0 => 1.0 + p::DOUBLE_DOSE_BONUS.number() * (doses - 1.0),
        _ => doses,
    }
}

/// The factor for the passes: the leaves must dry in between and the grower walks twice.
pub(crate) fn walks(dose: Dose) -> f64 {
    if dose.passes > 1 { p::SECOND_PASS_WORTH.number() } else { 1.0 }
}

/// The factor for how much enters before the leaf is dry, from the share of the most that can.
pub(crate) fn uptake(of_the_most: f64) -> f64 {
    let weight = p::UPTAKE_WEIGHT.number();
    1.0 - weight + weight * of_the_most.clamp(0.0, 1.0)
}

/// What enters of the most that can, leaf and hanging roots together by what they hold; the minutes
/// for which the velamen stays wet are those of roots in the air, and none where it does not dry.
pub(crate) fn taken(leaf: ShareTakenUp, velamen_minutes: Option<Option<f64>>) -> f64 {
    let Some(minutes) = velamen_minutes else { return leaf.of_the_most };
    let roots = minutes.map_or(1.0, |m| (m / 60.0 / film::UPTAKE_HOURS.hours()).min(1.0));
    let weight = p::ROOT_SHARE_EXPOSED.number();
    (leaf.of_the_most + weight * roots) / (1.0 + weight)
}

/// What the place of an opening in practice weighs.
pub(crate) const fn place(rank: u8) -> f64 {
    match rank {
        1 => p::WORTH_FIRST_CHOICE.number(),
        2 => p::WORTH_SECOND_CHOICE.number(),
        3 => p::WORTH_THIRD_CHOICE.number(),
        _ => 0.0,
    }
}

/// Worths that the models cannot tell apart fall on the same step.
pub(crate) fn step(worth: f64) -> f64 {
    (worth / p::WORTH_STEP.number()).round()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn terms() -> Terms {
        Terms {
            dose: 1.0,
            walks: 1.0,
            open: 0.85,
            place: 1.0,
            uptake: 0.9,
            residue: 0.05,
            residue_cost: 2.0,
        }
    }

    // By hand: 1 × 1 × 0.85 × 1 × 0.9 × 0.95 − 2 × 0.05 = 0.72675 − 0.1
    #[test]
    fn each_term_by_hand() {
        let close = |t: Terms, worth: f64| assert!((t.worth() - worth).abs() < 1e-9, "{t:?}");
        close(terms(), 0.62675);
        close(Terms { dose: 0.5, ..terms() }, 0.36337_5 - 0.1);
        close(Terms { walks: 0.9, ..terms() }, 0.654_075 - 0.1);
        close(Terms { open: 0.6, ..terms() }, 0.513 - 0.1);
        close(Terms { place: 0.5, ..terms() }, 0.36337_5 - 0.1);
        close(Terms { uptake: 0.8, ..terms() }, 0.646 - 0.1);
        close(Terms { residue: 0.0, ..terms() }, 0.765);
        close(Terms { residue_cost: 4.0, ..terms() }, 0.72675 - 0.2);
    }

    // By hand: roots hold half as much as the leaves (data/practice.csv) and 12 h count
    // (data/film.csv): (0.4 + 0.5 × 3/12) / 1.5 = 0.35; wet for longer (0.4 + 0.5) / 1.5 = 0.6.
    #[test]
    fn leaf_and_roots_together() {
        let leaf =
            ShareTakenUp { dry_minutes: None, low: 0.0, likely: 0.0, high: 0.0, of_the_most: 0.4 };
        assert_eq!(taken(leaf, None), 0.4);
        assert!((taken(leaf, Some(Some(180.0))) - 0.35).abs() < 1e-12);
        assert!((taken(leaf, Some(Some(1000.0))) - 0.6).abs() < 1e-12);
        assert!((taken(leaf, Some(None)) - 0.6).abs() < 1e-12);
    }

    // By hand, from the numbers of data/practice.csv: 150 of 300 is half; 600 is 1 + 0.15 × 1;
    // 300 twice the same amount.
    #[test]
    fn doses_on_one_scale() {
        assert_eq!(in_full_doses(Dose::one_pass(150.0)), 0.5);
        assert_eq!(in_full_doses(Dose::one_pass(300.0)), 1.0);
        assert!((in_full_doses(Dose::one_pass(600.0)) - 1.15).abs() < 1e-12);
        assert!((in_full_doses(Dose { mg_l: 300.0, passes: 2 }) - 1.15).abs() < 1e-12);
        assert_eq!(in_full_doses(Dose::WATER), 1.0);
        assert_eq!(walks(Dose { mg_l: 300.0, passes: 2 }), 0.9);
        assert!((uptake(0.0) - 0.8).abs() < 1e-12 && (uptake(1.0) - 1.0).abs() < 1e-12);
        assert_eq!([place(1), place(2), place(3), place(4)], [1.0, 0.8, 0.5, 0.0]);
    }
}
