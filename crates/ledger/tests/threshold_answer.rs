//! What the answer says of the threshold: its interval, its curves, whether it is a least value,
//! and the sentences on the next strength.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test ends where it fails")]

use guardcell_ledger::threshold::words;
use guardcell_ledger::{
    Level, NextStrength, NextStrengthRequest, Observation, Prior, SprayedRound, StrengthReason,
    ThresholdRequest, UsualDay, learn_threshold,
};
use jiff::civil::{Date, date};

const NONE: Level = Level::None;

/// Every third day from 1 January on.
fn day(n: usize) -> String {
    let first: Date = date(2026, 1, 1);
    first.saturating_add(jiff::Span::new().days(3 * i64::try_from(n).unwrap())).to_string()
}

/// Looks three days apart at 0.0161 g/m², left by 300 mg/L.
fn looks(levels: &[Level]) -> ThresholdRequest {
    let each = |(n, level): (usize, &Level)| Observation {
        feed_g_m2: Some(0.0161),
        feed_strength_mg_l: Some(300.0),
        ..Observation::new(day(n), *level)
    };
    ThresholdRequest {
        observations: levels.iter().enumerate().map(each).collect(),
        ..ThresholdRequest::default()
    }
}

#[test]
fn the_interval_holds_the_share_asked_for_with_equal_tails() {
    // Quantiles of the standard normal distribution: 1.644854 at 0.95, 1.281552 at 0.9, 0.674490
    // at 0.75 (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1). Nothing was seen, so
    // the posterior is the prior. Shown where nothing is asked for: 0.9 (data/journal.csv).
    let prior = Prior { median_g_m2: 0.04, log_sd: 0.5 };
    for (share, z) in [(None, 1.644_854), (Some(0.8), 1.281_552), (Some(0.5), 0.674_490)] {
        let request = ThresholdRequest {
            prior: Some(prior),
            interval_share: share,
            ..ThresholdRequest::default()
        };
        let answer = learn_threshold(&request).unwrap();
        assert_eq!(answer.interval_share, share.unwrap_or(0.9));
        for e in [answer.prior, answer.posterior] {
            for (found, z) in [(e.low_g_m2, -z), (e.median_g_m2, 0.0), (e.high_g_m2, z)] {
                let expected = 0.04 * f64::exp(0.5 * z);
                assert!((found / expected - 1.0).abs() < 2e-3, "{share:?} {z}: {found} {expected}");
            }
            assert!((e.log_sd - 0.5).abs() < 1e-6);
        }
    }
}

#[test]
fn curves_are_the_densities_of_the_two_distributions() {
    let request = ThresholdRequest {
        prior: Some(Prior { median_g_m2: 0.04, log_sd: 0.5 }),
        ..looks(&[NONE, NONE, NONE, Level::Faint, NONE])
    };
    let answer = learn_threshold(&request).unwrap();
    // In the logarithm of the threshold each has the whole, its mean square and its middle.
    for (of, estimate) in [(0, answer.prior), (1, answer.posterior)] {
        let points: Vec<(f64, f64)> = answer
            .curve
            .iter()
            .map(|c| (c.threshold_g_m2.ln(), [c.prior_density, c.posterior_density][of]))
            .collect();
        let (mut whole, mut mean, mut square, mut below) = (0.0, 0.0, 0.0, 0.0);
        for pair in points.windows(2) {
            let ((x, a), (y, b)) = (pair[0], pair[1]);
            let (middle, mass) = (f64::midpoint(x, y), f64::midpoint(a, b) * (y - x));
            whole += mass;
            mean += mass * middle;
            square += mass * middle * middle;
            below += if middle < estimate.median_g_m2.ln() { mass } else { 0.0 };
        }
        assert!((whole - 1.0).abs() < 1e-4, "{whole}");
        assert!(((square - mean * mean).sqrt() / estimate.log_sd - 1.0).abs() < 0.01);
        assert!((below - 0.5).abs() < 0.04, "{below}");
    }
    // The normal density at its middle, 1/(σ√2π): 0.79788 for 0.5.
    let top = answer.curve.iter().map(|c| c.prior_density).fold(0.0, f64::max);
    assert!((top - 0.797_88).abs() < 1e-3, "{top}");
}

#[test]
fn it_is_at_least_so_high_where_the_last_ten_days_are_clean() {
    let at_least = |r: &ThresholdRequest| learn_threshold(r).unwrap().at_least;
    let after = |white: Level, clean: usize| {
        let levels: Vec<Level> = std::iter::once(white).chain(vec![NONE; clean]).collect();
        looks(&levels)
    };
    // Nobody looked: nothing is known.
    assert!(!at_least(&looks(&[])));
    assert!(at_least(&looks(&[NONE])));
    // usual_rounds of data/journal.csv: 10 days are looked back on.
    for white in [Level::Faint, Level::Clear, Level::Heavy] {
        assert!(!at_least(&after(white, 0)));
        assert!(!at_least(&after(white, 9)));
        assert!(at_least(&after(white, 10)));
    }
    // One white of two looks on the last day.
    let mut two = after(NONE, 3);
    two.observations.push(Observation { level: Level::Faint, ..two.observations[3].clone() });
    assert!(!at_least(&two));
    // Rounds nobody looked at count as half a look and are none: ten of them do not push a white
    // out of the last ten looks, and alone they say nothing.
    let silent = |looks: ThresholdRequest| ThresholdRequest {
        rounds: (1..13)
            .map(|n| SprayedRound { feed_g_m2: Some(0.0161), ..SprayedRound::new(day(n), 300.0) })
            .collect(),
        logs_only_white: true,
        ..looks
    };
    for (request, looked) in
        [(looks(&[]), false), (after(Level::Faint, 0), false), (looks(&[NONE]), true)]
    {
        let request = silent(request);
        assert_eq!(learn_threshold(&request).unwrap().counted_as_clean, 12);
        assert_eq!(at_least(&request), looked);
    }
}

fn next(mut request: ThresholdRequest, cap_mg_l: f64) -> NextStrength {
    request.next = Some(NextStrengthRequest {
        usual_days: vec![UsualDay::new(0.0161 / 300.0)],
        cap_mg_l: Some(cap_mg_l),
        ..NextStrengthRequest::default()
    });
    learn_threshold(&request).unwrap().next.unwrap()
}

#[test]
fn sentences_on_the_strength_hold_its_numbers() {
    // What the reports or practice decide: the chance, and what is accepted (0.1 where nothing is
    // stated, data/practice.csv).
    for (cap, reason) in [(100.0, StrengthReason::Cap), (10_000.0, StrengthReason::Reports)] {
        let next = next(looks(&[NONE; 4]), cap);
        assert_eq!(next.reason, reason);
        let chance = next.probability.unwrap();
        let expected =
            format!("({} chance of visible residue, 10 % is accepted)", words::percent(chance));
        let said = words::proposal(&next);
        assert!(said.contains(&expected), "{said}");
        assert!(said.starts_with(&format!("Next: {} mg/L. ", next.proposed_mg_l.unwrap())));
    }
    // After white: three clean looks to a step (guard_clean_looks of data/journal.csv).
    for (clean, left) in
        [(0, "3 more clean looks"), (1, "2 more clean looks"), (2, "1 more clean look")]
    {
        let levels: Vec<Level> =
            vec![NONE; 8].into_iter().chain([Level::Clear]).chain(vec![NONE; clean]).collect();
        let next = next(looks(&levels), 300.0);
        assert_eq!(next.reason, StrengthReason::Guard);
        let said = words::proposal(&next);
        let expected = format!("White was seen on {} at 300 mg/L", day(8));
        assert!(said.starts_with("Next: 150 mg/L. ") && said.contains(&expected), "{said}");
        assert!(said.contains(&format!("{left} and it goes up a step")), "{said}");
    }
}
