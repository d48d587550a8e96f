//! The posterior of the threshold: a walk through the days, weighed by what was seen on each.

use super::emission::Emissions;
use super::grid::{Grid, Kernel, Kernels};
use super::response::Influence;
use super::timeline::{LookDay, days_between};
use guardcell_reference::parameters::journal as p;
use jiff::civil::Date;

/// Days with a look, latest first, whose influence is worked out: what is longer ago hardly moves
/// the threshold of now, and each costs a walk.
const INFLUENCE_DAYS: usize = 200;

/// A walk through the days of one record.
#[derive(Debug)]
pub(crate) struct Learner<'a> {
    /// Days on which a change was recorded, in order.
    changes: &'a [Date],
    /// The day that is asked about.
    until: Option<Date>,
    kernels: Kernels,
    emissions: &'a mut Emissions,
}

/// A day of the walk as it was come to, before its reports were weighed.
#[derive(Debug)]
struct Stop {
    before: Grid,
    likelihood: Vec<f64>,
}

impl<'a> Learner<'a> {
    pub(crate) fn new(
        changes: &'a [Date],
        until: Option<Date>,
        emissions: &'a mut Emissions,
    ) -> Self {
        Self { changes, until, kernels: Kernels::new(), emissions }
    }

    /// The threshold on the day asked about, after all days.
    pub(crate) fn posterior(&mut self, prior: &Grid, days: &[LookDay]) -> Grid {
        let mut grid = prior.clone();
        let mut last = None;
        for day in days {
            guardcell_call::checkpoint();
            self.step(&mut grid, last, day.date);
            grid.weigh(day.likelihood(prior, self.emissions, None).into_iter());
            last = Some(day.date);
        }
        self.finish(&mut grid, last);
        grid
    }

    /// Drift and recorded changes since the day before. Before the first there is none: the prior
    /// is that of a grower nothing is known of.
    fn step(&mut self, grid: &mut Grid, last: Option<Date>, to: Date) {
        let Some(last) = last else { return };
        let days = u32::try_from(days_between(last, to)).unwrap_or(0);
        let first = self.changes.partition_point(|c| *c <= last);
        let change = self.changes.get(first).is_some_and(|c| *c <= to);
        self.kernels.walk(grid, days, change);
    }

    fn finish(&mut self, grid: &mut Grid, last: Option<Date>) {
        if let Some(until) = self.until {
            self.step(grid, last, until);
        }
    }

    /// For each report of the last days: its number, and what it did. Each is taken out of its
    /// day, and the walk goes on from there.
    pub(crate) fn influence(
        &mut self,
        prior: &Grid,
        days: &[LookDay],
        posterior: &Grid,
    ) -> Vec<(usize, Influence)> {
        let first = days.len().saturating_sub(INFLUENCE_DAYS);
        let stops = self.stops(prior, days, first);
        let median = posterior.quantile(0.5);
        let mut out = Vec::new();
        for (i, day) in days.iter().enumerate().skip(first) {
            let Some(stop) = stops.get(i - first) else { continue };
            for report in day.reports.iter().filter(|r| r.number != usize::MAX) {
                guardcell_call::checkpoint();
                let mut grid = stop.before.clone();
                if day.reports.len() > 1 {
                    let rest = day.likelihood(prior, self.emissions, Some(report.number));
                    grid.weigh(rest.into_iter());
                }
                let mut last = day.date;
                for (later, stop) in days.iter().zip(stops_from(&stops, first)).skip(i + 1) {
                    guardcell_call::checkpoint();
                    self.step(&mut grid, Some(last), later.date);
                    grid.weigh(stop.likelihood.iter().copied());
                    last = later.date;
                }
                self.finish(&mut grid, Some(last));
                let emission = self.emissions.of(report.log_sd);
                let odd_day = posterior
                    .points()
                    .map(|(x, w)| w * emission.odd_day(report.level, report.log_residue - x))
                    .sum();
                let pull_percent = (median / grid.quantile(0.5) - 1.0) * 100.0;
                out.push((report.number, Influence { pull_percent, odd_day }));
            }
        }
        out
    }

    /// The walk once more, remembering the days from the `first` on.
    fn stops(&mut self, prior: &Grid, days: &[LookDay], first: usize) -> Vec<Stop> {
        let mut grid = prior.clone();
        let mut last = None;
        let mut stops = Vec::new();
        for (i, day) in days.iter().enumerate() {
            guardcell_call::checkpoint();
            self.step(&mut grid, last, day.date);
            let likelihood = day.likelihood(prior, self.emissions, None);
            let before = grid.clone();
            grid.weigh(likelihood.iter().copied());
            if i >= first {
                stops.push(Stop { before, likelihood });
            }
            last = Some(day.date);
        }
        stops
    }
}

/// The stops, one for each day: those before the first remembered stand for nothing.
fn stops_from(stops: &[Stop], first: usize) -> impl Iterator<Item = &Stop> {
    let lead = stops.first().into_iter().cycle().take(first);
    lead.chain(stops)
}

/// The distribution of a group, given that of its site.
pub(crate) fn of_group(mut site: Grid) -> Grid {
    site.widen(&Kernel::normal(p::GROUP_LOG_SD.number()));
    site
}
