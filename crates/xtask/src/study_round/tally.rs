//! Sums over the rounds of a study.

use guardcell::advice::AdviceResponse;
use guardcell::advice::round::{Bucket, RoundResponse, Sitting};

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
}

/// The buckets of a plan.
fn buckets(plan: &RoundResponse) -> impl Iterator<Item = &Bucket> {
    plan.bucket.iter()
}

fn fills_of(s: &Sitting) -> impl Iterator<Item = &guardcell::advice::round::Fill> {
    s.steps.iter().flat_map(|x| &x.fills)
}

impl Tally {
    pub(super) const HEAD: &'static str =
        "plants  rounds  sittings  fills  mixed mL  wasted mL  wasted %  of all %  worth kept %";

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
        self.best_worth += advice.plants.iter().filter_map(|p| p.windows.first()).map(|w| w.worth).sum::<f64>();
        for b in buckets(plan) {
            self.error = self.error.max(b.weighing_error_percent.unwrap_or(0.0));
        }
    }

    pub(super) fn line(&self, size: usize) -> String {
        let mean = |sum: f64| sum / self.rounds.max(1.0);
        format!(
            "{size:>6}  {:>6}  {:>8.1}  {:>5.1}  {:>8.0}  {:>9.0}  {:>8.1}  {:>8.1}  {:>6.1} err {:.0}",
            self.rounds,
            mean(self.sittings),
            mean(self.fills),
            mean(self.mixed_ml),
            mean(self.wasted_ml),
            100.0 * mean(self.share),
            100.0 * self.wasted_ml / self.mixed_ml.max(1.0),
            100.0 * self.worth / self.best_worth.max(1.0),
            self.error,
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
        out
    }
}
