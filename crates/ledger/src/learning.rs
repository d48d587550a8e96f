//! From entries to the thresholds and the next strengths of a site: one for the site, and one for
//! each group of plants that has reports enough.

use crate::entry::{Event, Place};
use crate::moment::Moment;
use crate::record::{Record, record};
use crate::standing::Timed;
use crate::threshold::{
    Learned, NextStrengthRequest, SprayedRound, ThresholdRequest, ThresholdResponse, UsualDay,
    whiteness,
};
use guardcell_error::Error;
use guardcell_reference::parameters::{journal, practice};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// How it is learned.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct LearnSettings {
    pub(crate) tolerance: Option<f64>,
    pub(crate) interval_share: Option<f64>,
    pub(crate) logs_only_white: bool,
    pub(crate) influence: bool,
}

/// What the entries of a site tell about residue, up to a moment.
#[derive(Debug)]
pub(crate) struct SiteRecord {
    record: Record,
    at: Moment,
    settings: LearnSettings,
    /// The group of the last look on each plant.
    group_of: BTreeMap<String, String>,
    /// Looks of each group that tell about residue.
    looks_of: BTreeMap<String, usize>,
    /// Plants of each round, in the order of the rounds.
    sprayed: Vec<BTreeSet<String>>,
}

impl SiteRecord {
    pub(crate) fn new(timed: &[Timed<'_>], at: Moment, settings: LearnSettings) -> Self {
        let mut group_of = BTreeMap::new();
        let mut sprayed = Vec::new();
        for t in timed {
            match &t.entry.event {
                Event::Residue(r) if r.place == Place::Leaf => {
                    for (plant, group) in r.plants.iter().zip(r.group.iter().cycle()) {
                        group_of.insert(plant.clone(), group.clone());
                    }
                }
                Event::Round(r) => {
                    sprayed.push(r.plants.iter().map(|p| p.plant.clone()).collect());
                }
                _ => {}
            }
        }
        let record = record(timed);
        let mut looks_of = BTreeMap::new();
        for group in record.observations.iter().filter_map(|o| o.group.as_ref()) {
            *looks_of.entry(group.clone()).or_insert(0) += 1;
        }
        Self { record, at, settings, group_of, looks_of, sprayed }
    }

    /// Looks on the leaves of a group; of the site where none is named.
    pub(crate) fn looks(&self, group: Option<&str>) -> usize {
        match group {
            None => self.record.observations.len(),
            Some(group) => self.looks_of.get(group).copied().unwrap_or(0),
        }
    }

    /// Whether a group has looks enough for numbers of its own.
    pub(crate) fn stands_alone(&self, group: &str) -> bool {
        self.looks(Some(group)) as f64 >= journal::GROUP_REPORTS_LEAST.number()
    }

    /// Groups with numbers of their own, by name.
    pub(crate) fn groups(&self) -> Vec<&str> {
        self.looks_of.keys().map(String::as_str).filter(|g| self.stands_alone(g)).collect()
    }

    /// The group whose numbers hold for a plant; those of the site where absent.
    pub(crate) fn group_of(&self, plant: &str) -> Option<&str> {
        self.group_of.get(plant).map(String::as_str).filter(|g| self.stands_alone(g))
    }

    /// The request that learns for a group, or for the site. Without a look there is nothing to
    /// propose from: the strength is then that of the advice for the day.
    pub(crate) fn request(&self, group: Option<&str>) -> ThresholdRequest {
        let next = (self.looks(group) > 0).then(|| NextStrengthRequest {
            usual_days: self.usual_days(group),
            tolerance: self.settings.tolerance,
            cap_mg_l: Some(practice::STRENGTH_ESTABLISHED.mg_per_l()),
            present_mg_l: None,
        });
        ThresholdRequest {
            observations: self.record.observations.clone(),
            rounds: self.record.rounds.clone(),
            not_used: self.record.not_used.clone(),
            day: Some(self.at.date().to_string()),
            group: group.map(str::to_owned),
            interval_share: self.settings.interval_share,
            logs_only_white: self.settings.logs_only_white,
            influence: self.settings.influence,
            next,
            ..ThresholdRequest::default()
        }
    }

    pub(crate) fn threshold(&self, group: Option<&str>) -> Result<ThresholdResponse, Error> {
        Ok(Learned::new(&self.request(group))?.response())
    }

    /// What a round leaves on a usual day: the last rounds with feed and a modelled residue, by
    /// day; for a group those on its plants, where there are any.
    fn usual_days(&self, group: Option<&str>) -> Vec<UsualDay> {
        let on = |i: usize| match group {
            None => true,
            Some(_) => self
                .sprayed
                .get(i)
                .is_some_and(|plants| plants.iter().any(|p| self.group_of(p) == group)),
        };
        let own = self.usual_rounds(on);
        let rounds = if own.is_empty() { self.usual_rounds(|_| true) } else { own };
        rounds.into_iter().filter_map(usual_day).collect()
    }

    fn usual_rounds(&self, on: impl Fn(usize) -> bool) -> Vec<&SprayedRound> {
        const MOST: usize = 100;
        let earliest = self.earliest_usual().to_string();
        let mut days: BTreeSet<&str> = BTreeSet::new();
        let mut out = Vec::new();
        for (i, r) in self.record.rounds.iter().enumerate().rev() {
            if r.feed_strength_mg_l <= 0.0 || r.feed_g_m2.is_none() || !on(i) {
                continue;
            }
            days.insert(&r.day);
            if r.day < earliest
                || days.len() > journal::USUAL_ROUNDS.number() as usize
                || out.len() == MOST
            {
                break;
            }
            out.push(r);
        }
        out
    }

    fn earliest_usual(&self) -> Date {
        let days = jiff::Span::new().days(journal::USUAL_WITHIN.days() as i64);
        self.at.date().saturating_sub(days)
    }

    /// The feed strength of the last rounds on a plant (the lower of the two middle ones), and how
    /// many they are.
    pub(crate) fn usual_strength(&self, plant: &str) -> Option<(usize, f64)> {
        let earliest = self.earliest_usual().to_string();
        let mut last: Vec<f64> = self
            .record
            .rounds
            .iter()
            .zip(&self.sprayed)
            .rev()
            .take_while(|(r, _)| r.day >= earliest)
            .filter(|(r, plants)| r.feed_strength_mg_l > 0.0 && plants.contains(plant))
            .take(journal::USUAL_ROUNDS.number() as usize)
            .map(|(r, _)| r.feed_strength_mg_l)
            .collect();
        last.sort_by(f64::total_cmp);
        let middle = last.get(last.len().saturating_sub(1) / 2).copied()?;
        Some((last.len(), middle))
    }
}

/// What one round says of a usual day.
fn usual_day(r: &SprayedRound) -> Option<UsualDay> {
    let scale = whiteness(None, r.scale_g_m2).unwrap_or(0.0);
    Some(UsualDay {
        residue_g_m2_per_mg_l: (r.feed_g_m2? / r.feed_strength_mg_l).min(0.01),
        residue_without_feed_g_m2: scale.min(journal::RESIDUE_MOST.g_per_m2()),
        residue_log_sd: r.residue_log_sd,
    })
}
