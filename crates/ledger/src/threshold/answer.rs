//! From a request to its answer.

use super::emission::Emissions;
use super::grid::{self, Grid};
use super::guard::guard;
use super::learn::{Learner, of_group};
use super::request::{NextStrengthRequest, Observation, Prior, ThresholdRequest};
use super::response::{
    Change, CurvePoint, Estimate, Evidence, Guard, LookWanted, NextStrength, ThresholdResponse,
};
use super::strength::next_strength;
use super::timeline::{LookDay, Record};
use crate::entry::Level;
use guardcell_call::Bounded;
use guardcell_error::Error;
use guardcell_reference::parameters::journal as p;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// Learns the residue threshold of a site, or of one group of it, and proposes the next strength.
///
/// The likelihood of a report is ordinal with a logistic link, over the error of the modelled
/// residue of its day; every number of it is in `data/journal.csv`, the prior in `data/film.csv`.
///
/// # Errors
/// For a number out of range, a day that cannot be read, too many entries.
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::{ThresholdRequest, learn_threshold};
/// let request: ThresholdRequest = serde_json::from_str(r#"{"observations": [
///     {"day": "2026-06-15", "level": "none", "feed_g_m2": 0.06},
///     {"day": "2026-06-18", "level": "none", "feed_g_m2": 0.07},
///     {"day": "2026-06-21", "level": "faint", "feed_g_m2": 0.09}]}"#).unwrap();
/// let answer = learn_threshold(&request).unwrap();
/// assert!(answer.posterior.median_g_m2 > answer.prior.median_g_m2);
/// assert!(answer.posterior.log_sd < answer.prior.log_sd);
/// ```
pub fn learn_threshold(request: &ThresholdRequest) -> Result<ThresholdResponse, Error> {
    Ok(Learned::new(request)?.response())
}

/// What a record taught: from here strengths are proposed for any cap.
#[derive(Debug)]
pub(crate) struct Learned<'a> {
    request: &'a ThresholdRequest,
    record: Record<'a>,
    changes: Vec<Change>,
    change_days: Vec<Date>,
    silent: BTreeSet<Date>,
    own: Vec<LookDay>,
    prior: Grid,
    posterior: Grid,
    guard: Option<Guard>,
    emissions: Emissions,
}

impl<'a> Learned<'a> {
    pub(crate) fn new(request: &'a ThresholdRequest) -> Result<Self, Error> {
        check(request)?;
        let record = Record::read(request)?;
        let start = match request.prior {
            None => {
                let (median, spread) = grid::shipped();
                Grid::log_normal(median, spread)
            }
            Some(Prior { median_g_m2, log_sd }) => Grid::log_normal(median_g_m2, log_sd),
        };
        let own_look = |o: &Observation| is_own(request, o);
        let silent = record.silent_days(request.logs_only_white);
        let (change_days, changes): (Vec<Date>, Vec<Change>) = record.changes().into_iter().unzip();
        let own = LookDay::all(&record, own_look, &silent);
        let mut emissions = Emissions::default();
        let mut learner = Learner::new(&change_days, record.day, &mut emissions);
        let prior = match &request.group {
            None => start,
            Some(_) => {
                let others = LookDay::all(&record, |o| !own_look(o), &BTreeSet::new());
                of_group(learner.posterior(&start, &others))
            }
        };
        let posterior = learner.posterior(&prior, &own);
        let guard = guard(&record, own_look, &silent);
        Ok(Self {
            request,
            record,
            changes,
            change_days,
            silent,
            own,
            prior,
            posterior,
            guard,
            emissions,
        })
    }

    /// The one place where a strength is proposed. Numbers of the request must be in range.
    pub(crate) fn next(&mut self, request: &NextStrengthRequest) -> NextStrength {
        let wanted = look_wanted(&self.record, |o| is_own(self.request, o));
        let guard = self.guard.clone();
        next_strength(&self.posterior, guard, request, wanted, &mut self.emissions)
    }

    pub(crate) fn response(mut self) -> ThresholdResponse {
        let request = self.request;
        let next = request.next.as_ref().map(|n| self.next(n));
        let influence = if request.influence {
            Learner::new(&self.change_days, self.record.day, &mut self.emissions).influence(
                &self.prior,
                &self.own,
                &self.posterior,
            )
        } else {
            Vec::new()
        };
        let share = request.interval_share.unwrap_or(p::INTERVAL_SHARE.number());
        ThresholdResponse {
            group: request.group.clone(),
            day: self.record.day.map(|d| d.to_string()),
            prior: estimate(&self.prior, share),
            posterior: estimate(&self.posterior, share),
            interval_share: share,
            at_least: at_least(&self.own),
            evidence: evidence(&self.record, |o| is_own(request, o), &influence),
            not_used: request.not_used.clone(),
            changes: self.changes,
            counted_as_clean: u32::try_from(self.silent.len()).unwrap_or(u32::MAX),
            curve: curve(&self.prior, &self.posterior),
            next,
        }
    }
}

/// Whether a look is on the group that is asked for; of the site all are.
fn is_own(request: &ThresholdRequest, o: &Observation) -> bool {
    request.group.is_none() || o.group == request.group
}

/// The place is spelled out only where something is wrong: a journal has many numbers.
fn check(request: &ThresholdRequest) -> Result<(), Error> {
    request.check_bounds()?;
    all("/observations", &request.observations)?;
    all("/rounds", &request.rounds)?;
    all("/not_used", &request.not_used)?;
    if let Some(prior) = &request.prior {
        prior.check_bounds().map_err(|e| e.within("/prior"))?;
    }
    if let Some(next) = &request.next {
        next.check_bounds().map_err(|e| e.within("/next"))?;
        all("/next/usual_days", &next.usual_days)?;
    }
    Ok(())
}

fn all<T: Bounded>(pointer: &str, items: &[T]) -> Result<(), Error> {
    for (i, item) in items.iter().enumerate() {
        item.check_bounds().map_err(|e| e.within(&format!("{pointer}/{i}")))?;
    }
    Ok(())
}

fn estimate(grid: &Grid, share: f64) -> Estimate {
    Estimate {
        median_g_m2: grid.quantile(0.5),
        low_g_m2: grid.quantile((1.0 - share) / 2.0),
        high_g_m2: grid.quantile(f64::midpoint(1.0, share)),
        log_sd: grid.log_sd(),
    }
}

/// Whether the last looks, and there are some, are all clean.
fn at_least(days: &[LookDay]) -> bool {
    let looks = || days.iter().rev().filter(|d| d.weight >= 1.0);
    looks().next().is_some()
        && looks()
            .take(p::USUAL_ROUNDS.number() as usize)
            .all(|d| d.reports.iter().all(|r| r.level == Level::None))
}

fn evidence(
    record: &Record<'_>,
    own: impl Fn(&Observation) -> bool,
    influence: &[(usize, super::response::Influence)],
) -> Vec<Evidence> {
    let mut by_number: Vec<_> = influence.to_vec();
    by_number.sort_by_key(|(number, _)| *number);
    record
        .looks
        .iter()
        .filter(|(_, _, o)| own(o) && o.whiteness_g_m2().is_some())
        .map(|(number, _, o)| Evidence {
            observation: (*o).clone(),
            influence: by_number
                .binary_search_by_key(number, |(n, _)| *n)
                .ok()
                .and_then(|i| by_number.get(i))
                .map(|(_, influence)| *influence),
        })
        .collect()
}

/// How many of the last days with a round have a clean look, where that is too few and some were
/// not looked at.
fn look_wanted(record: &Record<'_>, own: impl Fn(&Observation) -> bool) -> Option<LookWanted> {
    let rounds: BTreeSet<Date> = record.rounds.iter().map(|r| r.0).collect();
    let last: BTreeSet<Date> =
        rounds.into_iter().rev().take(p::USUAL_ROUNDS.number() as usize).collect();
    let on = |clean: bool| {
        let days: BTreeSet<Date> = record
            .looks
            .iter()
            .filter(|(_, day, o)| {
                own(o) && last.contains(day) && (!clean || o.level == Level::None)
            })
            .map(|(_, day, _)| *day)
            .collect();
        days.len()
    };
    let wanted = (p::CLEAN_LOOKS_WANTED.number() as usize).min(last.len());
    let (looked, clean) = (on(false), on(true));
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    (clean < wanted && looked < last.len()).then(|| LookWanted {
        of_rounds: count(last.len()),
        clean_looks: count(clean),
        wanted: count(wanted),
    })
}

fn curve(prior: &Grid, posterior: &Grid) -> Vec<CurvePoint> {
    prior
        .densities()
        .zip(posterior.densities())
        .filter(|((_, a), (_, b))| *a > 1e-6 || *b > 1e-6)
        .map(|((threshold_g_m2, prior_density), (_, posterior_density))| CurvePoint {
            threshold_g_m2,
            prior_density,
            posterior_density,
        })
        .collect()
}
