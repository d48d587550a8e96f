//! A distribution of the log threshold on an even grid.

use super::link::DayError;
use guardcell::reference::parameters::{film, journal};

/// Steps from the middle to either end, and the size of one, in log threshold: a factor of 33
/// either way, in steps of 2 %.
const HALF: i32 = 176;
const STEP: f64 = 0.02;

/// Probabilities over a grid of log thresholds; they add up to 1.
#[derive(Debug, Clone)]
pub(crate) struct Grid {
    first: f64,
    weights: Vec<f64>,
}

impl Grid {
    /// A log-normal distribution; the median in g/m². Both numbers must be finite and above 0.
    pub(crate) fn log_normal(median_g_m2: f64, log_sd: f64) -> Self {
        let centre = median_g_m2.ln();
        let weights = (-HALF..=HALF)
            .map(|i| {
                let z = f64::from(i) * STEP / log_sd;
                (-z * z / 2.0).exp()
            })
            .collect();
        Self { first: centre - f64::from(HALF) * STEP, weights }.normalised()
    }

    /// The shipped calibration, for a grower nothing is known of: the spread from grower to
    /// grower and the uncertainty of the median together. The stated range of the median is read
    /// as two standard deviations either way.
    pub(crate) fn shipped() -> Self {
        let (median, spread) = shipped();
        Self::log_normal(median, spread)
    }

    fn normalised(mut self) -> Self {
        let total: f64 = self.weights.iter().sum();
        if total > 0.0 && total.is_finite() {
            self.weights.iter_mut().for_each(|w| *w /= total);
        }
        self
    }

    /// Log threshold and probability of every point.
    pub(crate) fn points(&self) -> impl Iterator<Item = (f64, f64)> {
        self.weights.iter().zip(0_u32..).map(|(w, i)| (self.first + f64::from(i) * STEP, *w))
    }

    /// The distribution after weighing every point by a likelihood given in logarithm.
    pub(crate) fn weighed(&self, log_likelihood: &[f64]) -> Self {
        let most = log_likelihood.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if !most.is_finite() {
            return self.clone();
        }
        let weights =
            self.weights.iter().zip(log_likelihood).map(|(w, l)| w * (l - most).exp()).collect();
        Self { first: self.first, weights }.normalised()
    }

    /// The distribution of a group, given that of its site.
    pub(crate) fn spread(&self, log_sd: f64) -> Self {
        let error = DayError::ordinary(log_sd);
        let weights = self.points().map(|(x, _)| error.mean(|e| self.at(x + e))).collect();
        Self { first: self.first, weights }.normalised()
    }

    /// The probability of the point at `x`, between points in proportion; 0 outside.
    fn at(&self, x: f64) -> f64 {
        let place = (x - self.first) / STEP;
        if !(0.0..=(self.weights.len() as f64 - 1.0)).contains(&place) {
            return 0.0;
        }
        let below = place.floor();
        // In range by the check above.
        let i = below as usize;
        let share = place - below;
        let at = |i: usize| self.weights.get(i).copied().unwrap_or(0.0);
        at(i) * (1.0 - share) + at(i + 1) * share
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

    /// The mean of `f` of the log threshold.
    pub(crate) fn mean(&self, f: impl Fn(f64) -> f64) -> f64 {
        self.points().map(|(x, w)| w * f(x)).sum()
    }

    /// The standard deviation of the log threshold.
    pub(crate) fn log_sd(&self) -> f64 {
        let mean = self.mean(|x| x);
        self.mean(|x| (x - mean) * (x - mean)).sqrt()
    }

    /// The probability density in log threshold of every point.
    pub(crate) fn densities(&self) -> impl Iterator<Item = (f64, f64)> {
        self.points().map(|(x, w)| (x.exp(), w / STEP))
    }
}

/// Median in g/m² and log-normal spread of the shipped prior.
pub(crate) fn shipped() -> (f64, f64) {
    let median = film::RESIDUE_THRESHOLD_MEDIAN;
    let of_median = match (median.low, median.high) {
        (Some(low), Some(high)) if low > 0.0 && high > low => (high / low).ln() / 4.0,
        _ => journal::GROUP_LOG_SD.value,
    };
    (median.value, of_median.hypot(film::RESIDUE_THRESHOLD_LOG_SD.value))
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

    #[test]
    fn spreading_adds_variances() {
        let g = Grid::log_normal(0.04, 0.3).spread(0.4);
        assert!((g.log_sd() - 0.5).abs() < 0.01, "{}", g.log_sd());
        assert!((g.quantile(0.5) / 0.04 - 1.0).abs() < 1e-3);
    }

    #[test]
    fn weighing_keeps_the_whole_at_one() {
        let g = Grid::log_normal(0.04, 0.3);
        let l: Vec<f64> = g.points().map(|(x, _)| -1000.0 - 5.0 * x).collect();
        let w = g.weighed(&l);
        assert!((w.mean(|_| 1.0) - 1.0).abs() < 1e-12);
        // A normal distribution times exp(-a x) moves by -a sd².
        assert!((w.quantile(0.5).ln() - (0.04_f64.ln() - 5.0 * 0.09)).abs() < 1e-3);
        let none = g.weighed(&vec![f64::NEG_INFINITY; 353]);
        assert!((none.quantile(0.5) - g.quantile(0.5)).abs() < 1e-12);
    }
}
