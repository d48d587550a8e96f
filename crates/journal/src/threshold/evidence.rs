//! From entries to reports with a modelled residue.

use super::answer::{NotUsed, Observation};
use crate::entry::{Conditions, Entry, Event, Nature, Place, Residue};
use crate::error::JournalError;
use crate::moment::Moment;
use guardcell::reference::parameters::{film, journal};

/// The reports of residue on leaves among these entries, each with the residue modelled for its
/// day, and those that tell nothing, with the reason. The conditions are those of the observation
/// itself, else of the round it names, else of the last round on a plant it names within 48 h.
///
/// Entries must be those that stand, as [`crate::Journal::entries`] gives them.
///
/// # Errors
/// [`JournalError::Value`] for a time that cannot be read.
///
/// ```
/// use guardcell_journal::{Journal, Selection, observations};
/// let dir = tempfile::tempdir().unwrap();
/// let journal = Journal::open(&dir.path().join("house.journal")).unwrap();
/// let entries = journal.entries(&Selection::default()).unwrap();
/// assert!(observations(&entries).unwrap().0.is_empty());
/// ```
pub fn observations(entries: &[Entry]) -> Result<(Vec<Observation>, Vec<NotUsed>), JournalError> {
    let mut rounds = Vec::new();
    for e in entries {
        if let Event::Round(r) = &e.event {
            rounds.push((e, r, Moment::parse("/at", &e.at)?));
        }
    }
    rounds.sort_by_key(|(_, _, at)| at.instant);
    let (mut used, mut left) = (Vec::new(), Vec::new());
    for e in entries {
        let Event::Residue(seen) = &e.event else { continue };
        let at = Moment::parse("/at", &e.at)?;
        let round = match &seen.round {
            Some(id) => rounds.iter().find(|(e, _, _)| e.id == *id),
            None => rounds.iter().rev().find(|(re, r, rat)| {
                let hours = at.instant.duration_since(rat.instant).as_secs_f64() / 3600.0;
                re.site == e.site
                    && (0.0..=journal::LINKED_WITHIN.value).contains(&hours)
                    && (seen.plants.is_empty()
                        || r.plants.iter().any(|p| seen.plants.contains(&p.plant)))
            }),
        };
        let conditions = seen
            .conditions
            .as_ref()
            .filter(|c| c.residue_g_m2.is_some() || c.scale_g_m2.is_some())
            .or_else(|| round.and_then(|(_, r, _)| r.conditions.as_ref()));
        match residue(seen, conditions) {
            Err(why) => left.push(NotUsed { entry: e.id.clone(), why: why.into() }),
            Ok(residue_g_m2) => used.push(Observation {
                entry: Some(e.id.clone()),
                at: Some(e.at.clone()),
                group: seen.group.clone(),
                day: Some(match round {
                    Some((round, _, _)) => round.id.clone(),
                    None => format!("{} {}", e.site, at.date()),
                }),
                level: seen.level,
                residue_g_m2,
                residue_log_sd: conditions.and_then(|c| spread(c, residue_g_m2)),
            }),
        }
    }
    Ok((used, left))
}

/// The log-normal uncertainty of what is seen. Feed salts and scale share that of the film load;
/// what the air of the day adds touches the feed salts alone, and what is seen as far as they are in
/// it.
pub(crate) fn spread(c: &Conditions, seen_g_m2: f64) -> Option<f64> {
    let (sd, feed) = (c.residue_log_sd?, c.residue_g_m2?);
    let share = if seen_g_m2 > 0.0 { (feed / seen_g_m2).min(1.0) } else { 1.0 };
    // Who states less than the film load varies by on most leaves knows better.
    let load = film::LOAD_LOG_SD.value.min(sd);
    let air = (sd * sd - load * load).max(0.0).sqrt();
    Some(load.hypot(share * air))
}

/// The modelled residue that the report is about, in grams of feed salts that look as white.
fn residue(seen: &Residue, conditions: Option<&Conditions>) -> Result<f64, &'static str> {
    if seen.place != Place::Leaf {
        return Err("it is not on a leaf: the threshold is that of leaves");
    }
    let c = conditions.ok_or("no conditions are known: neither its own nor those of a round")?;
    let scale = c.scale_g_m2.map(|s| s * film::SCALE_VISIBILITY.value);
    match (seen.nature, c.residue_g_m2, scale) {
        (Nature::Feed, Some(feed), _) => Ok(feed),
        (Nature::Scale, _, Some(scale)) => Ok(scale),
        (Nature::Scale, _, None) => Err("it is scale, and no scale was modelled for that day"),
        (Nature::Unknown, Some(feed), scale) => Ok(feed + scale.unwrap_or(0.0)),
        (Nature::Feed | Nature::Unknown, None, _) => Err("no residue was modelled for that day"),
    }
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
        let load = film::LOAD_LOG_SD.value;
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
