//! What a journal adds to a request for advice: the learned residue threshold, and what each plant
//! got.

use super::open;
use crate::args::{FromJournal, JournalFile};
use crate::error::argument;
use crate::print::{Out, text};
use guardcell::Error;
use guardcell::advice::{AdviceRequest, PlantEntry};
use guardcell::reference::parameters::journal;
use guardcell_journal::{
    Entry, LedgerRequest, Prior, Selection, ThresholdRequest, learn_threshold, ledger, observations,
};
use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan as _};

/// Weeks of root feeds that stand for what a plant gets at the root.
const WEEKS: i64 = 4;

/// Puts what the journal knows into the request; answers what it was, line by line.
pub(crate) fn apply(from: &FromJournal, request: &mut AdviceRequest) -> Result<Vec<String>, Error> {
    if from.journal.is_none() {
        return Ok(Vec::new());
    }
    let path = open::path(&JournalFile { journal: from.journal.clone() })?;
    let store = open::read(&path)?;
    let selection = Selection { site: Some(request.site.name.clone()), ..Selection::default() };
    let mut entries = store.entries(&selection).map_err(open::fault)?;
    // A request whose time cannot be read is refused by the advice itself, with the place.
    let Some(at) = moment(request) else { return Ok(Vec::new()) };
    let instant: Timestamp = at.parse().unwrap_or(Timestamp::MAX);
    entries.retain(|e| e.at.parse::<Timestamp>().is_ok_and(|when| when <= instant));
    if entries.is_empty() {
        return Ok(vec![format!(
            "{} has no entries of {} up to then: nothing was learned from it.",
            path.display(),
            request.site.name
        )]);
    }
    let mut says = threshold(from, &entries, request)?;
    says.extend(history(&entries, request, &at)?);
    Ok(says)
}

/// Prints what was learned; beside an answer in JSON it goes to standard error.
pub(crate) fn print(says: &[String], out: &mut Out) {
    if says.is_empty() {
        return;
    }
    if out.json() {
        for line in says {
            // Whoever has no standard error does not want to know.
            let _ = std::io::Write::write_fmt(
                &mut anstream::stderr(),
                format_args!("guardcell: {line}\n"),
            );
        }
        return;
    }
    out.line("");
    out.line("FROM THE JOURNAL");
    for line in says {
        out.item("  - ", line);
    }
}

/// The start of the request as RFC 3339: a date is its local noon, as the advice has it.
fn moment(request: &AdviceRequest) -> Option<String> {
    let zone = TimeZone::get(&request.site.time_zone).ok()?;
    let text = request.at.trim();
    let zoned = match text.parse::<Timestamp>() {
        Ok(instant) => instant.to_zoned_datetime(zone),
        Err(_) => text.parse::<Date>().ok()?.at(12, 0, 0, 0).to_zoned_datetime(zone).ok()?,
    };
    Some(crate::verbs::log::place::rfc3339(&zoned))
}

fn threshold(
    from: &FromJournal,
    entries: &[Entry],
    request: &mut AdviceRequest,
) -> Result<Vec<String>, Error> {
    let (seen, not_used) = observations(entries).map_err(open::fault)?;
    let of_group = |group: &String| seen.iter().filter(|o| o.group.as_ref() == Some(group)).count();
    if let Some(group) = &from.residue_group {
        let (has, least) = (of_group(group), journal::GROUP_REPORTS_LEAST.value as usize);
        if has < least {
            return Err(argument(
                "--residue-group",
                format!(
                    "{group:?} has {} with a modelled residue",
                    text::count(has, "look", "looks")
                ),
                format!("its own threshold is used from {least} on; leave the flag out until then"),
            ));
        }
    }
    let shipped = Prior::shipped().median_g_m2;
    let number = |v: f64| text::significant(v, 2);
    let looks = from.residue_group.as_ref().map_or(seen.len(), of_group);
    if looks == 0 {
        return Ok(vec![format!(
            "No look for residue with a known round is in the journal: the residue threshold stays \
             at {} g/m².",
            number(request.site.grower.residue_threshold_g_m2.unwrap_or(shipped))
        )]);
    }
    let learned = learn_threshold(&ThresholdRequest {
        observations: seen,
        not_used,
        group: from.residue_group.clone(),
        ..ThresholdRequest::default()
    })
    .map_err(open::fault)?;
    let (now, grower) = (learned.posterior, &mut request.site.grower);
    let stated = grower.residue_threshold_g_m2.map_or(String::new(), |t| {
        format!("; it stands for the {} g/m² of the site file", number(t))
    });
    grower.residue_threshold_g_m2 = Some(now.median_g_m2);
    grower.residue_threshold_log_sd = Some(now.log_sd);
    grower.residue_threshold_looks = u32::try_from(looks).ok();
    let of = from.residue_group.as_ref().map_or(String::new(), |g| format!(" of the group {g}"));
    Ok(vec![format!(
        "Residue threshold{of} {} g/m² ({:.0} % between {} and {}), learned from {}; the shipped \
         one is {} g/m²{stated}.",
        number(now.median_g_m2),
        learned.interval_share * 100.0,
        number(now.low_g_m2),
        number(now.high_g_m2),
        text::count(looks, "look", "looks"),
        number(shipped)
    )])
}

/// Fills when each plant was last fed and flushed, and what it gets at the root.
fn history(entries: &[Entry], request: &mut AdviceRequest, at: &str) -> Result<Vec<String>, Error> {
    let day: Option<Date> = at.get(..10).and_then(|d| d.parse().ok());
    let from = day.map(|d| d.saturating_sub((7 * WEEKS - 1).days()).to_string());
    let books =
        ledger(entries, &LedgerRequest { plants: request.plants.clone(), from, at: at.to_owned() })
            .map_err(open::fault)?;
    let (mut fed, mut flushed, mut rooted) = (0, 0, 0);
    let mut lost = Vec::new();
    for plant in &mut request.plants {
        let Some(account) = books.plants.iter().find(|p| p.id == plant.id) else { continue };
        fed += usize::from(set(&mut plant.last_fed, account.last_fed.as_ref()));
        flushed += usize::from(set(&mut plant.last_flush, account.last_flush.as_ref()));
        let feeds: u32 = account.weeks.iter().map(|w| w.root_feeds).sum();
        if feeds > 0 {
            let sum: f64 = account.weeks.iter().map(|w| w.root_mg).sum();
            plant.root_feed_mg_week = Some(sum / WEEKS as f64);
            rooted += 1;
        }
        if account.lost.is_some() {
            lost.push(title(plant));
        }
    }
    let mut says = vec![format!(
        "Last fed is known of {}, last flushed of {}, the weekly feed at the root of {}, from {} up \
         to {}.",
        text::count(fed, "plant", "plants"),
        flushed,
        rooted,
        text::count(entries.len(), "entry", "entries"),
        text::day_and_year(at)
    )];
    if !lost.is_empty() {
        says.push(format!("Logged as lost and still in the collection: {}.", lost.join(", ")));
    }
    for account in &books.plants {
        let week = account.weeks.last();
        if let Some(w) = week.filter(|w| w.ceiling_mg.is_some_and(|c| w.total_mg() > c)) {
            says.push(format!(
                "{}: {} mg of feed this week, over the ceiling of its pot of {} mg.",
                account.id,
                text::significant(w.total_mg(), 3),
                text::significant(w.ceiling_mg.unwrap_or_default(), 3)
            ));
        }
    }
    Ok(says)
}

/// Puts in what the ledger knows; whether anything is known now.
fn set(field: &mut Option<String>, known: Option<&String>) -> bool {
    if let Some(known) = known {
        *field = Some(known.clone());
    }
    known.is_some()
}

fn title(plant: &PlantEntry) -> String {
    format!("{} {}", plant.id, plant.name)
}
