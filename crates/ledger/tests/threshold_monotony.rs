//! A heavier look, latest or earlier, never raises what is allowed or proposed: exactly.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test ends where it fails")]

use guardcell_ledger::{
    Level, NextStrengthRequest, Observation, SprayedRound, ThresholdRequest, UsualDay,
    learn_threshold,
};
use jiff::civil::date;
use proptest::prelude::*;

/// One day of a record: days since the one before, strength, what a mg/L of it leaves, the
/// uncertainty of that, the levels seen (none where nobody looked), whether the product changes.
#[derive(Debug, Clone)]
struct Day {
    gap: i64,
    strength: f64,
    slope: f64,
    scale: f64,
    log_sd: f64,
    levels: Vec<Level>,
    group: bool,
    new_product: bool,
}

fn level() -> impl Strategy<Value = Level> {
    prop::sample::select(Level::ALL)
}

fn a_day() -> impl Strategy<Value = Day> {
    let levels = prop_oneof![
        2 => Just(vec![]),
        6 => level().prop_map(|l| vec![l]),
        1 => prop::collection::vec(level(), 2..5),
    ];
    (
        prop_oneof![Just(3_i64), 0..40_i64],
        prop::sample::select(vec![0.0, 25.0, 60.0, 100.0, 150.0, 210.0, 300.0, 600.0]),
        1e-5..2e-4,
        prop_oneof![3 => Just(0.0), 1 => 0.0..0.02],
        prop_oneof![Just(0.33), 0.05..1.5],
        levels,
        any::<bool>(),
        prop::bool::weighted(0.08),
    )
        .prop_map(|(gap, strength, slope, scale, log_sd, levels, group, new_product)| Day {
            gap,
            strength,
            slope,
            scale,
            log_sd,
            levels,
            group,
            new_product,
        })
}

fn request(days: &[Day], group: bool, logs_only_white: bool) -> ThresholdRequest {
    let mut at = date(2026, 1, 1);
    let (mut observations, mut rounds) = (Vec::new(), Vec::new());
    let mut product = 0;
    for d in days {
        at = at.saturating_add(jiff::Span::new().days(d.gap));
        product += usize::from(d.new_product);
        rounds.push(SprayedRound {
            feed_g_m2: Some(d.slope * d.strength),
            scale_g_m2: Some(d.scale),
            residue_log_sd: Some(d.log_sd),
            product: Some(format!("product {product}")),
            ..SprayedRound::new(at.to_string(), d.strength)
        });
        for level in &d.levels {
            observations.push(Observation {
                group: d.group.then(|| "dark".to_owned()),
                feed_g_m2: Some(d.slope * d.strength),
                scale_g_m2: Some(d.scale),
                residue_log_sd: Some(d.log_sd),
                feed_strength_mg_l: Some(d.strength),
                ..Observation::new(at.to_string(), *level)
            });
        }
    }
    let usual_days = days
        .iter()
        .rev()
        .take(10)
        .map(|d| UsualDay {
            residue_g_m2_per_mg_l: d.slope,
            residue_without_feed_g_m2: d.scale,
            residue_log_sd: Some(d.log_sd),
        })
        .collect();
    ThresholdRequest {
        observations,
        rounds,
        group: group.then(|| "dark".to_owned()),
        logs_only_white,
        next: Some(NextStrengthRequest {
            usual_days,
            cap_mg_l: Some(600.0),
            ..NextStrengthRequest::default()
        }),
        ..ThresholdRequest::default()
    }
}

fn strengths(r: &ThresholdRequest) -> (f64, f64, f64) {
    let answer = learn_threshold(r).unwrap();
    let next = answer.next.unwrap();
    (
        next.allowed_mg_l.unwrap_or(0.0),
        next.proposed_mg_l.unwrap_or(0.0),
        answer.posterior.median_g_m2,
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn a_heavier_look_never_leads_to_a_stronger_feed(
        days in prop::collection::vec(a_day(), 1..40),
        group in any::<bool>(),
        logs_only_white in any::<bool>(),
    ) {
        let before = request(&days, group, logs_only_white);
        let (allowed, proposed, median) = strengths(&before);
        for i in 0..before.observations.len() {
            for heavier in Level::ALL.iter().filter(|l| **l > before.observations[i].level) {
                let mut after = before.clone();
                after.observations[i].level = *heavier;
                let (a, p, m) = strengths(&after);
                prop_assert!(a <= allowed, "look {i} {heavier:?}: allowed {allowed} -> {a}");
                prop_assert!(p <= proposed, "look {i} {heavier:?}: proposed {proposed} -> {p}");
                prop_assert!(m <= median * (1.0 + 1e-9), "look {i}: median {median} -> {m}");
            }
        }
    }

    #[test]
    fn a_higher_tolerance_or_cap_never_leads_to_a_weaker_feed(
        days in prop::collection::vec(a_day(), 1..30),
        low in 0.02..0.3_f64,
        more in 0.0..0.2_f64,
    ) {
        let mut r = request(&days, false, false);
        let mut at = |tolerance: f64, cap: f64| {
            let next = r.next.as_mut().unwrap();
            (next.tolerance, next.cap_mg_l) = (Some(tolerance), Some(cap));
            strengths(&r).1
        };
        prop_assert!(at(low, 300.0) <= at(low + more, 300.0));
        prop_assert!(at(low, 150.0) <= at(low, 300.0));
    }

    #[test]
    fn order_and_splitting_of_a_record_change_nothing(
        days in prop::collection::vec(a_day(), 1..30),
        turn in 0..30_usize,
    ) {
        let r = request(&days, false, false);
        let mut turned = r.clone();
        let looks = turned.observations.len();
        turned.observations.rotate_left(turn.checked_rem(looks).unwrap_or(0));
        turned.rounds.reverse();
        // Rounds of one day in another order may name another last product.
        turned.rounds.sort_by(|a, b| a.day.cmp(&b.day));
        let same_day = r.rounds.windows(2).any(|w| w[0].day == w[1].day);
        if !same_day {
            let ((a, p, m), (ta, tp, tm)) = (strengths(&r), strengths(&turned));
            prop_assert_eq!((a, p), (ta, tp));
            prop_assert!((m / tm - 1.0).abs() < 1e-9);
        }
    }
}
