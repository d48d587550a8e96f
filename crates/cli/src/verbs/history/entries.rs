//! `history entries`: what is recorded, newest last.

use super::Past;
use crate::args::{History, HistoryEntries};
use crate::error::argument;
use crate::print::Out;
use crate::verbs::journal::open;
use crate::verbs::log::say;
use guardcell::Error;
use guardcell::ledger::{Entry, Event};
use guardcell_journal::Selection;

pub(crate) fn run(
    args: &HistoryEntries,
    history: &History,
    past: &Past,
    out: &mut Out,
) -> Result<(), Error> {
    let kind = args.kind.as_ref().map(|k| k.trim().to_lowercase().replace(['-', ' '], "_"));
    // A retraction is not an entry to show.
    let known = || Event::KINDS.iter().filter(|k| **k != "retraction");
    if let Some(kind) = kind.as_ref().filter(|k| !known().any(|known| known == k)) {
        let words: Vec<String> = known().map(|k| k.replace('_', "-")).collect();
        return Err(argument(
            "--kind",
            format!("{kind:?} is not known"),
            format!("write one of {}", words.join(", ")),
        ));
    }
    let wanted = super::wanted(history, past)?;
    let fits = |e: &&Entry| {
        e.at.get(..10).unwrap_or(&e.at) >= past.from.as_str()
            && kind.as_ref().is_none_or(|k| e.event.kind() == k)
            && (wanted.is_empty() || e.event.plants().iter().any(|p| wanted.iter().any(|w| w == p)))
    };
    let everything = past
        .journal
        .entries(&Selection { with_corrected: true, ..Selection::default() })
        .map_err(open::fault)?;
    let standing: Vec<&Entry> = past.request.entries.iter().filter(fits).collect();
    if out.json() {
        if args.all {
            let all: Vec<&Entry> = everything.iter().filter(fits).collect();
            return out.value(&all);
        }
        return out.value(&standing);
    }
    if standing.is_empty() && !args.all {
        out.line(format!("No entries from {} on.", past.from));
        return Ok(());
    }
    for entry in &standing {
        out.item(&format!("{}  ", entry.id), &say::entry(entry));
        if args.all {
            before(entry, &everything, out);
        }
    }
    if args.all {
        let taken_back: Vec<&Entry> = everything
            .iter()
            .filter(|e| matches!(e.event, Event::Retraction(_)))
            .filter(|e| {
                let old = everything.iter().find(|o| Some(&o.id) == e.supersedes.as_ref());
                old.is_some_and(|o| fits(&o))
            })
            .collect();
        if !taken_back.is_empty() {
            out.line("");
            out.line("TAKEN BACK");
        }
        for entry in taken_back {
            out.item(&format!("{}  ", entry.id), &say::entry(entry));
            before(entry, &everything, out);
        }
    }
    Ok(())
}

/// The entries that one stands for, back to the first.
fn before(entry: &Entry, everything: &[Entry], out: &mut Out) {
    let mut next = entry.supersedes.as_ref();
    while let Some(old) = next.and_then(|id| everything.iter().find(|e| e.id == *id)) {
        out.item(&format!("    was {}  ", old.id), &say::entry(old));
        next = old.supersedes.as_ref();
    }
}
