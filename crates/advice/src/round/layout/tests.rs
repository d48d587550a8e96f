//! What a plan forgoes and where a sitting may go, on windows written down by hand.

use super::*;
use crate::decide::a_window;
use crate::dose::Dose;
use std::rc::Rc;

// bucket_keeps of data/practice.csv: 24 h, counted from the start of the first sitting.
#[test]
fn a_bucket_serves_the_sittings_that_are_over_in_its_time() {
    let pace = Pace { plant: 1.0, fill: 2.0 };
    let ground = Ground { units: &[], pace, mister_ml: 1000.0 };
    let sitting = |from: &str, minutes: f64| {
        let start: Timestamp = from.parse().unwrap();
        (Span { start, end: start + SignedDuration::from_hours(3) }, minutes)
    };
    let first = sitting("2026-06-21T04:00:00Z", 30.0);
    let evening = sitting("2026-06-21T18:00:00Z", 30.0);
    let next = |minutes| sitting("2026-06-22T03:30:00Z", minutes);
    let served = |list: &[(Span, f64)]| ground.served_by_one_bucket(list);
    assert_eq!(served(&[]), 0);
    assert_eq!(served(&[first]), 1);
    // Half an hour from 03:30 on is over just in time, a minute more is not.
    assert_eq!(served(&[first, evening, next(30.0)]), 3);
    assert_eq!(served(&[first, evening, next(31.0)]), 2);
    assert_eq!(served(&[first, next(40.0), evening]), 1);
    // One that itself takes longer than a bucket keeps is served for all that.
    assert_eq!(served(&[sitting("2026-06-21T04:00:00Z", 1500.0), evening]), 1);
}

/// A window of 22 June, worth so much.
fn choice(hours: (&str, &str), worth: f64) -> Choice {
    let t = |text: &str| format!("2026-06-22T{text}:00Z").parse::<Timestamp>().unwrap();
    let span = Span { start: t(hours.0), end: t(hours.1) };
    let mut window = a_window();
    (window.start, window.end, window.worth) = (span.start, span.end, worth);
    Choice { window, span }
}

fn unit(plants: usize, choices: Vec<Choice>) -> Unit {
    Unit {
        kind: 0,
        area: 0,
        plants: (0..plants).collect(),
        one_pass_ml: 12.0 * plants as f64,
        choices: choices.into(),
        over: Vec::new(),
    }
}

const MORNING: (&str, &str) = ("05:00", "08:00");
const NOON: (&str, &str) = ("11:00", "13:00");
const EVENING: (&str, &str) = ("18:00", "21:00");

#[test]
fn what_is_forgone_counts_for_every_plant() {
    let units = [
        unit(3, vec![choice(MORNING, 0.9), choice(EVENING, 0.5)]),
        unit(5, vec![choice(EVENING, 0.7), choice(NOON, 0.6)]),
    ];
    let pace = Pace { plant: 0.3, fill: 2.0 };
    let ground = Ground { units: &units, pace, mister_ml: 1000.0 };
    for (picks, lost) in
        [([0, 0], 0.0), ([1, 0], 3.0 * 0.4), ([0, 1], 5.0 * 0.1), ([1, 1], 3.0 * 0.4 + 5.0 * 0.1)]
    {
        let found = ground.cost(&picks).worth_lost;
        assert!((found - lost).abs() < 1e-9, "{picks:?}: {found} {lost}");
    }
}

#[test]
fn a_sitting_goes_to_the_best_windows_that_reach_into_another() {
    let units = [
        unit(1, vec![choice(MORNING, 0.9), choice(NOON, 0.8), choice(EVENING, 0.6)]),
        unit(4, vec![choice(EVENING, 0.7), choice(NOON, 0.3)]),
    ];
    let pace = Pace { plant: 0.3, fill: 2.0 };
    let ground = Ground { units: &units, pace, mister_ml: 1000.0 };
    let groups = ground.sittings(&[0, 0]);
    let served: Vec<&[usize]> = groups.iter().map(|g| g.units.as_slice()).collect();
    assert_eq!(served, [[0], [1]]);
    // The first is best served in the morning and at noon, where nobody else is: the evening.
    assert_eq!(ground.dissolved(0, &groups, &[0, 0]), Some(vec![2, 0]));
    // The other has no window in the morning.
    assert_eq!(ground.dissolved(1, &groups, &[0, 0]), None);
    // 0.3 of 0.9 is a third: more than the fifth that one may forgo (sitting_loss_small of
    // data/practice.csv). 0.1 of 0.9 is less.
    assert_eq!(ground.elsewhere(0, &groups, &[0, 0]), None);
    let near = [unit(1, vec![choice(MORNING, 0.9), choice(EVENING, 0.8)]), units[1].copy()];
    let ground = Ground { units: &near, ..ground };
    assert_eq!(ground.elsewhere(0, &groups, &[0, 0]), Some(vec![1, 0]));
}

#[test]
fn a_strength_joins_a_weaker_one_and_never_plain_water() {
    let dosed = |mg_l, worth| {
        let mut choice = choice(MORNING, worth);
        choice.window.dose = Dose::one_pass(mg_l);
        choice
    };
    let units = [
        unit(2, vec![dosed(300.0, 0.9), dosed(150.0, 0.8), dosed(0.0, 0.7)]),
        unit(3, vec![dosed(150.0, 0.7), dosed(0.0, 0.6)]),
        unit(1, vec![dosed(0.0, 0.1)]),
    ];
    let pace = Pace { plant: 0.3, fill: 3.0 };
    let ground = Ground { units: &units, pace, mister_ml: 1000.0 };
    let picks = [0, 0, 0];
    let groups = ground.sittings(&picks);
    let classes = ground.classes(&groups[0], &picks);
    let [strong, weak, water] = &classes[..] else { panic!("{classes:?}") };
    assert_eq!((strong.mg_l, weak.mg_l, water.mg_l), (300.0, 150.0, 0.0));
    let joined = |a, b| ground.joined(a, b, groups[0].span, true, &picks);
    assert_eq!(joined(strong, weak), Some(vec![1, 0, 0]));
    assert_eq!(
        (joined(weak, strong), joined(strong, water), joined(weak, water)),
        (None, None, None)
    );
    // By hand: 5 minutes to set out, 3 for a fill, 2 for the area, 0.3 a plant, and 3 for each litre
    // of 6 × 12 mL (data/practice.csv).
    let rough = 5.0 + 3.0 + 2.0 + 6.0 * 0.3 + 0.072 * 3.0;
    assert!((groups[0].rough() - rough).abs() < 1e-9, "{}", groups[0].rough());
}

impl Unit {
    fn copy(&self) -> Self {
        Self { choices: Rc::clone(&self.choices), ..unit(self.plants.len(), Vec::new()) }
    }
}
