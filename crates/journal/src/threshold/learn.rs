//! The posterior, what each report did to it, and the next strength.

use super::answer::{
    CurvePoint, Estimate, Evidence, NextStrength, NextStrengthRequest, Observation, Prior,
    ThresholdAnswer, ThresholdRequest,
};
use super::grid::{self, Grid};
use super::link::{Day, DayError, Report, logistic};
use crate::check::range;
use crate::error::JournalError;
use guardcell::reference::parameters::{journal as p, practice};
use std::collections::BTreeMap;

/// Learns the residue threshold of a site, or of one group of it.
///
/// The likelihood of a report is ordinal with a logistic link, over the error of the modelled
/// residue of its day; every number of it is in `data/journal.csv`, the prior in `data/film.csv`.
///
/// # Errors
/// [`JournalError::Value`] for a number out of range.
///
/// ```
/// use guardcell_journal::{Level, Observation, ThresholdRequest, learn_threshold};
/// let seen = |level, residue_g_m2| Observation {
///     entry: None, at: None, group: None, day: None, level, residue_g_m2, residue_log_sd: None,
/// };
/// let answer = learn_threshold(&ThresholdRequest {
///     observations: vec![seen(Level::None, 0.06), seen(Level::None, 0.07), seen(Level::Faint, 0.09)],
///     ..ThresholdRequest::default()
/// }).unwrap();
/// assert!(answer.posterior.median_g_m2 > answer.prior.median_g_m2);
/// assert!(answer.posterior.log_sd < answer.prior.log_sd);
/// ```
pub fn learn_threshold(request: &ThresholdRequest) -> Result<ThresholdAnswer, JournalError> {
    let share = request.interval_share.unwrap_or(p::INTERVAL_SHARE.value);
    range("/interval_share", share, 0.5, 0.99, "")?;
    for (i, o) in request.observations.iter().enumerate() {
        let at = |field: &str| format!("/observations/{i}/{field}");
        range(&at("residue_g_m2"), o.residue_g_m2, 0.0, p::RESIDUE_MOST.value, "g/m²")?;
        if let Some(sd) = o.residue_log_sd {
            range(&at("residue_log_sd"), sd, 0.01, 3.0, "")?;
        }
    }
    let start = match request.prior {
        None => Grid::shipped(),
        Some(Prior { median_g_m2, log_sd }) => {
            range("/prior/median_g_m2", median_g_m2, 0.001, 2.0, "g/m²")?;
            range("/prior/log_sd", log_sd, 0.05, 1.0, "")?;
            Grid::log_normal(median_g_m2, log_sd)
        }
    };
    let (own, others) = match &request.group {
        None => (days(&request.observations, |_| true), Vec::new()),
        Some(group) => (
            days(&request.observations, |o| o.group.as_ref() == Some(group)),
            days(&request.observations, |o| o.group.as_ref() != Some(group)),
        ),
    };
    let prior = match &request.group {
        None => start,
        Some(_) => Learned::new(&start, &others).posterior.spread(p::GROUP_LOG_SD.value),
    };
    let learned = Learned::new(&prior, &own);
    let next = request.next.as_ref().map(|n| next_strength(&learned.posterior, n)).transpose()?;
    let mut evidence: Vec<Evidence> = request
        .observations
        .iter()
        .map(|o| Evidence { observation: o.clone(), pull_percent: 0.0, odd_day: 0.0 })
        .collect();
    for day in 0..own.len() {
        for (number, pull_percent, odd_day) in learned.influence(day) {
            if let Some(e) = evidence.get_mut(number) {
                e.pull_percent = pull_percent;
                e.odd_day = odd_day;
            }
        }
    }
    if request.group.is_some() {
        // The rest went into the prior of the group.
        evidence.retain(|e| e.observation.group == request.group);
    }
    Ok(ThresholdAnswer {
        group: request.group.clone(),
        prior: estimate(&prior, share),
        posterior: estimate(&learned.posterior, share),
        interval_share: share,
        evidence,
        not_used: request.not_used.clone(),
        curve: curve(&prior, &learned.posterior),
        next,
    })
}

/// Reports by day; those without a day stand alone.
fn days(observations: &[Observation], which: impl Fn(&Observation) -> bool) -> Vec<Day> {
    type Reports = Vec<(usize, Report)>;
    let mut shared: BTreeMap<&str, (Reports, f64)> = BTreeMap::new();
    let mut out = Vec::new();
    for (number, o) in observations.iter().enumerate().filter(|(_, o)| which(o)) {
        let report =
            Report { level: o.level, log_residue: o.residue_g_m2.max(p::RESIDUE_LEAST.value).ln() };
        let log_sd = o.residue_log_sd.unwrap_or(p::DAY_LOG_SD.value);
        match &o.day {
            None => out.push(Day::new(vec![(number, report)], log_sd)),
            Some(day) => {
                let (reports, sd) = shared.entry(day).or_insert((Vec::new(), log_sd));
                reports.push((number, report));
                *sd = sd.max(log_sd);
            }
        }
    }
    out.extend(shared.into_values().map(|(reports, sd)| Day::new(reports, sd)));
    out
}

struct Learned<'a> {
    prior: &'a Grid,
    days: &'a [Day],
    /// Log likelihood of each day at each point, and the share of it from an odd day.
    each: Vec<Vec<(f64, f64)>>,
    total: Vec<f64>,
    posterior: Grid,
}

impl<'a> Learned<'a> {
    fn new(prior: &'a Grid, days: &'a [Day]) -> Self {
        let each: Vec<Vec<(f64, f64)>> = days
            .iter()
            .map(|day| {
                prior
                    .points()
                    .map(|(x, _)| {
                        let (all, odd) = day.likelihood(x, None);
                        // Above 0: a mistaken report makes everything possible.
                        (all.ln(), odd / all)
                    })
                    .collect()
            })
            .collect();
        let mut total = vec![0.0; prior.points().count()];
        for day in &each {
            for (sum, (log, _)) in total.iter_mut().zip(day) {
                *sum += log;
            }
        }
        let posterior = prior.weighed(&total);
        Self { prior, days, each, total, posterior }
    }

    /// For each report of a day: its number, its pull in %, the probability of an odd day.
    fn influence(&self, day: usize) -> Vec<(usize, f64, f64)> {
        let (Some(this), Some(each)) = (self.days.get(day), self.each.get(day)) else {
            return Vec::new();
        };
        let odd_day =
            self.posterior.points().zip(each).map(|((_, w), (_, odd))| w * odd).sum::<f64>();
        let median = self.posterior.quantile(0.5);
        let alone = this.numbers().count() == 1;
        this.numbers()
            .map(|number| {
                let rest: Vec<f64> = self
                    .prior
                    .points()
                    .zip(self.total.iter().zip(each))
                    .map(|((x, _), (total, (log, _)))| {
                        let without =
                            if alone { 0.0 } else { this.likelihood(x, Some(number)).0.ln() };
                        total - log + without
                    })
                    .collect();
                let pull = median / self.prior.weighed(&rest).quantile(0.5) - 1.0;
                (number, pull * 100.0, odd_day)
            })
            .collect()
    }
}

fn estimate(grid: &Grid, share: f64) -> Estimate {
    Estimate {
        median_g_m2: grid.quantile(0.5),
        low_g_m2: grid.quantile((1.0 - share) / 2.0),
        high_g_m2: grid.quantile(f64::midpoint(1.0, share)),
        log_sd: grid.log_sd(),
    }
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

fn next_strength(
    posterior: &Grid,
    request: &NextStrengthRequest,
) -> Result<NextStrength, JournalError> {
    let slope = request.residue_g_m2_per_mg_l;
    let base = request.residue_without_feed_g_m2;
    let log_sd = request.residue_log_sd.unwrap_or(p::DAY_LOG_SD.value);
    let tolerance = request.tolerance.unwrap_or(practice::TOLERANCE.value);
    let most = practice::STRENGTH_ESTABLISHED_HUMID_SINGLE_PASS.value;
    let cap = request.cap_mg_l.unwrap_or(most);
    let least = practice::STRENGTH_LEAST_USEFUL.value;
    range("/next/residue_g_m2_per_mg_l", slope, 0.0, 0.01, "g/m² per mg/L")?;
    range("/next/residue_without_feed_g_m2", base, 0.0, p::RESIDUE_MOST.value, "g/m²")?;
    range("/next/residue_log_sd", log_sd, 0.01, 3.0, "")?;
    range("/next/tolerance", tolerance, 0.01, 0.5, "")?;
    range("/next/cap_mg_l", cap, least, 10_000.0, "mg/L")?;
    if let Some(present) = request.present_mg_l {
        range("/next/present_mg_l", present, 0.0, 10_000.0, "mg/L")?;
    }
    let errors = match request.odd_days {
        Some(false) => DayError::ordinary(log_sd),
        Some(true) | None => DayError::any(log_sd),
    };
    let seen = |strength: f64| {
        let residue = (base + slope * strength).max(p::RESIDUE_LEAST.value).ln();
        posterior.mean(|x| errors.mean(|e| logistic((residue + e - x) / p::LINK_SCALE.value)))
    };
    let answer = |strength: Option<f64>, probability| NextStrength {
        feed_strength_mg_l: strength,
        probability,
        tolerance,
        capped: strength == Some(cap.floor()) && probability <= tolerance,
        probability_without_feed: seen(0.0),
        probability_at_present: request.present_mg_l.map(seen),
    };
    let at_least = seen(least);
    if at_least > tolerance {
        return Ok(answer(None, at_least));
    }
    // The probability rises with the strength: halve the interval, in whole mg/L.
    let (mut low, mut high) = (least.ceil() as u32, cap.floor() as u32);
    while low < high {
        let middle = low + (high - low).div_ceil(2);
        if seen(f64::from(middle)) <= tolerance { low = middle } else { high = middle - 1 }
    }
    let strength = f64::from(low);
    Ok(answer(Some(strength), seen(strength)))
}

impl Prior {
    /// The shipped calibration.
    ///
    /// ```
    /// assert!(guardcell_journal::Prior::shipped().median_g_m2 > 0.0);
    /// ```
    #[must_use]
    pub fn shipped() -> Self {
        let (median_g_m2, log_sd) = grid::shipped();
        Self { median_g_m2, log_sd }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::entry::Level;

    fn seen(level: Level, residue_g_m2: f64) -> Observation {
        Observation {
            entry: None,
            at: None,
            group: None,
            day: None,
            level,
            residue_g_m2,
            residue_log_sd: None,
        }
    }

    fn learn(observations: Vec<Observation>) -> ThresholdAnswer {
        // A prior of the tests' own, so that a new calibration does not move what they look at.
        let prior = Some(Prior { median_g_m2: 0.04, log_sd: 0.5 });
        learn_threshold(&ThresholdRequest { observations, prior, ..Default::default() }).unwrap()
    }

    #[test]
    fn nothing_seen_leaves_the_prior() {
        let a = learn(vec![]);
        assert!((a.prior.high_g_m2 / a.posterior.high_g_m2 - 1.0).abs() < 1e-9);
        assert!((a.prior.log_sd - a.posterior.log_sd).abs() < 1e-9);
        // No residue modelled, none seen: nothing learned.
        let b = learn(vec![seen(Level::None, 0.0); 20]);
        assert!((b.posterior.median_g_m2 / a.prior.median_g_m2 - 1.0).abs() < 1e-6);
    }

    #[test]
    fn reports_pull_the_right_way() {
        let prior = learn(vec![]).prior.median_g_m2;
        assert!(learn(vec![seen(Level::None, 0.1)]).posterior.median_g_m2 > prior);
        assert!(learn(vec![seen(Level::Faint, 0.01)]).posterior.median_g_m2 < prior);
        let faint = learn(vec![seen(Level::Faint, 0.05)]).posterior.median_g_m2;
        let clear = learn(vec![seen(Level::Clear, 0.05)]).posterior.median_g_m2;
        let heavy = learn(vec![seen(Level::Heavy, 0.05)]).posterior.median_g_m2;
        assert!(faint > clear && clear > heavy);
    }

    #[test]
    fn a_group_leans_on_its_site() {
        let of = |group: &str, o: Observation| Observation { group: Some(group.into()), ..o };
        let mut all: Vec<_> = (0..10).map(|_| of("dark", seen(Level::Faint, 0.015))).collect();
        let ask = |all: &[Observation], group: &str| {
            learn_threshold(&ThresholdRequest {
                observations: all.to_vec(),
                group: Some(group.into()),
                prior: Some(Prior { median_g_m2: 0.04, log_sd: 0.5 }),
                ..ThresholdRequest::default()
            })
            .unwrap()
        };
        let pale = ask(&all, "pale");
        assert!(pale.evidence.is_empty());
        assert!(pale.posterior.median_g_m2 < 0.8 * 0.04);
        all.extend((0..10).map(|_| of("pale", seen(Level::None, 0.03))));
        let (pale, dark) = (ask(&all, "pale"), ask(&all, "dark"));
        assert!(pale.posterior.median_g_m2 > dark.posterior.median_g_m2);
        assert_eq!(pale.evidence.len(), 10);
    }

    #[test]
    fn the_next_strength_is_the_highest_within_tolerance() {
        let ask = |slope, base, cap| {
            learn_threshold(&ThresholdRequest {
                next: Some(NextStrengthRequest {
                    residue_g_m2_per_mg_l: slope,
                    residue_without_feed_g_m2: base,
                    residue_log_sd: None,
                    tolerance: Some(0.1),
                    cap_mg_l: cap,
                    present_mg_l: None,
                    odd_days: None,
                }),
                prior: Some(Prior { median_g_m2: 0.04, log_sd: 0.5 }),
                ..ThresholdRequest::default()
            })
            .unwrap()
            .next
            .unwrap()
        };
        let n = ask(1e-4, 0.0, None);
        assert!(n.probability <= 0.1 && n.probability > 0.09, "{n:?}");
        assert!(!n.capped);
        assert!(ask(1e-4, 0.005, None).feed_strength_mg_l < n.feed_strength_mg_l);
        let low = ask(1e-6, 0.0, Some(300.0));
        assert_eq!((low.feed_strength_mg_l, low.capped), (Some(300.0), true));
        let hard = ask(1e-4, 0.5, None);
        assert_eq!(hard.feed_strength_mg_l, None);
        assert!(hard.probability_without_feed > 0.9);
    }

    #[test]
    fn bad_numbers_are_refused_with_their_place() {
        for (o, place) in [
            (seen(Level::None, -1.0), "/observations/0/residue_g_m2"),
            (seen(Level::None, f64::NAN), "/observations/0/residue_g_m2"),
            (
                Observation { residue_log_sd: Some(0.0), ..seen(Level::None, 0.1) },
                "/observations/0/residue_log_sd",
            ),
        ] {
            let request = ThresholdRequest { observations: vec![o], ..Default::default() };
            let says = learn_threshold(&request).unwrap_err().to_string();
            assert!(says.starts_with(place), "{says}");
        }
    }
}
