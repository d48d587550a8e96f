//! Sums over the rounds of a study.

use guardcell::advice::AdviceResponse;
use guardcell::advice::round::{Bucket, RoundResponse, Sitting};
use std::collections::BTreeMap;

/// What is counted of every round with a bucket.
#[derive(Debug, Default)]
pub(super) struct Tally {
    rounds: f64,
    sittings: f64,
    fills: f64,
    buckets: f64,
    minutes: f64,
    mixed_ml: f64,
    wasted_ml: f64,
    /// Sum of the shares of the rounds.
    share: f64,
    worth: f64,
    best_worth: f64,
    /// Highest error of weighing, %.
    error: f64,
    stocks: f64,
    /// Sittings of one or two plants, and fills below 20 mL.
    small_sittings: usize,
    small_fills: usize,
    /// Sittings that do not fit their window, and fills above the mister's capacity.
    too_long: usize,
    too_full: usize,
}

/// The buckets of a plan.
fn buckets(plan: &RoundResponse) -> impl Iterator<Item = &Bucket> {
    plan.bucket.iter().chain(plan.sittings.iter().filter_map(|s| s.bucket.as_ref()))
}

fn plants(s: &Sitting) -> usize {
    s.steps.iter().flat_map(|x| &x.groups).map(|g| g.plants.len()).sum()
}

fn fills_of(s: &Sitting) -> impl Iterator<Item = &guardcell::advice::round::Fill> {
    s.steps.iter().flat_map(|x| &x.fills)
}

impl Tally {
    pub(super) const HEAD: &'static str = "plants  rounds  sittings  fills  buckets  minutes  mixed mL  wasted mL  wasted %  of all %  worth kept %  error %  \
         stocks %  small sittings  small fills  too long  too full";

    pub(super) fn add(&mut self, plan: &RoundResponse, advice: &AdviceResponse) {
        if plan.bucket.is_none() {
            return;
        }
        let fills = || plan.sittings.iter().flat_map(fills_of);
        let water: f64 = buckets(plan).map(|b| b.water_l * 1000.0).sum();
        let mixed = water + fills().map(|f| f.top_up_ml).sum::<f64>();
        let wasted = mixed - fills().map(|f| f.spray_ml).sum::<f64>();
        self.rounds += 1.0;
        self.sittings += plan.sittings.len() as f64;
        self.fills += fills().count() as f64;
        self.buckets += buckets(plan).count() as f64;
        self.mixed_ml += mixed;
        self.wasted_ml += wasted;
        self.share += wasted / mixed;
        let best: BTreeMap<&str, f64> = advice
            .plants
            .iter()
            .filter_map(|p| Some((p.id.as_str(), p.windows.first()?.worth)))
            .collect();
        self.best_worth += best.values().sum::<f64>();
        let groups = plan.sittings.iter().flat_map(|s| &s.steps).flat_map(|s| &s.groups);
        for plant in groups.flat_map(|g| &g.plants) {
            let best = best.get(plant.id.as_str()).copied().unwrap_or(0.0);
            self.worth += best * (1.0 - plant.worth_lost);
        }
        self.minutes += plan.minutes;
        self.small_sittings += plan.sittings.iter().filter(|s| plants(s) <= 2).count();
        self.small_fills += fills().filter(|f| f.spray_ml < 20.0).count();
        let long = |s: &&Sitting| s.notes.iter().any(|n| n.code == "sitting-too-long");
        self.too_long += plan.sittings.iter().filter(long).count();
        self.too_full += fills().filter(|f| f.full_to_eighths > 8.0 + 1e-9).count();
        self.stocks += f64::from(u8::from(buckets(plan).any(|b| b.stock.is_some())));
        for b in buckets(plan) {
            self.error = self.error.max(b.weighing_error_percent.unwrap_or(0.0));
        }
    }

    pub(super) fn line(&self, size: usize) -> String {
        let mean = |sum: f64| sum / self.rounds.max(1.0);
        format!(
            "{size:>6}  {:>6}  {:>8.1}  {:>5.1}  {:>7.1}  {:>7.0}  {:>8.0}  {:>9.0}  {:>8.1}  \
             {:>8.1}  {:>12.1}  {:>7.1}  {:>8.0}  {:>14}  {:>11}  {:>8}  {:>8}",
            self.rounds,
            mean(self.sittings),
            mean(self.fills),
            mean(self.buckets),
            mean(self.minutes),
            mean(self.mixed_ml),
            mean(self.wasted_ml),
            100.0 * mean(self.share),
            100.0 * self.wasted_ml / self.mixed_ml.max(1.0),
            100.0 * self.worth / self.best_worth.max(f64::MIN_POSITIVE),
            self.error,
            100.0 * mean(self.stocks),
            self.small_sittings,
            self.small_fills,
            self.too_long,
            self.too_full,
        )
    }

    /// The bars that were missed, in words.
    pub(super) fn missed(&self, most: Option<f64>) -> Vec<String> {
        let mut out = Vec::new();
        if let Some(most) = most
            && self.share / self.rounds.max(1.0) > most
        {
            out.push(format!("more than {:.0} % is wasted", 100.0 * most));
        }
        if self.too_full > 0 {
            out.push("a mister is filled beyond its brim".to_owned());
        }
        out
    }
}
