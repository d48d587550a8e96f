//! What a look-up costs, beside named baselines: a `std` hash map of the same names for the exact
//! hit, and a plain scan with `strsim` for the misspelt one.
//!
//! `cargo bench -p guardcell-reference --bench lookup`
#![allow(missing_docs)]

use divan::counter::ItemsCount;
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

/// Every name of the sample once per iteration; divide by the number of items for one look-up.
#[divan::bench]
fn exact_hits(bencher: Bencher<'_, '_>) {
    let queries = sample();
    bencher.counter(ItemsCount::new(queries.len())).bench_local(|| {
        let found = |q: &&&str| resolve(black_box(q)).found.is_some();
        queries.iter().filter(found).count()
    });
}

#[divan::bench]
fn exact_hits_baseline_hash_map(bencher: Bencher<'_, '_>) {
    let queries = sample();
    let map: HashMap<&str, usize> = all().enumerate().map(|(i, n)| (n, i)).collect();
    bencher.counter(ItemsCount::new(queries.len())).bench_local(|| {
        let found = |q: &&&str| map.contains_key(black_box(**q));
        queries.iter().filter(found).count()
    });
}

#[divan::bench]
fn species_hit(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| resolve(black_box("Dendrobium nobile")).found.is_some());
}

#[divan::bench(args = ["Phalaenopsus", "Catleyq", "Bulbofhylum", "Zzyzxia"])]
fn misspelt(query: &str) -> bool {
    resolve(black_box(query)).found.is_some()
}

#[divan::bench(args = ["Phalaenopsus"])]
fn misspelt_baseline_scan(query: &str) -> Option<&'static str> {
    let query = black_box(query);
    all().min_by_key(|n| strsim::osa_distance(query, n))
}

fn all() -> impl Iterator<Item = &'static str> {
    genera().iter().map(|g| g.name).chain(names().iter().map(|n| n.name))
}
