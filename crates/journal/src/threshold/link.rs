//! From a modelled residue to what a grower reports: the likelihood of one day.

use crate::entry::Level;
use guardcell::reference::parameters::journal as p;

/// Nodes of the sums over the error of the day, in standard deviations.
const NODES: [f64; 11] = [-3.0, -2.4, -1.8, -1.2, -0.6, 0.0, 0.6, 1.2, 1.8, 2.4, 3.0];

/// The logistic function.
pub(crate) fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

/// The probability that a grower who is not mistaken reports this level where the residue stands
/// `over` the threshold (natural logarithm of the ratio).
pub(crate) fn level(level: Level, over: f64) -> f64 {
    let scale = p::LINK_SCALE.value;
    let from = |ratio: f64| logistic((over - ratio.ln()) / scale);
    let (faint, clear, heavy) = (1.0, p::CLEAR_RATIO.value, p::HEAVY_RATIO.value);
    match level {
        Level::None => 1.0 - from(faint),
        Level::Faint => from(faint) - from(clear),
        Level::Clear => from(clear) - from(heavy),
        Level::Heavy => from(heavy),
    }
}

/// The same with the share of reports that have nothing to do with the leaf.
fn reported(seen: Level, over: f64) -> f64 {
    let slip = p::MISREPORT_SHARE.value;
    // Any of the four levels alike.
    (1.0 - slip) * level(seen, over) + slip / 4.0
}

/// A report: the level, and the natural logarithm of the modelled residue in g/m².
#[derive(Debug, Clone, Copy)]
pub(crate) struct Report {
    pub(crate) level: Level,
    pub(crate) log_residue: f64,
}

/// Weighted errors of the modelled residue of a day, in log residue.
#[derive(Debug, Clone)]
pub(crate) struct DayError(Vec<(f64, f64)>);

impl DayError {
    /// An ordinary day with this log-normal uncertainty.
    pub(crate) fn ordinary(log_sd: f64) -> Self {
        let weight = |z: f64| (-z * z / 2.0).exp();
        let total: f64 = NODES.iter().map(|z| weight(*z)).sum();
        Self(NODES.iter().map(|z| (z * log_sd, weight(*z) / total)).collect())
    }

    /// A day on which the model is far out.
    pub(crate) fn odd(log_sd: f64) -> Self {
        let mut nodes = Self::ordinary(log_sd.hypot(p::ODD_DAY_LOG_SD.value)).0;
        nodes.iter_mut().for_each(|n| n.0 += p::ODD_DAY_LOG_SHIFT.value);
        Self(nodes)
    }

    /// Either, as often as each is met.
    pub(crate) fn any(log_sd: f64) -> Self {
        let share = p::ODD_DAY_SHARE.value;
        let mut nodes = Self::ordinary(log_sd).0;
        nodes.iter_mut().for_each(|n| n.1 *= 1.0 - share);
        nodes.extend(Self::odd(log_sd).0.into_iter().map(|(e, w)| (e, w * share)));
        Self(nodes)
    }

    /// The mean of `f` over the error of the day.
    pub(crate) fn mean(&self, f: impl Fn(f64) -> f64) -> f64 {
        self.0.iter().map(|(error, weight)| weight * f(*error)).sum()
    }
}

/// The reports of one day share its error, so ten plants on one dry day count as one dry day.
#[derive(Debug, Clone)]
pub(crate) struct Day {
    reports: Vec<(usize, Report)>,
    ordinary: DayError,
    odd: DayError,
}

impl Day {
    /// A day with this uncertainty of its model; reports carry a number of the caller's.
    pub(crate) fn new(reports: Vec<(usize, Report)>, log_sd: f64) -> Self {
        Self { reports, ordinary: DayError::ordinary(log_sd), odd: DayError::odd(log_sd) }
    }

    /// The numbers of its reports.
    pub(crate) fn numbers(&self) -> impl Iterator<Item = usize> {
        self.reports.iter().map(|(n, _)| *n)
    }

    /// The likelihood at a log threshold, leaving out one report where asked: of the whole, and
    /// of the part in which the model of the day was far out.
    pub(crate) fn likelihood(&self, log_threshold: f64, without: Option<usize>) -> (f64, f64) {
        let of = |errors: &DayError| {
            errors.mean(|error| {
                self.reports
                    .iter()
                    .filter(|(n, _)| Some(*n) != without)
                    .map(|(_, r)| reported(r.level, r.log_residue + error - log_threshold))
                    .product()
            })
        };
        let share = p::ODD_DAY_SHARE.value;
        let odd = share * of(&self.odd);
        ((1.0 - share) * of(&self.ordinary) + odd, odd)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_share_the_whole() {
        for i in -40..=40 {
            let over = f64::from(i) / 5.0;
            let sum: f64 = Level::ALL.iter().map(|l| level(*l, over)).sum();
            assert!((sum - 1.0).abs() < 1e-12);
            let sum: f64 = Level::ALL.iter().map(|l| reported(*l, over)).sum();
            assert!((sum - 1.0).abs() < 1e-12);
        }
        // At the threshold half of the reports say something, by definition.
        assert!((level(Level::None, 0.0) - 0.5).abs() < 1e-12);
    }

    #[test]
    fn day_errors_have_the_spread_they_name() {
        let odd = 0.3_f64.hypot(p::ODD_DAY_LOG_SD.value);
        for (e, mean, sd) in [
            (DayError::ordinary(0.3), 0.0, 0.3),
            (DayError::odd(0.3), p::ODD_DAY_LOG_SHIFT.value, odd),
        ] {
            assert!((e.mean(|_| 1.0) - 1.0).abs() < 1e-12);
            assert!((e.mean(|x| x) - mean).abs() < 1e-12);
            // Cut off at three standard deviations: within 2 %.
            assert!((e.mean(|x| (x - mean) * (x - mean)).sqrt() / sd - 1.0).abs() < 0.02);
        }
        assert!((DayError::any(0.3).mean(|_| 1.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn leaving_out_the_only_report_leaves_nothing() {
        let day = Day::new(vec![(7, Report { level: Level::Heavy, log_residue: -3.0 })], 0.3);
        assert!((day.likelihood(-2.0, Some(7)).0 - 1.0).abs() < 1e-12);
        assert!(day.likelihood(-2.0, None).0 < 0.2);
    }
}
