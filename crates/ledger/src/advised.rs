//! What a journal adds to a request for advice: the learned threshold, the next strength, when
//! each plant was last fed and flushed, and what it gets at the root.

use crate::account;
use crate::entry::Entry;
use crate::learning::{LearnSettings, SiteRecord};
use crate::moment::Moment;
use crate::standing::standing;
use crate::threshold::ThresholdResponse;
use guardcell_advice::{AdviceRequest, GroupStrength};
use guardcell_error::{Code, Error};
use jiff::ToSpan as _;
use std::collections::BTreeMap;

/// Weeks of root feeds that stand for what a plant gets at the root.
const WEEKS: i64 = 4;

/// What was put into a request.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Known {
    /// The moment it is for, RFC 3339.
    pub at: String,
    /// Entries of the site that stand up to then.
    pub entries: usize,
    /// The threshold and the next strength of the site, or of the group that was asked for.
    pub threshold: ThresholdResponse,
    /// Those of the groups that have reports enough for their own, where no group was asked for.
    pub groups: Vec<ThresholdResponse>,
    /// The threshold that the site stated and that was replaced, g/m².
    pub stated_g_m2: Option<f64>,
    /// Plants whose last feed is known.
    pub fed: usize,
    /// Plants whose last flush is known.
    pub flushed: usize,
    /// Plants whose feed at the root is known.
    pub rooted: usize,
    /// Plants that were logged as lost and are still in the collection.
    pub lost: Vec<String>,
    /// Plants over the ceiling of their pot this week: plant, feed and ceiling in mg.
    pub over_ceiling: Vec<(String, f64, f64)>,
}

/// Puts what entries say into a request for advice; nothing where they hold no entry of the site
/// up to its start, or where that cannot be read (the advice says where).
///
/// With a group, its threshold and strength are used for every plant; without, each plant gets the
/// strength of its own group where that has reports enough, else that of the site.
///
/// # Errors
/// For a group with too few reports, or an entry that cannot be read.
///
/// ```
/// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } pub mod ledger { pub use guardcell_ledger::*; } }
/// let mut request: guardcell::advice::AdviceRequest = serde_json::from_str(r#"{
///     "site": {"name": "F", "latitude_deg": 38, "longitude_deg": -28,
///              "time_zone": "Atlantic/Azores", "areas": []},
///     "readings": [], "plants": [], "at": "2026-06-21"}"#).unwrap();
/// assert!(guardcell::ledger::add_entries(&mut request, &[], None).unwrap().is_none());
/// ```
pub fn add_entries(
    request: &mut AdviceRequest,
    entries: &[Entry],
    group: Option<&str>,
) -> Result<Option<Known>, Error> {
    let Ok(start) = request.start() else { return Ok(None) };
    let at = Moment { instant: start.timestamp(), offset: start.offset() };
    let mut timed = standing(entries, at)?;
    timed.retain(|t| t.entry.site == request.site.name);
    if timed.is_empty() {
        return Ok(None);
    }
    let grower = &request.site.grower;
    let settings = LearnSettings {
        tolerance: grower.tolerance,
        logs_only_white: grower.logs_only_white,
        ..LearnSettings::default()
    };
    let record = SiteRecord::new(&timed, at, settings);
    if let Some(group) = group.filter(|g| !record.stands_alone(g)) {
        return Err(few_reports(group, record.looks(Some(group))));
    }
    let threshold = record.threshold(group)?;
    let groups = match group {
        Some(_) => Vec::new(),
        None => record
            .groups()
            .into_iter()
            .map(|g| record.threshold(Some(g)))
            .collect::<Result<_, _>>()?,
    };
    let mut known = Known {
        at: at.rfc3339(),
        entries: timed.len(),
        stated_g_m2: request.site.grower.residue_threshold_g_m2,
        threshold,
        groups,
        fed: 0,
        flushed: 0,
        rooted: 0,
        lost: Vec::new(),
        over_ceiling: Vec::new(),
    };
    put_strengths(request, &known, &record);
    let day = at.date().saturating_sub((7 * WEEKS - 1).days()).to_string();
    let books = account::of(&timed, &request.plants, Some(&day), at)?;
    put_history(request, &books, &mut known);
    Ok(Some(known))
}

fn few_reports(group: &str, has: usize) -> Error {
    let least = guardcell_reference::parameters::journal::GROUP_REPORTS_LEAST.number();
    Error::new(
        Code::Missing,
        format!("{group:?} has {has} looks that tell about residue"),
        format!("its own threshold is used from {least} on; omit it until then"),
    )
    .at("/group")
}

fn put_strengths(request: &mut AdviceRequest, known: &Known, record: &SiteRecord) {
    let learned = &known.threshold;
    let grower = &mut request.site.grower;
    if !learned.evidence.is_empty() {
        grower.residue_threshold_g_m2 = Some(learned.posterior.median_g_m2);
        grower.residue_threshold_log_sd = Some(learned.posterior.log_sd);
        grower.residue_threshold_looks = u32::try_from(learned.evidence.len()).ok();
    }
    let next = learned.next.as_ref();
    grower.next_strength_mg_l = next.and_then(|n| n.limit_mg_l());
    grower.next_strength_after_white_at_mg_l = next.and_then(|n| n.after_white_at_mg_l());
    let mut members: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for plant in &request.plants {
        if let Some(group) = record.group_of(&plant.id) {
            members.entry(group).or_default().push(plant.id.clone());
        }
    }
    grower.next_strengths = known
        .groups
        .iter()
        .filter_map(|g| {
            let plants = members.remove(g.group.as_deref()?)?;
            let next = g.next.as_ref()?;
            Some(GroupStrength {
                plants,
                next_strength_mg_l: next.limit_mg_l(),
                next_strength_after_white_at_mg_l: next.after_white_at_mg_l(),
            })
        })
        .collect();
}

fn put_history(request: &mut AdviceRequest, books: &account::Ledger, known: &mut Known) {
    let accounts: BTreeMap<&str, &account::PlantLedger> =
        books.plants.iter().map(|p| (p.id.as_str(), p)).collect();
    for plant in &mut request.plants {
        let Some(account) = accounts.get(plant.id.as_str()) else { continue };
        known.fed += usize::from(set(&mut plant.last_fed, account.last_fed.as_ref()));
        known.flushed += usize::from(set(&mut plant.last_flush, account.last_flush.as_ref()));
        let feeds: u32 = account.weeks.iter().map(|w| w.root_feeds).sum();
        if feeds > 0 {
            let sum: f64 = account.weeks.iter().map(|w| w.root_mg).sum();
            plant.root_feed_mg_week = Some(sum / WEEKS as f64);
            known.rooted += 1;
        }
        if account.lost.is_some() {
            known.lost.push(format!("{} {}", plant.id, plant.name));
        }
    }
    for account in &books.plants {
        let Some(week) = account.weeks.last() else { continue };
        if let Some(ceiling) = week.ceiling_mg.filter(|c| week.total_mg() > *c) {
            known.over_ceiling.push((account.id.clone(), week.total_mg(), ceiling));
        }
    }
}

/// Puts in what the ledger knows; whether anything is known now.
fn set(field: &mut Option<String>, known: Option<&String>) -> bool {
    if let Some(known) = known {
        *field = Some(known.clone());
    }
    known.is_some()
}
