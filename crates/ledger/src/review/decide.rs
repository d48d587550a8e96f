//! What is decided of each plant.

use super::answer::{Finding, PlantReview, ReviewRequest, ReviewResponse, Usual};
use super::words;
use crate::account::{self, PlantLedger};
use crate::entry::{Event, Level, Place};
use crate::learning::{LearnSettings, SiteRecord};
use crate::moment::{self, Moment};
use crate::standing::{Timed, standing};
use crate::threshold::{
    Learned, NextStrength, NextStrengthRequest, ThresholdRequest, ThresholdResponse,
};
use guardcell_advice::{PlantEntry, practice_of};
use guardcell_call::Bounded as _;
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::{journal, practice};
use std::collections::BTreeMap;

/// Reviews a collection from its entries.
///
/// # Errors
/// For a value out of range, a time that cannot be read, a plant that is in neither the entries
/// nor the collection.
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::{Finding, ReviewRequest, review};
/// let request: ReviewRequest = serde_json::from_str(r#"{"entries": [], "plants": [
///     {"id": "F1", "name": "Vanda", "area": "house", "setting": "basket",
///      "standing": "established"}], "at": "2026-06-21T18:00:00Z"}"#).unwrap();
/// assert_eq!(review(&request).unwrap().plants[0].finding, Finding::NotKnown);
/// ```
pub fn review(request: &ReviewRequest) -> Result<ReviewResponse, Error> {
    request.check_bounds()?;
    let at = Moment::parse("/at", &request.at)?;
    let timed = standing(&request.entries, at)?;
    let books = account::of(&timed, &request.plants, request.from.as_deref(), at)?;
    let settings = LearnSettings {
        tolerance: request.tolerance,
        logs_only_white: request.logs_only_white,
        ..LearnSettings::default()
    };
    let record = SiteRecord::new(&timed, at, settings);
    let requests = Requests::new(&record);
    let mut learned = requests.learned()?;
    let looks = looks(&timed);
    let collection: BTreeMap<&str, &PlantEntry> =
        request.plants.iter().map(|p| (p.id.as_str(), p)).collect();
    let mut plants = Vec::new();
    for account in wanted(request, books.plants)? {
        guardcell_call::checkpoint();
        let group = record.group_of(&account.id);
        let entry = collection.get(account.id.as_str()).copied();
        let usual = record.usual_strength(&account.id);
        let next = learned.next(group, entry, usual.map(|u| u.1));
        let seen = looks.get(account.id.as_str()).map_or(&[][..], Vec::as_slice);
        plants.push(plant_review(account, group, usual, next, seen, at)?);
    }
    let (site, groups) = learned.responses();
    Ok(ReviewResponse { at: at.rfc3339(), site, groups, plants, assumed: books.assumed })
}

/// The threshold of a site, or of one group of it, from its entries, with what each of the last
/// looks did where that is asked for.
///
/// # Errors
/// As [`review`].
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::{ReviewRequest, threshold_of_entries};
/// let request: ReviewRequest = serde_json::from_str(
///     r#"{"entries": [], "at": "2026-06-21T18:00:00Z"}"#).unwrap();
/// assert!(threshold_of_entries(&request, None, None, true).unwrap().next.is_none());
/// ```
pub fn threshold_of_entries(
    request: &ReviewRequest,
    group: Option<&str>,
    interval_share: Option<f64>,
    influence: bool,
) -> Result<ThresholdResponse, Error> {
    request.check_bounds()?;
    let at = Moment::parse("/at", &request.at)?;
    let settings = LearnSettings {
        tolerance: request.tolerance,
        logs_only_white: request.logs_only_white,
        interval_share,
        influence,
    };
    SiteRecord::new(&standing(&request.entries, at)?, at, settings).threshold(group)
}

/// The requests that learn: for the site and for each group with numbers of its own.
struct Requests {
    site: ThresholdRequest,
    groups: Vec<(String, ThresholdRequest)>,
}

impl Requests {
    fn new(record: &SiteRecord) -> Self {
        let groups = record.groups().into_iter().map(|g| (g.to_owned(), record.request(Some(g))));
        Self { site: record.request(None), groups: groups.collect() }
    }

    fn learned(&self) -> Result<AllLearned<'_>, Error> {
        Ok(AllLearned {
            site: Learned::new(&self.site)?,
            site_next: self.site.next.as_ref(),
            groups: self
                .groups
                .iter()
                .map(|(g, r)| Ok((g.as_str(), (Learned::new(r)?, r.next.as_ref()))))
                .collect::<Result<_, Error>>()?,
        })
    }
}

/// What was learned, once for the site and each group, and asked for each plant.
struct AllLearned<'a> {
    site: Learned<'a>,
    site_next: Option<&'a NextStrengthRequest>,
    groups: BTreeMap<&'a str, (Learned<'a>, Option<&'a NextStrengthRequest>)>,
}

impl AllLearned<'_> {
    /// The next strength of a plant: that of its group or site, under its own cap.
    fn next(
        &mut self,
        group: Option<&str>,
        plant: Option<&PlantEntry>,
        present_mg_l: Option<f64>,
    ) -> Option<NextStrength> {
        let (learned, request) = match group.and_then(|g| self.groups.get_mut(g)) {
            Some((learned, request)) => (learned, *request),
            None => (&mut self.site, self.site_next),
        };
        let cap = plant
            .map_or(practice::STRENGTH_ESTABLISHED.mg_per_l(), |p| practice_of(p).strength_mg_l);
        let request = NextStrengthRequest { cap_mg_l: Some(cap), present_mg_l, ..request?.clone() };
        Some(learned.next(&request))
    }

    fn responses(self) -> (ThresholdResponse, Vec<ThresholdResponse>) {
        (self.site.response(), self.groups.into_values().map(|(l, _)| l.response()).collect())
    }
}

fn wanted(request: &ReviewRequest, all: Vec<PlantLedger>) -> Result<Vec<PlantLedger>, Error> {
    if request.only.is_empty() {
        return Ok(all);
    }
    let mut by_id: BTreeMap<String, PlantLedger> =
        all.into_iter().map(|p| (p.id.clone(), p)).collect();
    request
        .only
        .iter()
        .enumerate()
        .map(|(i, id)| {
            by_id.remove(id).ok_or_else(|| {
                Error::new(
                    Code::Unknown,
                    format!(
                        "neither the entries nor the collection have {id:?}, or it is named twice"
                    ),
                    "name each plant once, by the id it was logged with",
                )
                .at(format!("/only/{i}"))
            })
        })
        .collect()
}

/// Looks on the leaves of each plant, in the order of time.
fn looks<'a>(timed: &[Timed<'a>]) -> BTreeMap<&'a str, Vec<(Moment, &'a str, Level)>> {
    let mut out: BTreeMap<&str, Vec<_>> = BTreeMap::new();
    for t in timed {
        guardcell_call::checkpoint();
        let Event::Residue(r) = &t.entry.event else { continue };
        for plant in r.plants.iter().filter(|_| r.place == Place::Leaf) {
            out.entry(plant).or_default().push((t.when, t.entry.at.as_str(), r.level));
        }
    }
    out
}

fn plant_review(
    account: PlantLedger,
    group: Option<&str>,
    usual: Option<(usize, f64)>,
    next: Option<NextStrength>,
    seen: &[(Moment, &str, Level)],
    now: Moment,
) -> Result<PlantReview, Error> {
    let first = account.weeks.first().map(|w| moment::date(&w.starts)).transpose()?;
    let mut looks = [0; 4];
    for (when, _, level) in seen {
        if first.is_none_or(|f| when.date() >= f) {
            for (count, l) in looks.iter_mut().zip(Level::ALL) {
                *count += u32::from(level == l);
            }
        }
    }
    let usual = usual.map(|(rounds, feed_strength_mg_l)| Usual {
        rounds: u32::try_from(rounds).unwrap_or(u32::MAX),
        feed_strength_mg_l,
    });
    let unseen = seen.last().is_none_or(|(when, _, _)| {
        let days = when.date().until(now.date()).map_or(0, |s| s.get_days());
        f64::from(days) > journal::LOOKS_WITHIN.days()
    });
    let mut out = PlantReview {
        group: group.map(str::to_owned),
        looks,
        last_look: seen.last().map(|(_, at, _)| (*at).to_owned()),
        finding: finding(usual, next.as_ref()),
        usual,
        next,
        account,
        strength_says: Vec::new(),
        change: Vec::new(),
    };
    out.strength_says = words::strength(&out);
    out.change = words::change(&out, now, unseen);
    Ok(out)
}

fn finding(usual: Option<Usual>, next: Option<&NextStrength>) -> Finding {
    let (Some(usual), Some(next)) = (usual, next) else { return Finding::NotKnown };
    let (present, step) = (usual.feed_strength_mg_l, journal::STRENGTH_STEP.number());
    match next.proposed_mg_l {
        None => Finding::TooStrong,
        Some(s) if present > s * (1.0 + step) => Finding::TooStrong,
        Some(s) if s > present * (1.0 + step) => Finding::RoomForMore,
        Some(_) => Finding::Right,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::threshold::learn_threshold;

    #[test]
    fn a_change_of_less_than_a_tenth_is_not_worth_it() {
        let asked = NextStrengthRequest::default();
        let request = ThresholdRequest { next: Some(asked), ..ThresholdRequest::default() };
        let proposal = learn_threshold(&request).unwrap().next.unwrap();
        let of = |feed_strength_mg_l: f64, proposed_mg_l: Option<f64>| {
            let next = NextStrength { proposed_mg_l, ..proposal.clone() };
            finding(Some(Usual { rounds: 5, feed_strength_mg_l }), Some(&next))
        };
        // strength_step of data/journal.csv is 0.1: 5 % more or less, then 15 %.
        for present in [40.0, 100.0, 300.0] {
            assert_eq!(of(present, Some(present)), Finding::Right);
            assert_eq!(of(present, Some(1.05 * present)), Finding::Right);
            assert_eq!(of(1.05 * present, Some(present)), Finding::Right);
            assert_eq!(of(present, Some(1.15 * present)), Finding::RoomForMore);
            assert_eq!(of(1.15 * present, Some(present)), Finding::TooStrong);
            assert_eq!(of(present, None), Finding::TooStrong);
        }
        assert_eq!(finding(None, Some(&proposal)), Finding::NotKnown);
        let usual = Usual { rounds: 5, feed_strength_mg_l: 100.0 };
        assert_eq!(finding(Some(usual), None), Finding::NotKnown);
    }
}
