//! How long learning takes, beside a plain pass over the same looks.
#![allow(missing_docs, clippy::expect_used)] // a program that measures

use divan::{Bencher, black_box};
use guardcell_ledger::{
    Level, NextStrengthRequest, Observation, ReviewRequest, ThresholdRequest, UsualDay,
    learn_threshold, review,
};
use jiff::civil::date;

fn main() {
    divan::main();
}

/// So many looks, `a_day` of them on each third day, with days that differ.
fn request(looks: u32, a_day: u32) -> ThresholdRequest {
    let first = date(1900, 1, 1);
    let observations = (0..looks)
        .map(|i| {
            let n = i / a_day;
            let day = first.saturating_add(jiff::Span::new().days(3 * n));
            let residue = 0.01 + 0.001 * f64::from(i * 7 % 23);
            Observation {
                entry: Some(format!("entry-{i}")),
                feed_g_m2: Some(residue),
                residue_log_sd: Some(0.30 + 0.01 * f64::from(i * 5 % 31)),
                feed_strength_mg_l: Some(300.0),
                ..Observation::new(
                    day.to_string(),
                    if i % 9 == 0 { Level::Faint } else { Level::None },
                )
            }
        })
        .collect();
    ThresholdRequest {
        observations,
        next: Some(NextStrengthRequest {
            usual_days: vec![UsualDay::new(5e-5); 10],
            ..Default::default()
        }),
        ..ThresholdRequest::default()
    }
}

#[divan::bench(args = [10, 100, 1000, 10_000])]
fn looks_on_different_days(bencher: Bencher<'_, '_>, looks: u32) {
    let r = request(looks, 1);
    bencher.bench(|| learn_threshold(black_box(&r)));
}

#[divan::bench(args = [48, 100, 300, 3000])]
fn looks_of_one_day(bencher: Bencher<'_, '_>, looks: u32) {
    let r = request(looks, looks);
    bencher.bench(|| learn_threshold(black_box(&r)));
}

#[divan::bench(args = [10, 60, 300])]
fn with_influence(bencher: Bencher<'_, '_>, looks: u32) {
    let mut r = request(looks, 1);
    r.influence = true;
    bencher.bench(|| learn_threshold(black_box(&r)));
}

/// From plain entries, a round and a look a day, to the review of one plant.
#[divan::bench(args = [300, 10_000])]
fn review_from_entries(bencher: Bencher<'_, '_>, looks: u32) {
    let first = date(1990, 1, 1);
    let entries = (0..looks).flat_map(|i| {
        let day = first.saturating_add(jiff::Span::new().days(i));
        let level = if i % 9 == 0 { "faint" } else { "none" };
        let residue = 0.01 + 0.001 * f64::from(i * 7 % 23);
        [
            format!(
                r#"{{"id": "r{i}", "recorded": "{day}T06:00:00Z", "at": "{day}T06:00:00Z",
                "site": "F", "event": {{"kind": "round", "plants": [{{"plant": "P"}}],
                "feed_strength_mg_l": 300, "conditions": {{"residue_g_m2": {residue}}}}}}}"#
            ),
            format!(
                r#"{{"id": "l{i}", "recorded": "{day}T18:00:00Z", "at": "{day}T18:00:00Z",
                "site": "F", "event": {{"kind": "residue", "plants": ["P"], "level": "{level}"}}}}"#
            ),
        ]
    });
    let last = first.saturating_add(jiff::Span::new().days(looks));
    let request: ReviewRequest = serde_json::from_str(&format!(
        r#"{{"entries": [{}], "only": ["P"], "from": "{}", "at": "{last}T12:00:00Z"}}"#,
        entries.collect::<Vec<_>>().join(","),
        last.saturating_sub(jiff::Span::new().days(28))
    ))
    .expect("a request");
    bencher.bench(|| review(black_box(&request)));
}

/// The plain pass: a grid of 221 points weighed once for each look, nothing else.
#[divan::bench(args = [300, 10_000])]
fn plain_pass(bencher: Bencher<'_, '_>, looks: u32) {
    let r = request(looks, 1);
    bencher.bench(|| {
        let mut weights = [1.0_f64; 221];
        for o in &black_box(&r).observations {
            let residue = o.feed_g_m2.unwrap_or(0.01);
            let mut sum = 0.0;
            for (i, w) in weights.iter_mut().enumerate() {
                *w *= residue + i as f64;
                sum += *w;
            }
            weights.iter_mut().for_each(|w| *w /= sum);
        }
        weights
    });
}
