//! `history`: what plants got, whether the strength is right, what to change.

mod entries;
mod growth;
mod overview;
mod plant;
mod threshold;

use crate::args::{History, HistoryKind};
use crate::error::argument;
use crate::home::Home;
use crate::print::{Out, file};
use crate::verbs::journal::open;
use crate::verbs::log::place::{self, Context};
use guardcell::Error;
use guardcell::ledger::{Ledger, LedgerRequest, ReviewRequest, ledger, review};
use guardcell_journal::{Journal, Selection};
use jiff::ToSpan as _;

/// What every form of the history needs.
pub(crate) struct Past {
    pub(crate) journal: Journal,
    pub(crate) context: Context,
    /// The entries that stand up to the moment looked back from, the collection, and what is asked.
    pub(crate) request: ReviewRequest,
    /// The Monday of the first week.
    pub(crate) from: String,
}

pub(crate) fn run(args: &History, home: &Home, out: &mut Out) -> Result<(), Error> {
    let past = past(args, home)?;
    match &args.what {
        Some(HistoryKind::Threshold(a)) => threshold::run(a, args, &past, out),
        Some(HistoryKind::Growth) => growth::run(args, &past, out),
        Some(HistoryKind::Entries(a)) => entries::run(a, args, &past, out),
        None => feeds(args, &past, out),
    }
}

fn past(args: &History, home: &Home) -> Result<Past, Error> {
    let path = open::path(&args.file, home)?;
    let journal = open::read(&path)?;
    let context = Context::read(&args.place, home, Some(&journal))?;
    let at = place::looking_back(&context, args.at.as_deref())?;
    let site_is_named = context.site.is_some() || args.place.site_name.is_some();
    let selection =
        Selection { site: context.name.clone().filter(|_| site_is_named), ..Selection::default() };
    let mut entries = journal.entries(&selection).map_err(open::fault)?;
    let now: Option<jiff::Timestamp> = at.parse().ok();
    entries.retain(|e| match (e.at.parse::<jiff::Timestamp>(), now) {
        (Ok(when), Some(now)) => when <= now,
        _ => true,
    });
    let tolerance = match &args.tolerance {
        Some(text) => Some(share("--tolerance", text)?),
        None => context.site.as_ref().and_then(|s| s.grower.tolerance),
    };
    let from = monday(&at, args.weeks)?;
    let request = ReviewRequest::new(entries, at)
        .with_plants(context.collection.clone().unwrap_or_default())
        .with_only(Vec::new())
        .with_from(from.clone())
        .with_logs_only_white(context.site.as_ref().is_some_and(|s| s.grower.logs_only_white))
        .with_tolerance(tolerance);
    Ok(Past { journal, context, request, from })
}

/// The account of the plants that are asked for, or of all.
fn books(past: &Past, only: &[String]) -> Result<Ledger, Error> {
    let mut books = ledger(
        &LedgerRequest::new(past.request.entries.clone(), past.request.at.clone())
            .with_plants(past.request.plants.clone())
            .with_from(past.request.from.clone()),
    )
    .map_err(open::fault)?;
    if !only.is_empty() {
        books.plants.retain(|p| only.contains(&p.id));
    }
    Ok(books)
}

/// A probability: `10 %` or `0.1`.
pub(crate) fn share(flag: &str, text: &str) -> Result<f64, Error> {
    let trimmed = text.trim();
    let (number, percent) = match trimmed.strip_suffix('%') {
        Some(n) => (n.trim(), true),
        None => (trimmed, false),
    };
    match number.parse::<f64>() {
        Ok(v) if v.is_finite() => Ok(if percent { v / 100.0 } else { v }),
        _ => Err(argument(
            flag,
            format!("{text:?} is not a probability"),
            "write it like \"10 %\" or 0.1",
        )),
    }
}

/// The Monday that begins so many weeks, of which that of `at` is the last.
fn monday(at: &str, weeks: u16) -> Result<String, Error> {
    let day: jiff::civil::Date = at.get(..10).unwrap_or(at).parse().map_err(|_| {
        argument("--at", format!("{at:?} is not a time"), "write it like 2026-06-21")
    })?;
    let back = i64::from(day.weekday().to_monday_zero_offset()) + 7 * (i64::from(weeks) - 1);
    Ok(day.saturating_sub(back.days()).to_string())
}

/// The plants that are asked for, by --plant or by name; patterns are allowed.
fn wanted(args: &History, past: &Past) -> Result<Vec<String>, Error> {
    let mut ids = Vec::new();
    for pattern in args.plant.iter().chain(&args.plants) {
        for id in crate::verbs::log::matching(pattern, &past.context)? {
            let known = past.context.in_journal.contains(&id)
                || past.context.collection.iter().flatten().any(|p| p.id == id);
            if !known {
                return Err(argument(
                    "--plant",
                    format!("neither the journal nor a collection has {id:?}"),
                    "name a plant by the id it was logged with",
                ));
            }
            if !ids.contains(&id) {
                ids.push(id);
            }
        }
    }
    Ok(ids)
}

fn feeds(args: &History, past: &Past, out: &mut Out) -> Result<(), Error> {
    let only = wanted(args, past)?;
    if only.is_empty() || args.svg.is_some() {
        let books = books(past, &only)?;
        if let Some(path) = &args.svg {
            file::write(path, &books.to_svg())?;
        }
        if only.is_empty() {
            return if out.json() { out.value(&books) } else { overview::print(&books, past, out) };
        }
    }
    let request = past.request.clone().with_only(only);
    let answer = review(&request).map_err(open::fault)?;
    if out.json() {
        return out.value(&answer);
    }
    for (i, r) in answer.plants.iter().enumerate() {
        if i > 0 {
            out.line("");
        }
        plant::print(r, &answer, out);
    }
    Ok(())
}
