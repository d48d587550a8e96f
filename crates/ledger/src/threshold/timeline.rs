//! The record by day: looks, rounds nobody looked at, recorded changes.

use super::emission::{Curve, Emissions};
use super::grid::{Grid, POINTS};
use super::request::{Observation, SprayedRound, ThresholdRequest, whiteness};
use super::response::{Change, Changed};
use crate::entry::Level;
use crate::moment;
use guardcell_error::Error;
use guardcell_reference::parameters::journal as p;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// A request with its days read, up to the day that is asked about.
#[derive(Debug)]
pub(crate) struct Record<'a> {
    /// Observations with their number in the request.
    pub(crate) looks: Vec<(usize, Date, &'a Observation)>,
    /// Rounds in the order of time.
    pub(crate) rounds: Vec<(Date, &'a SprayedRound)>,
    /// The day that is asked about; absent where there is nothing to date it by.
    pub(crate) day: Option<Date>,
}

impl<'a> Record<'a> {
    pub(crate) fn read(request: &'a ThresholdRequest) -> Result<Self, Error> {
        let mut looks = Vec::with_capacity(request.observations.len());
        for (i, o) in request.observations.iter().enumerate() {
            guardcell_call::checkpoint();
            looks.push((
                i,
                moment::date(&o.day).map_err(|e| e.at(format!("/observations/{i}/day")))?,
                o,
            ));
        }
        let mut rounds = Vec::with_capacity(request.rounds.len());
        for (i, r) in request.rounds.iter().enumerate() {
            guardcell_call::checkpoint();
            rounds.push((moment::date(&r.day).map_err(|e| e.at(format!("/rounds/{i}/day")))?, r));
        }
        let day = match &request.day {
            Some(text) => Some(moment::date(text).map_err(|e| e.at("/day"))?),
            None => looks.iter().map(|l| l.1).chain(rounds.iter().map(|r| r.0)).max(),
        };
        if let Some(day) = day {
            looks.retain(|l| l.1 <= day);
            rounds.retain(|r| r.0 <= day);
        }
        rounds.sort_by_key(|r| r.0);
        Ok(Self { looks, rounds, day })
    }

    /// Days on which something other than before was sprayed, or sprayed with. What is not stated
    /// stays as it was; what comes back within the time of a rota is not a change.
    pub(crate) fn changes(&self) -> Vec<(Date, Change)> {
        type Field = fn(&SprayedRound) -> Option<&String>;
        let fields: [(Changed, Field); 4] = [
            (Changed::Product, |r| r.product.as_ref()),
            (Changed::Water, |r| r.water.as_ref()),
            (Changed::WettingAgent, |r| r.wetting_agent.as_ref()),
            (Changed::Sprayer, |r| r.sprayer.as_ref()),
        ];
        let mut out = Vec::new();
        for (what, field) in fields {
            let mut last: BTreeMap<&str, Date> = BTreeMap::new();
            for (day, round) in &self.rounds {
                let Some(value) = field(round).map(String::as_str) else { continue };
                let known = last.get(value).is_some_and(|used| {
                    f64::from(days_between(*used, *day)) <= p::CHANGE_NEW_AFTER.days()
                });
                // Before the first there is nothing to change from. Without another in between it
                // never changed, however long ago it was last written down.
                let latest = last.iter().max_by_key(|(_, used)| **used).map(|(name, _)| *name);
                if latest.is_some_and(|name| name != value) && !known {
                    let change = Change { day: day.to_string(), what, to: value.to_owned() };
                    out.push((*day, change));
                }
                last.insert(value, *day);
            }
        }
        out.sort_by_key(|(day, _)| *day);
        out
    }

    /// Days with a round that nobody looked at, where the grower logs white only and they are
    /// many: at least as many as stated, and more than the days with a look.
    pub(crate) fn silent_days(&self, logs_only_white: bool) -> BTreeSet<Date> {
        let looked: BTreeSet<Date> = self.looks.iter().map(|l| l.1).collect();
        let silent: BTreeSet<Date> =
            self.rounds.iter().map(|r| r.0).filter(|day| !looked.contains(day)).collect();
        let many =
            silent.len() as f64 >= p::SILENCE_ROUNDS_LEAST.number() && silent.len() > looked.len();
        if logs_only_white && many { silent } else { BTreeSet::new() }
    }
}

/// Whole days from one date to another; 0 where the calendar cannot tell.
pub(crate) fn days_between(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

/// A report against its model: the level, and the natural logarithm of the modelled residue.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Report {
    /// Its number in the request.
    pub(crate) number: usize,
    pub(crate) level: Level,
    pub(crate) log_residue: f64,
    pub(crate) log_sd: f64,
}

/// A day that tells about the threshold.
#[derive(Debug)]
pub(crate) struct LookDay {
    pub(crate) date: Date,
    /// One or more.
    pub(crate) reports: Vec<Report>,
    /// How much the day counts: 1 for a look.
    pub(crate) weight: f64,
}

impl LookDay {
    /// The days of some observations, and the silent ones, in the order of time. Observations
    /// without a modelled residue tell nothing here.
    pub(crate) fn all(
        record: &Record<'_>,
        which: impl Fn(&Observation) -> bool,
        silent: &BTreeSet<Date>,
    ) -> Vec<Self> {
        let mut by_day: BTreeMap<Date, Self> = BTreeMap::new();
        for (number, date, o) in &record.looks {
            let Some(residue) = o.whiteness_g_m2().filter(|_| which(o)) else { continue };
            let report = Report {
                number: *number,
                level: o.level,
                log_residue: log_residue(residue),
                log_sd: o.residue_log_sd.unwrap_or(p::DAY_LOG_SD.number()),
            };
            let day = || Self { date: *date, reports: Vec::new(), weight: 1.0 };
            by_day.entry(*date).or_insert_with(day).reports.push(report);
        }
        for (date, r) in record.rounds.iter().filter(|(date, _)| silent.contains(date)) {
            let Some(residue) = whiteness(r.feed_g_m2, r.scale_g_m2) else { continue };
            let report = Report {
                number: usize::MAX,
                level: Level::None,
                log_residue: log_residue(residue),
                log_sd: r.residue_log_sd.unwrap_or(p::DAY_LOG_SD.number()),
            };
            let weight = p::SILENCE_WEIGHT.number();
            let day = || Self { date: *date, reports: Vec::new(), weight };
            by_day.entry(*date).or_insert_with(day).reports.push(report);
        }
        by_day.into_values().collect()
    }

    /// The likelihood of the day at every point of the grid, omitting one report where asked.
    /// Reports of one day share the error of its model, so ten plants on one dry day count as one
    /// dry day: their geometric mean.
    pub(crate) fn likelihood(
        &self,
        grid: &Grid,
        emissions: &mut Emissions,
        without: Option<usize>,
    ) -> Vec<f64> {
        let kept = || self.reports.iter().filter(|r| Some(r.number) != without);
        let count = kept().count();
        if let (1, Some(only)) = (count, kept().next()) {
            let emission = emissions.of(only.log_sd);
            let one = along(grid, emission.level(only.level), only.log_residue);
            return if self.weight == 1.0 {
                one.collect()
            } else {
                one.map(|l| l.powf(self.weight)).collect()
            };
        }
        let mut logs = vec![0.0; POINTS];
        for r in kept() {
            let emission = emissions.of(r.log_sd);
            let curve = along(grid, emission.level(r.level), r.log_residue);
            logs.iter_mut().zip(curve).for_each(|(sum, l)| *sum += l.ln());
        }
        let share = self.weight / count.max(1) as f64;
        logs.iter().map(|sum| (sum * share).exp()).collect()
    }
}

/// The natural logarithm of a residue; too little to be seen at all is taken as a least amount.
pub(crate) fn log_residue(g_m2: f64) -> f64 {
    g_m2.max(p::RESIDUE_LEAST.g_per_m2()).ln()
}

/// A curve of log residue over threshold, at every threshold of the grid.
pub(crate) fn along(grid: &Grid, curve: &Curve, log_residue: f64) -> impl Iterator<Item = f64> {
    // A step of the grid is a whole number of hundredths, the step of the curve.
    let hundredths = (Grid::step() * 100.0).round() as i64;
    curve.down(log_residue - grid.first(), hundredths).take(POINTS)
}
