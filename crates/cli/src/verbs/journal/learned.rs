//! What a journal adds to a request for advice: the learned residue threshold and the next
//! strength, and what each plant got.

use super::open;
use crate::args::FromJournal;
use crate::error::argument;
use crate::home::Home;
use crate::print::{Out, terminal, text};
use guardcell::Error;
use guardcell::advice::AdviceRequest;
use guardcell::ledger::threshold::words;
use guardcell::ledger::{Entry, Known, Prior, ThresholdResponse, add_entries};
use guardcell_journal::Selection;
use std::path::PathBuf;

/// What a journal knows, put into a request.
pub(crate) struct Learned {
    /// What was put into the request; none where the journal has no entry of the site.
    pub(crate) known: Option<Known>,
    /// The entries of the site.
    pub(crate) entries: Vec<Entry>,
    /// What was learned, line by line.
    pub(crate) says: Vec<String>,
}

/// What a journal holds of a site, read once.
#[derive(Clone)]
pub(crate) struct Kept {
    path: PathBuf,
    pub(crate) entries: Vec<Entry>,
}

/// Reads the journal; nothing without one, or where it is not wanted.
pub(crate) fn kept(from: &FromJournal, home: &Home, site: &str) -> Result<Option<Kept>, Error> {
    let path = open::existing(from.journal.as_deref(), home).filter(|_| !from.no_journal);
    let Some(path) = path else { return Ok(None) };
    let selection = Selection { site: Some(site.to_owned()), ..Selection::default() };
    let entries = open::read(&path)?.entries(&selection).map_err(open::fault)?;
    Ok(Some(Kept { path, entries }))
}

/// Puts what the journal knows into the request; none where there is no journal.
pub(crate) fn learn(
    from: &FromJournal,
    kept: Option<Kept>,
    request: &mut AdviceRequest,
) -> Result<Option<Learned>, Error> {
    if from.no_journal {
        return Ok(None);
    }
    let Some(Kept { path, entries }) = kept else {
        return match &from.residue_group {
            None => Ok(None),
            Some(_) => Err(argument(
                "--residue-group",
                "there is no journal that could know the group",
                "name a journal with --journal",
            )),
        };
    };
    let known =
        add_entries(request, &entries, from.residue_group.as_deref()).map_err(open::fault)?;
    let says = match &known {
        None => vec![format!(
            "{} has no entries of {} up to then: nothing was learned from it.",
            path.display(),
            request.site.name
        )],
        Some(known) => says(known, request),
    };
    Ok(Some(Learned { known, entries, says }))
}

/// Prints what was learned; beside an answer in JSON it goes to standard error.
pub(crate) fn print(learned: Option<&Learned>, out: &mut Out) {
    let says = learned.map_or(&[][..], |learned| learned.says.as_slice());
    if says.is_empty() {
        return;
    }
    if out.json() {
        for line in says {
            terminal::note(&format!("guardcell: {line}"));
        }
        return;
    }
    out.line("");
    out.line("FROM THE JOURNAL");
    for line in says {
        out.item("  - ", line);
    }
}

fn says(known: &Known, request: &AdviceRequest) -> Vec<String> {
    let mut out = vec![threshold(known, request)];
    out.extend(next(&known.threshold));
    out.extend(known.groups.iter().filter_map(next));
    out.extend(words::remarks(&known.threshold));
    out.push(format!(
        "Last fed is known of {}, last flushed of {}, the weekly feed at the root of {}, from {} up \
         to {}.",
        text::count(known.fed, "plant", "plants"),
        known.flushed,
        known.rooted,
        text::count(known.entries, "entry", "entries"),
        text::day_and_year(&known.at)
    ));
    if !known.lost.is_empty() {
        let lost = known.lost.join(", ");
        out.push(format!("Logged as lost and still in the collection: {lost}."));
    }
    for (plant, mg, ceiling) in &known.over_ceiling {
        out.push(format!(
            "{plant}: {} mg of feed this week, over the ceiling of its pot of {} mg.",
            text::significant(*mg, 3),
            text::significant(*ceiling, 3)
        ));
    }
    out
}

fn threshold(known: &Known, request: &AdviceRequest) -> String {
    let shipped = Prior::shipped().median_g_m2;
    let number = |v: f64| text::significant(v, 2);
    let learned = &known.threshold;
    if learned.evidence.is_empty() {
        return format!(
            "No look for residue with a known round is in the journal: the residue threshold stays \
             at {} g/m².",
            number(request.site.grower.residue_threshold_g_m2.unwrap_or(shipped))
        );
    }
    let stated = known.stated_g_m2.map_or(String::new(), |t| {
        format!("; it replaces the {} g/m² of the site file", number(t))
    });
    let of = learned.group.as_ref().map_or(String::new(), |g| format!(" of the group {g}"));
    format!(
        "Residue threshold{of} {} g/m² ({:.0} % between {} and {}), learned from {}; the shipped \
         one is {} g/m²{stated}.",
        number(learned.posterior.median_g_m2),
        learned.interval_share * 100.0,
        number(learned.posterior.low_g_m2),
        number(learned.posterior.high_g_m2),
        text::count(learned.evidence.len(), "look", "looks"),
        number(shipped)
    )
}

/// The next strength of the site or a group, the same number as everywhere.
fn next(learned: &ThresholdResponse) -> Option<String> {
    let next = learned.next.as_ref()?;
    let of = learned.group.as_ref().map_or(String::new(), |g| format!("Group {g}: "));
    Some(format!("{of}{}", words::proposal(next)))
}
