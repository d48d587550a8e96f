//! Sums the entries into weeks.

use super::answer::{Ledger, LedgerRequest, PlantWeek};
use super::plant::Account;
use crate::entry::{Entry, Event, PlantShare};
use crate::moment::{self, Moment};
use crate::standing::{Timed, standing};
use guardcell_advice::{PlantEntry, Reason, ReasonCode};
use guardcell_call::Bounded as _;
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::practice;
use jiff::ToSpan as _;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Ten years: what a table or a picture can still show.
const WEEKS_MOST: usize = 522;

/// Draws up the ledger from entries.
///
/// # Errors
/// For a time that cannot be read, a first day after the last, more than ten years, or two plants
/// of one identifier.
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::{LedgerRequest, ledger};
/// let answer = ledger(&LedgerRequest::new(vec![], "2026-06-21T18:00:00+01:00").with_from("2026-06-01".to_owned())).unwrap();
/// assert!(answer.plants.is_empty());
/// ```
pub fn ledger(request: &LedgerRequest) -> Result<Ledger, Error> {
    request.check_bounds()?;
    let at = Moment::parse("/at", &request.at)?;
    let timed = standing(&request.entries, at)?;
    of(&timed, &request.plants, request.from.as_deref(), at)
}

/// The ledger of entries that stand.
pub(crate) fn of(
    timed: &[Timed<'_>],
    plants: &[PlantEntry],
    from: Option<&str>,
    at: Moment,
) -> Result<Ledger, Error> {
    let from = match from {
        Some(text) => moment::date(text).map_err(|e| e.at("/from"))?,
        None => timed.first().map_or(at.date(), |t| t.when.date()),
    };
    let weeks = weeks(from, at.date())?;
    let mut accounts = accounts(plants, timed, &weeks)?;
    for t in timed {
        guardcell_call::checkpoint();
        post(&mut accounts, t.when, t.entry, from);
    }
    let plants = accounts
        .order
        .into_iter()
        .filter_map(|id| accounts.by_id.remove(&id))
        .map(|account| account.close(at))
        .collect();
    Ok(Ledger { from: from.to_string(), at: at.rfc3339(), plants, assumed: assumed() })
}

fn assumed() -> Vec<Reason> {
    let waste = practice::SPRAY_WASTE;
    vec![
        Reason::new(
            ReasonCode::WeeklyCeiling,
            format!(
                "Of the volume sprayed, one part in {} stays on the plant and counts as its dose.",
                waste.number()
            ),
        )
        .with("spray_waste", waste.number())
        .with_parameter(waste),
    ]
}

/// The weeks from one day to another, without gaps: name and Monday.
fn weeks(from: Date, to: Date) -> Result<Vec<(String, Date)>, Error> {
    if from > to {
        return Err(Error::new(
            Code::Conflict,
            format!("{from} is after {to}"),
            "give a first day before the moment it is drawn up for",
        )
        .at("/from"));
    }
    let mut out = Vec::new();
    let back = i64::from(from.weekday().to_monday_zero_offset());
    let mut monday = from.saturating_sub(back.days());
    while monday <= to {
        guardcell_call::checkpoint();
        if out.len() == WEEKS_MOST {
            return Err(Error::new(
                Code::Conflict,
                format!("{from} to {to} is more than ten years"),
                "give a later first day",
            )
            .at("/from"));
        }
        out.push((name(monday), monday));
        let next = monday.saturating_add(7.days());
        if next == monday {
            break; // The end of the calendar.
        }
        monday = next;
    }
    Ok(out)
}

/// `2026-W25`.
fn name(date: Date) -> String {
    let week = date.iso_week_date();
    format!("{:04}-W{:02}", week.year(), week.week())
}

struct Accounts<'a> {
    order: Vec<String>,
    by_id: BTreeMap<String, Account<'a>>,
}

fn accounts<'a>(
    plants: &'a [PlantEntry],
    timed: &[Timed<'_>],
    weeks: &[(String, Date)],
) -> Result<Accounts<'a>, Error> {
    let mut order = Vec::new();
    let mut by_id = BTreeMap::new();
    for (i, plant) in plants.iter().enumerate() {
        guardcell_call::checkpoint();
        let account = Account::open(plant.id.clone(), Some(plant), empty(weeks, Some(plant)), i)?;
        if by_id.insert(plant.id.clone(), account).is_some() {
            return Err(Error::new(
                Code::DuplicateId,
                format!("duplicate plant {:?}", plant.id),
                "give every plant an id of its own",
            )
            .at(format!("/plants/{i}/id")));
        }
        order.push(plant.id.clone());
    }
    let mut others: Vec<&str> = timed
        .iter()
        .flat_map(|t| t.entry.event.plants())
        .filter(|id| !by_id.contains_key(*id))
        .collect();
    others.sort_unstable();
    others.dedup();
    for id in others {
        by_id.insert(id.to_owned(), Account::open(id.to_owned(), None, empty(weeks, None), 0)?);
        order.push(id.to_owned());
    }
    Ok(Accounts { order, by_id })
}

fn empty(weeks: &[(String, Date)], plant: Option<&PlantEntry>) -> Vec<PlantWeek> {
    let ceiling_mg = plant.and_then(|p| p.pot_l).map(|l| l * practice::POT_WEEKLY_SALTS.mg_per_l());
    weeks
        .iter()
        .map(|(week, starts)| PlantWeek {
            week: week.clone(),
            starts: starts.to_string(),
            rounds: 0,
            root_feeds: 0,
            soaks: 0,
            flushes: 0,
            leaf_mg: 0.0,
            root_mg: 0.0,
            root_stated: false,
            n_mg: 0.0,
            without_n: 0,
            without_volume: 0,
            ceiling_mg,
            residue: None,
        })
        .collect()
}

/// Enters an entry on the account of each plant it names.
fn post(accounts: &mut Accounts<'_>, when: Moment, entry: &Entry, from: Date) {
    // What lies before the first day still tells when a plant was last fed or flushed.
    let counted = when.date() >= from;
    let mut on = |plant: &str, f: &mut dyn FnMut(&mut Account<'_>)| {
        if let Some(account) = accounts.by_id.get_mut(plant) {
            f(account);
        }
    };
    match &entry.event {
        Event::Round(r) => {
            let volumes = shares(&r.plants, r.volume_ml);
            for (share, ml) in r.plants.iter().zip(volumes) {
                let kept = ml.map(|ml| ml / practice::SPRAY_WASTE.number());
                on(&share.plant, &mut |a| {
                    a.product(when, counted, (r.product.as_ref(), r.feed_strength_mg_l), false);
                    a.round(when, counted, r.feed_strength_mg_l, r.n_mg_l, kept);
                });
            }
        }
        Event::RootFeed(r) => {
            let volumes = shares(&r.plants, r.volume_ml);
            let drained = drained(r.drain_ml, r.drain_mg_l, r.plants.len());
            for (share, ml) in r.plants.iter().zip(volumes) {
                on(&share.plant, &mut |a| {
                    a.product(when, counted, (r.product.as_ref(), r.feed_strength_mg_l), true);
                    a.root_feed(when, counted, r.feed_strength_mg_l, r.n_mg_l, ml, drained);
                });
            }
        }
        Event::Flush(f) => {
            let drained = drained(f.drain_ml, f.drain_mg_l, f.plants.len());
            for plant in &f.plants {
                on(plant, &mut |a| a.flush(when, counted, drained));
            }
        }
        Event::Soak(s) => s.plants.iter().for_each(|p| on(p, &mut |a| a.soak(when, counted))),
        Event::Residue(r) => {
            r.plants.iter().for_each(|p| on(p, &mut |a| a.residue(when, counted, r.level)));
        }
        Event::Response(r) => {
            r.plants.iter().for_each(|p| on(p, &mut |a| a.sign(when, r.sign, &entry.id)));
        }
        Event::Growth(g) => g.plants.iter().for_each(|p| on(p, &mut |a| a.growth(when, g))),
        Event::Wipe(_)
        | Event::Task(_)
        | Event::Done(_)
        | Event::Note(_)
        | Event::Retraction(_) => {}
    }
}

/// The volume of each plant in mL: its own where stated, else an even share of what is left of
/// the whole.
fn shares(plants: &[PlantShare], total: Option<f64>) -> Vec<Option<f64>> {
    let known: f64 = plants.iter().filter_map(|p| p.volume_ml).sum();
    let open = plants.iter().filter(|p| p.volume_ml.is_none()).count();
    let even = total.map(|t| (t - known).max(0.0) / open.max(1) as f64);
    plants.iter().map(|p| p.volume_ml.or(even)).collect()
}

/// What ran out below for each of `plants`, mg.
fn drained(ml: Option<f64>, mg_l: Option<f64>, plants: usize) -> Option<f64> {
    Some(ml? * mg_l? / 1000.0 / plants.max(1) as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weeks_are_those_of_iso_8601() {
        // ISO 8601: the week with the year's first Thursday is week 1; 2026 has 53 weeks and
        // begins on 2025-12-29.
        let d = |s: &str| s.parse::<Date>().unwrap();
        assert_eq!(name(d("2026-01-01")), "2026-W01");
        assert_eq!(name(d("2025-12-29")), "2026-W01");
        assert_eq!(name(d("2027-01-03")), "2026-W53");
        let w = weeks(d("2026-12-30"), d("2027-01-12")).unwrap();
        let names: Vec<&str> = w.iter().map(|(n, _)| n.as_str()).collect();
        assert_eq!(names, ["2026-W53", "2027-W01", "2027-W02"]);
        assert!(weeks(d("2026-01-02"), d("2026-01-01")).is_err());
        assert!(weeks(d("1990-01-02"), d("2026-01-01")).is_err());
    }

    #[test]
    fn what_is_left_is_shared_evenly() {
        let p = |v| PlantShare { plant: "x".into(), volume_ml: v };
        assert_eq!(
            shares(&[p(Some(10.0)), p(None), p(None)], Some(30.0)),
            [Some(10.0), Some(10.0), Some(10.0)]
        );
        assert_eq!(shares(&[p(Some(10.0)), p(None)], None), [Some(10.0), None]);
    }
}
