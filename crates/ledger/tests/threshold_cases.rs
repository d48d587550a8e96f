//! Named records with the strength they must lead to.
//!
//! The expected numbers are those of a simulation study of this design, worked out by a program
//! of its own before this one was written: residue 0.0161 g/m² at 300 mg/L, every look at 300,
//! three days apart, within 10 mg/L.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test ends where it fails")]

use guardcell_ledger::{
    Level, NextStrength, NextStrengthRequest, Observation, Prior, SprayedRound, StrengthReason,
    ThresholdRequest, ThresholdResponse, UsualDay, learn_threshold,
};
use jiff::civil::{Date, date};

const RESIDUE: f64 = 0.0161;
const SLOPE: f64 = RESIDUE / 300.0;
const NONE: Level = Level::None;
/// The prior of the study: median 0.052 g/m², spread of growers 0.45 and of the median
/// ln(0.08/0.02)/4 = 0.347 together.
const STUDIED: Prior = Prior { median_g_m2: 0.052, log_sd: 0.568 };

fn day(n: usize) -> String {
    let first: Date = date(2026, 1, 1);
    first.saturating_add(jiff::Span::new().days(i64::try_from(n).unwrap())).to_string()
}

fn look(n: usize, level: Level, residue_g_m2: f64) -> Observation {
    Observation {
        feed_g_m2: Some(residue_g_m2),
        feed_strength_mg_l: Some(residue_g_m2 / SLOPE),
        ..Observation::new(day(n), level)
    }
}

fn round(n: usize) -> SprayedRound {
    SprayedRound { feed_g_m2: Some(RESIDUE), ..SprayedRound::new(day(n), 300.0) }
}

fn next() -> NextStrengthRequest {
    NextStrengthRequest {
        usual_days: vec![UsualDay::new(SLOPE); 10],
        tolerance: Some(0.1),
        cap_mg_l: Some(300.0),
        present_mg_l: Some(300.0),
    }
}

/// `clean` none-looks, then those given, all at 300 mg/L and three days apart.
fn record(clean: usize, then: &[Level]) -> ThresholdRequest {
    let levels: Vec<Level> = vec![NONE; clean].into_iter().chain(then.iter().copied()).collect();
    ThresholdRequest {
        observations: levels
            .iter()
            .enumerate()
            .map(|(i, level)| look(3 * i, *level, RESIDUE))
            .collect(),
        rounds: (0..levels.len()).map(|i| round(3 * i)).collect(),
        prior: Some(STUDIED),
        next: Some(next()),
        ..ThresholdRequest::default()
    }
}

fn ask(request: &ThresholdRequest) -> (ThresholdResponse, NextStrength) {
    let answer = learn_threshold(request).unwrap();
    let next = answer.next.clone().unwrap();
    (answer, next)
}

fn allowed(request: &ThresholdRequest) -> f64 {
    ask(request).1.allowed_mg_l.unwrap_or(0.0)
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 10.0, "{found} mg/L, expected {expected}");
}

#[test]
fn after_eight_clean_looks() {
    let (before, _) = ask(&record(8, &[]));
    assert!((before.posterior.median_g_m2 - 0.063).abs() < 0.0015, "{:?}", before.posterior);
    let (after, next) = ask(&record(8, &[Level::Clear]));
    assert!((after.posterior.median_g_m2 - 0.044).abs() < 0.0015, "{:?}", after.posterior);
    near(next.allowed_mg_l.unwrap(), 300.0);
    near(allowed(&record(8, &[Level::Clear; 2])), 215.0);
    for (level, three, six) in
        [(Level::Faint, 180.0, 140.0), (Level::Clear, 150.0, 75.0), (Level::Heavy, 145.0, 25.0)]
    {
        near(allowed(&record(8, &[level; 3])), three);
        near(allowed(&record(8, &[level; 6])), six);
    }
}

#[test]
fn after_thirty_clean_looks() {
    for (level, three) in [(Level::Faint, 195.0), (Level::Clear, 180.0), (Level::Heavy, 180.0)] {
        near(allowed(&record(30, &[level; 3])), three);
    }
}

#[test]
fn after_thirty_clean_looks_and_another_product() {
    for (whites, expected) in [(1, 115.0), (2, 75.0), (3, 65.0)] {
        let mut request = record(30, &vec![Level::Clear; whites]);
        for (i, r) in request.rounds.iter_mut().enumerate() {
            r.product = Some(if i < 30 { "Mist 15-5-15" } else { "Mist 20-10-20" }.into());
        }
        let (answer, next) = ask(&request);
        assert_eq!(answer.changes.len(), 1);
        assert_eq!(answer.changes[0].day, day(90));
        near(next.allowed_mg_l.unwrap(), expected);
    }
}

#[test]
fn a_rota_of_feeds_is_one_practice() {
    let mut request = record(30, &[Level::Clear]);
    for (i, r) in request.rounds.iter_mut().enumerate() {
        r.product = Some(["leaf", "leaf", "calcium"][i % 3].into());
    }
    // The first time the other feed comes, and never again.
    assert_eq!(ask(&request).0.changes.len(), 1);
}

#[test]
fn water_wetting_agent_and_sprayer_count_as_the_product_does() {
    let plain = allowed(&record(30, &[Level::Clear]));
    let sets: [fn(&mut SprayedRound, String); 4] = [
        |r, v| r.product = Some(v),
        |r, v| r.water = Some(v),
        |r, v| r.wetting_agent = Some(v),
        |r, v| r.sprayer = Some(v),
    ];
    for set in sets {
        let mut request = record(30, &[Level::Clear]);
        let last = request.rounds.len() - 1;
        set(&mut request.rounds[0], "old".into());
        set(&mut request.rounds[last], "new".into());
        assert!(allowed(&request) < plain / 2.0);
    }
}

#[test]
fn the_first_white_halves_and_each_further_one_again() {
    let mut request = record(8, &[]);
    let mut strength = 300.0;
    for (i, expected) in [150.0, 75.0, 35.0].into_iter().enumerate() {
        request.observations.push(look(24 + 3 * i, Level::Clear, SLOPE * strength));
        request.rounds.push(round(24 + 3 * i));
        let (_, next) = ask(&request);
        assert_eq!(next.proposed_mg_l, Some(expected));
        assert_eq!(next.reason, StrengthReason::Guard);
        strength = expected;
    }
    request.observations.push(look(33, Level::Clear, SLOPE * 35.0));
    let (_, next) = ask(&request);
    assert_eq!((next.proposed_mg_l, next.reason), (None, StrengthReason::GuardPlainWater));
    // Plain water from here on; three clean looks three times and there is feed again.
    for i in 0..9 {
        request
            .observations
            .push(Observation { feed_strength_mg_l: Some(0.0), ..look(36 + 3 * i, NONE, 0.0) });
    }
    let (_, next) = ask(&request);
    assert_eq!((next.proposed_mg_l, next.reason), (Some(45.0), StrengthReason::Guard));
}

#[test]
fn a_dry_day_is_forgotten_after_some_clean_looks() {
    let mut request = ThresholdRequest {
        observations: (0..12).map(|i| look(3 * i, NONE, 0.03)).collect(),
        prior: Some(Prior { median_g_m2: 0.04, log_sd: 0.5 }),
        influence: true,
        ..ThresholdRequest::default()
    };
    let before = learn_threshold(&request).unwrap().posterior.median_g_m2;
    // A dry day that the model knew about: 0.2 g/m² and white leaves.
    request.observations.push(look(36, Level::Clear, 0.2));
    let known = learn_threshold(&request).unwrap().posterior.median_g_m2;
    assert!((known / before - 1.0).abs() < 0.05, "{known} {before}");
    // The same day with the model believing in damp air.
    request.observations[12] = look(36, Level::Heavy, 0.03);
    let answer = learn_threshold(&request).unwrap();
    let after = answer.posterior.median_g_m2 / before;
    assert!((0.70..0.85).contains(&after), "{after}");
    let influence = answer.evidence[12].influence.unwrap();
    assert!(influence.odd_day > 0.5 && influence.pull_percent < 0.0, "{influence:?}");
    for i in 0..6 {
        request.observations.push(look(39 + 3 * i, NONE, 0.03));
    }
    let later = learn_threshold(&request).unwrap().posterior.median_g_m2 / before;
    assert!(later >= 0.9, "{later}");
}

#[test]
fn ten_plants_on_one_day_are_one_day() {
    let calm = record(12, &[]);
    let mut one_day = calm.clone();
    one_day.observations.extend(vec![look(36, Level::Heavy, RESIDUE); 10]);
    let mut one_look = calm.clone();
    one_look.observations.push(look(36, Level::Heavy, RESIDUE));
    let mut ten_days = calm;
    ten_days.observations.extend((0..10).map(|i| look(36 + 3 * i, Level::Heavy, RESIDUE)));
    let median = |r: &ThresholdRequest| learn_threshold(r).unwrap().posterior.median_g_m2;
    assert!((median(&one_day) / median(&one_look) - 1.0).abs() < 1e-9);
    assert!(median(&ten_days) < 0.5 * median(&one_day));
}

#[test]
fn rounds_without_a_look_count_half_for_those_who_log_only_white() {
    let mut request = record(0, &[Level::Clear, Level::Faint]);
    request.rounds.extend((2..12).map(|i| round(3 * i)));
    request.day = Some(day(36));
    let (answer, next) = ask(&request);
    assert_eq!(answer.counted_as_clean, 0);
    assert!(next.look_wanted.is_some_and(|w| (w.of_rounds, w.clean_looks, w.wanted) == (10, 0, 3)));
    let before = next.allowed_mg_l.unwrap_or(0.0);
    request.logs_only_white = true;
    let (answer, next) = ask(&request);
    assert_eq!(answer.counted_as_clean, 10);
    assert!(next.allowed_mg_l.unwrap() > 1.2 * before, "{next:?} {before}");
    // Ten halves are one step up from the 150 that two whites at 300 leave, and two thirds of
    // the next.
    let guard = next.guard.unwrap();
    assert_eq!((guard.ceiling_mg_l, guard.clean_looks), (210.0, 2.0));
    // Too few of them do not count.
    request.rounds.truncate(6);
    assert_eq!(ask(&request).0.counted_as_clean, 0);
}

#[test]
fn a_group_leans_on_its_site() {
    let of = |group: &str, o: Observation| Observation { group: Some(group.into()), ..o };
    let mut request = ThresholdRequest {
        observations: (0..10).map(|i| of("dark", look(3 * i, Level::Faint, 0.015))).collect(),
        prior: Some(Prior { median_g_m2: 0.04, log_sd: 0.5 }),
        group: Some("pale".into()),
        ..ThresholdRequest::default()
    };
    let pale = learn_threshold(&request).unwrap();
    assert!(pale.evidence.is_empty());
    assert!(pale.posterior.median_g_m2 < 0.8 * 0.04);
    request.observations.extend((0..10).map(|i| of("pale", look(3 * i, NONE, 0.03))));
    let pale = learn_threshold(&request).unwrap();
    request.group = Some("dark".into());
    let dark = learn_threshold(&request).unwrap();
    assert!(pale.posterior.median_g_m2 > dark.posterior.median_g_m2);
    assert_eq!(pale.evidence.len(), 10);
}

#[test]
fn the_reason_is_what_decides() {
    let (_, cap) = ask(&record(8, &[]));
    assert_eq!((cap.proposed_mg_l, cap.reason), (Some(300.0), StrengthReason::Cap));
    // A film that leaves much: even the least useful strength is seen.
    let mut wet = record(8, &[]);
    wet.next
        .as_mut()
        .unwrap()
        .usual_days
        .iter_mut()
        .for_each(|d| d.residue_without_feed_g_m2 = 0.5);
    let (_, plain) = ask(&wet);
    assert_eq!((plain.proposed_mg_l, plain.reason), (None, StrengthReason::ReportsPlainWater));
    assert!(plain.probability_without_feed.unwrap() > 0.9);
    let mut unknown = record(8, &[]);
    unknown.next.as_mut().unwrap().usual_days.clear();
    let (_, unknown) = ask(&unknown);
    assert_eq!((unknown.proposed_mg_l, unknown.reason), (Some(300.0), StrengthReason::NoUsualDay));
    assert_eq!(unknown.probability, None);
    let (_, reports) = ask(&ThresholdRequest {
        observations: record(8, &[Level::Heavy; 6])
            .observations
            .into_iter()
            .map(|o| Observation { feed_strength_mg_l: None, ..o })
            .collect(),
        next: Some(next()),
        ..ThresholdRequest::default()
    });
    assert_eq!(reports.reason, StrengthReason::Reports);
    assert!(reports.guard.is_none());
}

#[test]
fn bad_values_are_refused_with_their_place() {
    let with = |o: Observation| ThresholdRequest { observations: vec![o], ..Default::default() };
    let good = look(0, NONE, 0.1);
    for (request, place) in [
        (with(look(0, NONE, -1.0)), "/observations/0/feed_g_m2"),
        (with(look(0, NONE, f64::NAN)), "/observations/0/feed_g_m2"),
        (
            with(Observation { residue_log_sd: Some(0.0), ..good.clone() }),
            "/observations/0/residue_log_sd",
        ),
        (with(Observation { day: "21 June".into(), ..good.clone() }), "/observations/0/day"),
        (
            ThresholdRequest { observations: vec![good; 100_001], ..Default::default() },
            "/observations",
        ),
    ] {
        let error = learn_threshold(&request).unwrap_err();
        assert_eq!(error.pointer(), place);
    }
}
