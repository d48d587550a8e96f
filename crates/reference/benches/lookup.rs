//! What a look-up costs, beside named baselines: a `std` hash map of the same names for the exact
//! hit, and a plain scan with `strsim` for the misspelt one.
//!
//! `cargo bench -p guardcell-reference --bench lookup`
#![allow(missing_docs)]

use divan::{Bencher, black_box};
use guardcell_reference::{genera, names, resolve};
use std::collections::HashMap;

fn main() {
    divan::main();
}

/// Names spread over the table, so that no single place stays in the cache.
fn sample() -> Vec<&'static str> {
    genera().iter().step_by(7).map(|g| g.name).collect()
}

fn each<'a>(queries: &'a [&'static str]) -> impl FnMut() -> &'static str + 'a {
    let mut at = 0;
    move || {
        at = (at + 1) % queries.len();
        queries[at]
    }
}

#[divan::bench]
fn exact_hit(bencher: Bencher<'_, '_>) {
    let queries = sample();
    bencher
        .with_inputs(each(&queries))
        .bench_local_values(|q| resolve(black_box(q)).found.is_some());
}

#[divan::bench]
fn exact_hit_baseline_hash_map(bencher: Bencher<'_, '_>) {
    let queries = sample();
    let map: HashMap<&str, usize> = all().enumerate().map(|(i, n)| (n, i)).collect();
    bencher.with_inputs(each(&queries)).bench_local_values(|q| map.get(black_box(q)).copied());
}

#[divan::bench]
fn species_hit(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| resolve(black_box("Dendrobium nobile")).found.is_some());
}

#[divan::bench(args = ["Phalenopsis", "Cattlya", "Bulbophylum", "Zzyzxia"])]
fn misspelt(query: &str) -> bool {
    resolve(black_box(query)).found.is_some()
}

#[divan::bench(args = ["Phalenopsis"])]
fn misspelt_baseline_scan(query: &str) -> Option<&'static str> {
    let query = black_box(query);
    all().min_by_key(|n| strsim::osa_distance(query, n))
}

fn all() -> impl Iterator<Item = &'static str> {
    genera().iter().map(|g| g.name).chain(names().iter().map(|n| n.name))
}
