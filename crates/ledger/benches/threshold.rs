//! How long learning takes, beside a plain pass over the same looks.
#![allow(missing_docs, clippy::expect_used)] // a program that measures

use divan::{Bencher, black_box};
use guardcell_ledger::{
    Level, NextStrengthRequest, Observation, ThresholdRequest, UsualDay, learn_threshold,
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
