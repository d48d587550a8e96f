//! A distribution of the log threshold on an even grid, and how it widens with time.

use guardcell_reference::parameters::{film, journal};
use std::collections::BTreeMap;

/// Points from the middle to either end, and their distance in log threshold: a factor of 27
/// either way, in steps of 3 %.
const HALF: i32 = 110;
const STEP: f64 = 0.03;
/// Points of a grid.
pub(crate) const POINTS: usize = 2 * HALF as usize + 1;

/// Probabilities over a grid of log thresholds; they add up to 1.
#[derive(Debug, Clone)]
pub(crate) struct Grid {
    first: f64,
    weights: Vec<f64>,
}

impl Grid {
    /// A log-normal distribution; the median in g/m². Both numbers must be finite and above 0.
    pub(crate) fn log_normal(median_g_m2: f64, log_sd: f64) -> Self {
        let weights = (-HALF..=HALF)
            .map(|i| {
                let z = f64::from(i) * STEP / log_sd;
                (-z * z / 2.0).exp()
            })
            .collect();
        let mut grid = Self { first: median_g_m2.ln() - f64::from(HALF) * STEP, weights };
        grid.normalise();
        grid
    }

    fn normalise(&mut self) {
        let total: f64 = self.weights.iter().sum();
        // Likelihoods are above 0 everywhere (a report may be a slip), so there is always a whole.
        if total > 0.0 && total.is_finite() {
            let scale = total.recip();
            self.weights.iter_mut().for_each(|w| *w *= scale);
        }
    }

    /// Log threshold of the first point.
    pub(crate) fn first(&self) -> f64 {
        self.first
    }

    /// Distance of two points in log threshold.
    pub(crate) fn step() -> f64 {
        STEP
    }

    /// Probabilities of the points, lowest threshold first.
    pub(crate) fn weights(&self) -> &[f64] {
        &self.weights
    }

    /// Log threshold and probability of every point.
    pub(crate) fn points(&self) -> impl Iterator<Item = (f64, f64)> {
        self.weights.iter().zip(0_u32..).map(|(w, i)| (self.first + f64::from(i) * STEP, *w))
    }

    /// Weighs every point by a likelihood, given as the same factor times any constant.
    pub(crate) fn weigh(&mut self, likelihood: impl Iterator<Item = f64>) {
        self.weights.iter_mut().zip(likelihood).for_each(|(w, l)| *w *= l);
        self.normalise();
    }

    /// Spreads every point out by a kernel.
    pub(crate) fn widen(&mut self, kernel: &Kernel) {
        // Mass that would leave at an end stays: each point is divided by what its kernel holds
        // within the grid before it is spread.
        for (w, inverse) in self.weights.iter_mut().zip(&kernel.inverse_sums) {
            *w *= inverse;
        }
        match &kernel.shape {
            Shape::Geometric(ratio) => self.two_passes(*ratio),
            Shape::Even(side) => self.weights = even(&self.weights, side),
        }
    }

    /// The sum over all points, each weighed by the ratio to the power of its distance: one pass
    /// for those above, one for those below.
    fn two_passes(&mut self, ratio: f64) {
        let mut above = [0.0; POINTS];
        let mut sum = 0.0;
        for (slot, w) in above.iter_mut().zip(&self.weights).rev() {
            *slot = sum;
            sum = ratio * (sum + w);
        }
        let mut sum = 0.0;
        for (w, above) in self.weights.iter_mut().zip(&above) {
            sum = ratio * sum + *w;
            *w = sum + above;
        }
    }

    /// The threshold in g/m² below which this share lies.
    pub(crate) fn quantile(&self, share: f64) -> f64 {
        // Each point stands for the step round it.
        let mut below = 0.0;
        for (x, w) in self.points() {
            if below + w >= share && w > 0.0 {
                let part = ((share - below) / w).clamp(0.0, 1.0);
                return (x + (part - 0.5) * STEP).exp();
            }
            below += w;
        }
        self.points().last().map_or(f64::INFINITY, |(x, _)| x.exp())
    }

    /// The standard deviation of the log threshold.
    pub(crate) fn log_sd(&self) -> f64 {
        let mean: f64 = self.points().map(|(x, w)| w * x).sum();
        self.points().map(|(x, w)| w * (x - mean) * (x - mean)).sum::<f64>().max(0.0).sqrt()
    }

    /// Threshold in g/m² and probability density in log threshold of every point.
    pub(crate) fn densities(&self) -> impl Iterator<Item = (f64, f64)> {
        self.points().map(|(x, w)| (x.exp(), w / STEP))
    }
}

/// The sum over all points, each weighed by its distance.
fn even(weights: &[f64], side: &[f64]) -> Vec<f64> {
    (0..weights.len())
        .map(|i| weights.iter().enumerate().map(|(j, w)| w * at(side, i.abs_diff(j))).sum())
        .collect()
}

fn at(side: &[f64], distance: usize) -> f64 {
    side.get(distance).copied().unwrap_or(0.0)
}

/// How a distribution is spread out. The kernels are log-concave: of two distributions of which
/// one favours higher thresholds, that one still does after both are spread.
#[derive(Debug)]
pub(crate) struct Kernel {
    shape: Shape,
    /// One over the weight that the kernel of each point has within the grid.
    inverse_sums: Vec<f64>,
}

/// Weights by distance in points, 1 for the point itself.
#[derive(Debug)]
enum Shape {
    /// Two-sided geometric, the Laplace distribution on the grid: powers of this ratio.
    Geometric(f64),
    /// As given; 0 further out.
    Even(Vec<f64>),
}

impl Kernel {
    /// The Laplace kernel of this variance in log threshold.
    pub(crate) fn laplace(variance: f64) -> Self {
        let v = variance / (STEP * STEP);
        // The variance of the kernel in steps is 2a/(1-a)²; solved for a. Small ones by the first
        // term of the series, for the difference cancels.
        let ratio = if v < 1e-6 { v / 2.0 } else { (v + 1.0 - (2.0 * v + 1.0).sqrt()) / v };
        Self::new(Shape::Geometric(ratio), |n| ratio.powi(n))
    }

    /// The normal kernel of this standard deviation in log threshold.
    pub(crate) fn normal(log_sd: f64) -> Self {
        let weight = |n: i32| {
            let z = f64::from(n) * STEP / log_sd;
            (-z * z / 2.0).exp()
        };
        Self::new(Shape::Even((0..POINTS as i32).map(weight).collect()), weight)
    }

    fn new(shape: Shape, weight: impl Fn(i32) -> f64) -> Self {
        // Sums of the weights up to each distance.
        let mut sum = 0.0;
        let sums: Vec<f64> = (0..POINTS as i32)
            .map(|n| {
                sum += weight(n);
                sum
            })
            .collect();
        let inverse_sums =
            (0..POINTS).map(|i| (at(&sums, i) + at(&sums, POINTS - 1 - i) - 1.0).recip()).collect();
        Self { shape, inverse_sums }
    }
}

/// The kernels of one walk, each made once.
#[derive(Debug)]
pub(crate) struct Kernels {
    by_days: BTreeMap<u32, Kernel>,
    change: Kernel,
}

impl Kernels {
    pub(crate) fn new() -> Self {
        let change = Kernel::normal(journal::CHANGE_LOG_SD.number());
        Self { by_days: BTreeMap::new(), change }
    }

    /// Lets a threshold drift over whole days, and move where a change was recorded among them.
    pub(crate) fn walk(&mut self, grid: &mut Grid, days: u32, change: bool) {
        let days = days.min(journal::WALK_LONGEST.days() as u32);
        if days > 0 {
            let variance = journal::WALK_LOG_VARIANCE.per_day() * f64::from(days);
            grid.widen(self.by_days.entry(days).or_insert_with(|| Kernel::laplace(variance)));
        }
        if change {
            grid.widen(&self.change);
        }
    }
}

/// Median in g/m² and log-normal spread of the shipped prior: the spread from grower to grower and
/// the uncertainty of the median together. The stated range of the median is read as two standard
/// deviations either way.
pub(crate) fn shipped() -> (f64, f64) {
    let median = film::RESIDUE_THRESHOLD_MEDIAN;
    let of_median = match median.any().range() {
        (Some(low), Some(high)) if low > 0.0 && high > low => (high / low).ln() / 4.0,
        _ => journal::GROUP_LOG_SD.number(),
    };
    (median.g_per_m2(), of_median.hypot(film::RESIDUE_THRESHOLD_LOG_SD.number()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_log_normal_has_its_quantiles() {
        // Quantiles of the standard normal distribution: 1.281552 at 0.9, 1.644854 at 0.95
        // (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1).
        let g = Grid::log_normal(0.04, 0.5);
        for (share, z) in [(0.5, 0.0), (0.9, 1.281_552), (0.95, 1.644_854), (0.1, -1.281_552)] {
            let expect = 0.04 * f64::exp(0.5 * z);
            assert!((g.quantile(share) / expect - 1.0).abs() < 1e-3, "{share}");
        }
        assert!((g.log_sd() - 0.5).abs() < 1e-6);
    }

    /// Brute force: the kernel as a matrix.
    fn spread(grid: &Grid, kernel: &Kernel) -> Vec<f64> {
        let n = grid.weights.len();
        let row = |i: usize| -> Vec<f64> {
            let weight = |distance: usize| match &kernel.shape {
                Shape::Geometric(ratio) => ratio.powi(distance as i32),
                Shape::Even(side) => at(side, distance),
            };
            let k: Vec<f64> = (0..n).map(|j| weight(i.abs_diff(j))).collect();
            let sum: f64 = k.iter().sum();
            k.into_iter().map(|v| v / sum).collect()
        };
        let mut out = vec![0.0; n];
        for (i, w) in grid.weights.iter().enumerate() {
            out.iter_mut().zip(row(i)).for_each(|(o, k)| *o += w * k);
        }
        out
    }

    #[test]
    fn spreading_is_the_kernel_and_keeps_all_mass() {
        let laplace = [0.0025, 0.0075, 0.07, 0.49, 0.45, 1e-12].map(Kernel::laplace);
        for kernel in laplace.into_iter().chain([0.05, 0.7].map(Kernel::normal)) {
            // Off the middle, so that an end is met too.
            let mut g = Grid::log_normal(0.04, 0.9);
            g.weigh((0..POINTS).map(|i| f64::from(i as u32 + 1)));
            let expect = spread(&g, &kernel);
            g.widen(&kernel);
            for (a, b) in g.weights.iter().zip(&expect) {
                assert!((a - b).abs() < 1e-14, "{kernel:?}: {a} {b}");
            }
            assert!((g.weights.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn widening_adds_its_variance_and_keeps_the_middle() {
        for variance in [0.0025_f64, 0.0075, 0.16] {
            for kernel in [Kernel::laplace(variance), Kernel::normal(variance.sqrt())] {
                let mut g = Grid::log_normal(0.04, 0.3);
                g.widen(&kernel);
                // The tails end at the ends of the grid.
                assert!((g.log_sd() - (0.09 + variance).sqrt()).abs() < 5e-4, "{}", g.log_sd());
                assert!((g.quantile(0.5) / 0.04 - 1.0).abs() < 1e-3);
            }
        }
    }

    #[test]
    fn a_drift_stops_at_the_longest_gap() {
        let mut kernels = Kernels::new();
        let (mut a, mut b) = (Grid::log_normal(0.04, 0.3), Grid::log_normal(0.04, 0.3));
        kernels.walk(&mut a, 180, false);
        kernels.walk(&mut b, 4000, false);
        assert!((a.log_sd() - b.log_sd()).abs() < 1e-12);
    }

    #[test]
    fn weighing_keeps_the_whole_at_one() {
        let mut g = Grid::log_normal(0.04, 0.3);
        let l: Vec<f64> = g.points().map(|(x, _)| (-5.0 * x).exp()).collect();
        g.weigh(l.into_iter());
        assert!((g.weights.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        // A normal distribution times exp(-a x) moves by -a sd².
        assert!((g.quantile(0.5).ln() - (0.04_f64.ln() - 5.0 * 0.09)).abs() < 1e-3);
    }
}
