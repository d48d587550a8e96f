//! What must hold at every step in any air that changes: more humid or stiller air leaves no more,
//! and what is on the leaf stays dissolved for no less.

use super::AreaTimeline;
use crate::counterfactual::{AirChange, Counterfactual};
use crate::dose::Dose;
use crate::trial::House;
use proptest::prelude::*;
use serde_json::json;

/// A daily course with a front: temperature in °C, humidity in %, speed in m/s.
#[derive(Debug, Clone)]
struct Weather {
    mean: (f64, f64, f64),
    swing: (f64, f64),
    front_h: i64,
    front: (f64, f64),
    label: bool,
}

fn weather() -> impl Strategy<Value = Weather> {
    (
        (12.0..28.0_f64, 25.0..98.0_f64, 0.05..2.0_f64),
        (0.0..8.0_f64, 0.0..35.0_f64),
        -10_i64..60,
        (-6.0..6.0_f64, -35.0..35.0_f64),
        any::<bool>(),
    )
        .prop_map(|(mean, swing, front_h, front, label)| Weather {
            mean,
            swing,
            front_h,
            front,
            label,
        })
}

impl Weather {
    fn house(&self, points: f64, slower: f64) -> House {
        let house = House::new("2026-06-21T12:00:00Z", 12, -6..=60, |h| {
            let phase = (h - 3) as f64 / 24.0 * std::f64::consts::TAU;
            let after = if h >= self.front_h { 1.0 } else { 0.0 };
            let temp = self.mean.0 + self.swing.0 / 2.0 * phase.cos() + after * self.front.0;
            let rh = self.mean.1 - self.swing.1 / 2.0 * phase.cos() + after * self.front.1;
            (temp, (rh + points).clamp(5.0, 100.0), self.mean.2 * slower)
        });
        if !self.label {
            return house;
        }
        house.with(
            "/feed",
            json!({"name": "Test 13-2-13",
                "derived_from": ["potassium nitrate", "calcium nitrate", "monopotassium phosphate"],
                "guaranteed": {"n_percent": 13, "p2o5_percent": 2, "k2o_percent": 13}}),
        )
    }
}

/// The probability of residue of some doses, the share taken up and the minutes until leaf and
/// velamen are dry, at steps over the time looked at.
fn film(line: &AreaTimeline<'_>) -> Vec<([f64; 3], f64, f64, f64)> {
    let none = Counterfactual::default();
    let doses = [Dose::one_pass(600.0), Dose { mg_l: 300.0, passes: 2 }, Dose::one_pass(100.0)];
    let minutes = |m: Option<f64>| m.unwrap_or(f64::INFINITY);
    (0..48)
        .step_by(7)
        .map(|step| {
            let share = line.share_taken_up(step, doses[0], none).unwrap();
            let velamen = line.velamen_minutes(step, AirChange::default()).unwrap();
            let residue = doses.map(|d| line.outcome(step, d, none).unwrap().residue_probability);
            (residue, share.likely, minutes(share.dry_minutes), minutes(velamen))
        })
        .collect()
}

/// Whether nothing is left that was not, and nothing dries sooner.
fn no_worse(now: &House, was: &House) -> Result<(), TestCaseError> {
    let (now, was) = (now.timeline(film), was.timeline(film));
    for (now, was) in now.iter().zip(&was) {
        for (a, b) in now.0.iter().zip(&was.0) {
            // Where air reaches saturation another step, of another temperature, may be the driest:
            // a thousandth either way.
            prop_assert!(*a <= b + 1e-3, "residue {:?} then {:?}", was, now);
        }
        prop_assert!(now.1 >= was.1 - 1e-9, "taken up {:?} then {:?}", was, now);
        prop_assert!(now.2 >= was.2 - 1e-6 && now.3 >= was.3 - 1e-6, "dry {was:?} then {now:?}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn more_humid_air_leaves_no_more_and_dries_no_sooner(
        w in weather(), points in 0.5..20.0_f64
    ) {
        no_worse(&w.house(points, 1.0), &w.house(0.0, 1.0))?;
    }

    #[test]
    fn stiller_air_leaves_no_more_and_dries_no_sooner(w in weather(), slower in 0.1..1.0_f64) {
        no_worse(&w.house(0.0, slower), &w.house(0.0, 1.0))?;
    }

    // A weaker dose, or one pass of two, leaves no more.
    #[test]
    fn less_leaves_no_more(w in weather(), step in 0_usize..48, mg_l in 25.0..600.0_f64) {
        w.house(0.0, 1.0).timeline(|line| {
            let residue = |mg_l, passes| {
                let dose = Dose { mg_l, passes };
                line.outcome(step, dose, Counterfactual::default()).unwrap().residue_probability
            };
            prop_assert!(residue(mg_l, 1) <= residue(mg_l * 1.2, 1) + 1e-6);
            prop_assert!(residue(mg_l, 1) <= residue(mg_l, 2) + 1e-6);
            Ok(())
        })?;
    }

    // The driest air of the day that follows, whatever the course, where what is not read counts as
    // drier by its spread.
    #[test]
    fn the_driest_step_is_the_driest(w in weather(), step in 0_usize..48) {
        w.house(0.0, 1.0).timeline(|line| {
            let at = line.driest_after(step);
            let rh = |s: usize| line.air(s).map(|a| a.air.rh_percent - a.rh_sd).unwrap();
            prop_assert!((step..step + 96).contains(&at));
            prop_assert!((step..step + 96).all(|s| rh(s) >= rh(at)));
            Ok(())
        })?;
    }
}
