//! From entries to what tells about residue: looks with what was modelled for their rounds, and
//! the rounds themselves.

use crate::entry::{Conditions, Event, Level, Nature, Place, Residue, Round};
use crate::standing::Timed;
use crate::threshold::{NotUsed, Observation, SprayedRound, whiteness};
use guardcell_reference::parameters::{film, journal};
use jiff::{SignedDuration, Timestamp};
use std::collections::BTreeMap;

/// What the entries tell about residue.
#[derive(Debug, Clone, Default)]
pub(crate) struct Record {
    pub(crate) observations: Vec<Observation>,
    pub(crate) rounds: Vec<SprayedRound>,
    pub(crate) not_used: Vec<NotUsed>,
}

/// A round with its time.
#[derive(Debug, Clone, Copy)]
struct Sprayed<'a> {
    timed: Timed<'a>,
    round: &'a Round,
}

/// The rounds in the order of time, to be found by entry and by time.
struct Rounds<'a> {
    list: Vec<Sprayed<'a>>,
    by_id: BTreeMap<&'a str, usize>,
}

impl<'a> Rounds<'a> {
    fn new(timed: &[Timed<'a>]) -> Self {
        let list: Vec<Sprayed<'a>> = timed
            .iter()
            .filter_map(|t| match &t.entry.event {
                Event::Round(round) => Some(Sprayed { timed: *t, round }),
                _ => None,
            })
            .collect();
        let by_id = list.iter().enumerate().map(|(i, s)| (s.timed.entry.id.as_str(), i)).collect();
        Self { list, by_id }
    }

    /// The round that a look is about: the one it names, else the last on a plant it names (on
    /// any, where it names none) within the time of the practice table.
    fn of(&self, look: Timed<'_>, seen: &Residue) -> Option<usize> {
        if let Some(id) = &seen.round {
            return self.by_id.get(id.as_str()).copied();
        }
        let earliest = ago(look.when.instant, journal::LINKED_WITHIN.hours() * 3600.0);
        self.before(look.when.instant, earliest).find(|i| self.is_for(*i, look, seen))
    }

    /// Rounds up to one moment and not before another, latest first.
    fn before(&self, until: Timestamp, earliest: Timestamp) -> impl Iterator<Item = usize> {
        let end = self.list.partition_point(|s| s.timed.when.instant <= until);
        let start = self.list.partition_point(|s| s.timed.when.instant < earliest);
        (start.min(end)..end).rev()
    }

    /// Whether a round was on the site and on one of the plants of a look.
    fn is_for(&self, i: usize, look: Timed<'_>, seen: &Residue) -> bool {
        self.list.get(i).is_some_and(|s| {
            s.timed.entry.site == look.entry.site
                && (seen.plants.is_empty()
                    || s.round.plants.iter().any(|p| seen.plants.contains(&p.plant)))
        })
    }

    /// For leaves that were not wiped: the rounds since the last wipe, the one looked at included.
    /// The wipe is the one that a look before says preceded its round.
    fn since_wipe(&self, of: usize, look: Timed<'_>, seen: &Residue, wipes: &Wipes) -> Vec<usize> {
        let Some(last) = self.list.get(of) else { return Vec::new() };
        let until = last.timed.when.instant;
        let wiped = wipes.last(seen, look.entry.site.as_str(), until);
        let longest = ago(until, journal::WIPE_LONGEST.days() * 86_400.0);
        let earliest = wiped.map_or(longest, |w| w.max(longest));
        self.before(until, earliest).filter(|i| *i == of || self.is_for(*i, look, seen)).collect()
    }
}

/// When leaves were last known to be clean by wiping: the time of the round that followed, by
/// plant or group.
#[derive(Debug, Default)]
struct Wipes(BTreeMap<(String, String), Timestamp>);

impl Wipes {
    fn keys<'s>(seen: &'s Residue, site: &'s str) -> impl Iterator<Item = (String, String)> + 's {
        let group = seen.group.iter().map(|g| format!(";{g}"));
        seen.plants.iter().cloned().chain(group).map(move |name| (site.to_owned(), name))
    }

    fn add(&mut self, seen: &Residue, site: &str, round: Timestamp) {
        self.since(Self::keys(seen, site), round);
    }

    /// Plants whose leaves were wiped at a moment.
    fn clean(&mut self, plants: &[String], site: &str, at: Timestamp) {
        self.since(plants.iter().map(|p| (site.to_owned(), p.clone())), at);
    }

    fn since(&mut self, keys: impl Iterator<Item = (String, String)>, at: Timestamp) {
        for key in keys {
            let last = self.0.entry(key).or_insert(at);
            *last = at.max(*last);
        }
    }

    /// The last wipe of any of them up to a moment.
    fn last(&self, seen: &Residue, site: &str, until: Timestamp) -> Option<Timestamp> {
        Self::keys(seen, site).filter_map(|k| self.0.get(&k).copied()).filter(|t| *t <= until).max()
    }
}

/// The record of entries that stand. The day and the strength of a look are those of the round it
/// is about; what was modelled is that of the look itself, else of its round. A look at leaves
/// that were not wiped is about all rounds since the last wipe: white on them may be from the
/// strongest and heaviest of these, and clean leaves say that none of these left white.
pub(crate) fn record(timed: &[Timed<'_>]) -> Record {
    let rounds = Rounds::new(timed);
    let mut out =
        Record { rounds: rounds.list.iter().map(|s| sprayed(s)).collect(), ..Record::default() };
    let mut wipes = Wipes::default();
    for t in timed {
        if let Event::Wipe(wipe) = &t.entry.event {
            wipes.clean(&wipe.plants, t.entry.site.as_str(), t.when.instant);
        }
        let Event::Residue(seen) = &t.entry.event else { continue };
        let round = rounds.of(*t, seen);
        let about: Vec<usize> = match (round, seen.wiped) {
            (Some(i), Some(false)) => rounds.since_wipe(i, *t, seen, &wipes),
            (round, _) => round.into_iter().collect(),
        };
        if let (Some(i), Some(true)) = (round.and_then(|i| rounds.list.get(i)), seen.wiped) {
            wipes.add(seen, t.entry.site.as_str(), i.timed.when.instant);
        }
        let about: Vec<Sprayed<'_>> =
            about.into_iter().filter_map(|i| rounds.list.get(i).copied()).collect();
        match observation(*t, seen, round.and_then(|i| rounds.list.get(i)), &about) {
            Ok(o) => out.observations.push(o),
            Err(why) => {
                out.not_used.push(NotUsed { entry: t.entry.id.clone(), why: why.into() });
            }
        }
    }
    out
}

fn observation(
    look: Timed<'_>,
    seen: &Residue,
    round: Option<&Sprayed<'_>>,
    about: &[Sprayed<'_>],
) -> Result<Observation, &'static str> {
    if seen.place != Place::Leaf {
        return Err("it is not on a leaf: the threshold is that of leaves");
    }
    let own =
        seen.conditions.as_ref().filter(|c| c.residue_g_m2.is_some() || c.scale_g_m2.is_some());
    let modelled: Vec<&Conditions> = match own {
        Some(own) => vec![own],
        None => about.iter().filter_map(|s| s.round.conditions.as_ref()).collect(),
    };
    // The heaviest of the rounds that it is about.
    let air = modelled.into_iter().max_by(|a, b| of(seen, a).1.total_cmp(&of(seen, b).1));
    let scale_alone = seen.nature == Nature::Scale && seen.level != Level::None;
    let strength =
        about.iter().map(|s| s.round.feed_strength_mg_l).reduce(f64::max).filter(|_| !scale_alone);
    let ((feed, scale), total) = air.map_or(((None, None), 0.0), |a| of(seen, a));
    if feed.is_none() && scale.is_none() && strength.is_none() {
        return Err(match (round, scale_alone) {
            (None, _) => "no round is known that it is about, and no residue is given with it",
            (Some(_), true) => "it is scale, and no scale was modelled for that round",
            (Some(_), false) => "no residue was modelled for that round",
        });
    }
    let day = round.map_or(look.when, |s| s.timed.when).date();
    Ok(Observation {
        entry: Some(look.entry.id.clone()),
        at: Some(look.entry.at.clone()),
        round: round.map(|s| s.timed.entry.id.clone()),
        group: seen.group.clone(),
        feed_g_m2: feed,
        scale_g_m2: scale,
        residue_log_sd: air.and_then(|c| spread(c, total)),
        feed_strength_mg_l: strength,
        ..Observation::new(day.to_string(), seen.level)
    })
}

/// Feed salts and scale, in g/m², that the look can have been at, and both as whiteness. Clean is
/// clean of both, whatever nature is given with it.
fn of(seen: &Residue, c: &Conditions) -> ((Option<f64>, Option<f64>), f64) {
    let nature = if seen.level == Level::None { Nature::Unknown } else { seen.nature };
    let (feed, scale) = match nature {
        Nature::Feed => (c.residue_g_m2, None),
        Nature::Scale => (None, c.scale_g_m2),
        Nature::Unknown => match c.residue_g_m2 {
            Some(feed) => (Some(feed), c.scale_g_m2),
            // Scale alone says too little of what an unknown white is.
            None => (None, None),
        },
    };
    ((feed, scale), whiteness(feed, scale).unwrap_or(0.0))
}

fn sprayed(s: &Sprayed<'_>) -> SprayedRound {
    let (round, c) = (s.round, s.round.conditions.as_ref());
    let feed = c.and_then(|c| c.residue_g_m2);
    let scale = c.and_then(|c| c.scale_g_m2);
    let white = whiteness(feed, scale).unwrap_or(0.0);
    SprayedRound {
        entry: Some(s.timed.entry.id.clone()),
        feed_g_m2: feed,
        scale_g_m2: scale,
        residue_log_sd: c.and_then(|c| spread(c, white)),
        product: round.product.clone(),
        water: round.water.clone(),
        wetting_agent: round.wetting_agent.clone(),
        sprayer: round.sprayer.clone(),
        ..SprayedRound::new(s.timed.when.date().to_string(), round.feed_strength_mg_l)
    }
}

/// The log-normal uncertainty of what is seen. Feed salts and scale share that of the film load;
/// what the air of the day adds touches the feed salts alone, and what is seen as far as they are in
/// it.
pub(crate) fn spread(c: &Conditions, seen_g_m2: f64) -> Option<f64> {
    let (sd, feed) = (c.residue_log_sd?, c.residue_g_m2?);
    let share = if seen_g_m2 > 0.0 { (feed / seen_g_m2).min(1.0) } else { 1.0 };
    // Who states less than the film load varies by on most leaves knows better.
    let load = film::LOAD_LOG_SD.number().min(sd);
    let air = (sd * sd - load * load).max(0.0).sqrt();
    Some(load.hypot(share * air))
}

fn ago(t: Timestamp, seconds: f64) -> Timestamp {
    t.saturating_sub(SignedDuration::from_secs_f64(seconds)).unwrap_or(Timestamp::MIN)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The spread of `ln(load × (feed × air + scale))` with load and air log-normal, by sums over
    /// both: the statement of the rule itself, without its approximation.
    fn by_sums(feed: f64, scale: f64, load_sd: f64, air_sd: f64) -> f64 {
        let z: Vec<f64> = (-50..=50).map(|i| f64::from(i) * 0.1).collect();
        let weight = |z: f64| (-z * z / 2.0).exp();
        let (mut w, mut m, mut q) = (0.0, 0.0, 0.0);
        for a in &z {
            for b in &z {
                let ln = a * load_sd + (feed * (b * air_sd).exp() + scale).ln();
                let p = weight(*a) * weight(*b);
                w += p;
                m += p * ln;
                q += p * ln * ln;
            }
        }
        (q / w - (m / w).powi(2)).sqrt()
    }

    #[test]
    fn scale_steadies_what_is_seen_no_further_than_the_film_load() {
        let load = film::LOAD_LOG_SD.number();
        for (feed, scale) in [(0.02, 0.0), (0.03, 0.01), (0.02, 0.02), (0.005, 0.03), (0.0, 0.02)] {
            for air in [0.0, 0.2, 0.4] {
                let c = Conditions {
                    residue_g_m2: Some(feed),
                    residue_log_sd: Some(load.hypot(air)),
                    ..Conditions::default()
                };
                let (found, wanted) =
                    (spread(&c, feed + scale).unwrap(), by_sums(feed, scale, load, air));
                assert!(
                    (found / wanted - 1.0).abs() < 0.03,
                    "{feed} {scale} {air}: {found} {wanted}"
                );
            }
        }
    }
}
