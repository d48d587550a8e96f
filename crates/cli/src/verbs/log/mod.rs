//! `log`: records what was done and seen.

mod amount;
mod correct;
mod draft;
pub(crate) mod place;
mod plan;
mod plants;
mod prompt;
pub(crate) mod say;
mod twice;

use crate::args::{LogArgs, LogKind};
use crate::error::{argument, bad_file, io, is_closed_pipe};
use crate::home::Home;
use crate::input::text;
use crate::print::terminal::{self, Escaping};
use crate::print::{Out, text as words};
use crate::verbs::journal::open;
use guardcell::Error;
use guardcell::ledger::{Draft, Entry};
use guardcell_journal::{Format, Journal, Receipt, Selection};
use jiff::{SignedDuration, Timestamp};
use place::Context;
pub(crate) use plants::matching;
use serde::Serialize;
use std::fs::File;
use std::io::IsTerminal as _;
use std::path::Path;

/// Clocks of devices differ by some minutes.
const CLOCKS_DIFFER: SignedDuration = SignedDuration::from_mins(10);

pub(crate) fn run(args: &LogArgs, home: &Home, out: &mut Out) -> Result<(), Error> {
    let path = open::path(&args.file, home)?;
    match (&args.kind, &args.csv) {
        (Some(_), Some(_)) => Err(argument(
            "--csv",
            "a kind of entry is given as well",
            "either log one kind by flags, or the rows of a file",
        )),
        (Some(kind), None) => by_flags(args, kind, home, &path, out),
        (None, Some(csv)) => by_csv(csv, &path, out),
        (None, None) if args.ask || std::io::stdin().is_terminal() => {
            let context = context(args, home, &path)?;
            let mut input = std::io::stdin().lock();
            let mut asks = Escaping::new(std::io::stderr().lock());
            match prompt::ask(&context, args.at.as_deref(), &mut input, &mut asks)? {
                Some(draft) => record(vec![draft], &path, out),
                None => Ok(()),
            }
        }
        (None, None) => Err(argument(
            "log",
            "it is not said what to record, and standard input is not a terminal to ask on",
            "name a kind (round, residue, flush, soak, root-feed, response, growth, wipe, task, \
             done, note, correct, retract), give --csv FILE, or say --ask to be asked on standard input",
        )),
    }
}

/// Where and when; a journal that cannot be opened is reported when it is written to.
fn context(args: &LogArgs, home: &Home, path: &Path) -> Result<Context, Error> {
    Context::read(&args.place, home, Journal::open_to_read(path).ok().as_ref())
}

fn by_flags(
    args: &LogArgs,
    kind: &LogKind,
    home: &Home,
    path: &Path,
    out: &mut Out,
) -> Result<(), Error> {
    let context = context(args, home, path)?;
    let drafts = match kind {
        LogKind::Round(a) if a.plan.is_some() => plan::drafts(a, args, &context)?,
        LogKind::Correct(a) => vec![correct::correct(a, args, &context, path)?],
        LogKind::Retract(a) => vec![correct::retract(a, args, path)?],
        LogKind::Done(a) => {
            let task = correct::task(path, &a.task)?;
            vec![draft::done(&task, args, &context)?]
        }
        kind => vec![draft::of(kind, args, &context)?],
    };
    record(drafts, path, out)
}

/// What was recorded, for programs.
#[derive(Serialize)]
struct Recorded<'a> {
    receipts: &'a [Receipt],
    entries: &'a [Entry],
}

/// Records drafts, all or none, and says so only once they are on the disk.
fn record(drafts: Vec<Draft>, path: &Path, out: &mut Out) -> Result<(), Error> {
    // Before a journal is started for it.
    for draft in &drafts {
        draft.clone().checked("new", "2026-01-01T00:00:00Z").map_err(open::fault)?;
    }
    let mut journal = open::write(path)?;
    let before = journal.entries(&Selection::default()).map_err(open::fault)?;
    let twice = twice::found(&drafts, &before);
    let receipts = journal.append_all(drafts).map_err(open::fault)?;
    let recorded = say_recorded(&journal, &receipts, out);
    for entry in twice {
        terminal::note(&format!(
            "guardcell: {} has much the same: {}. If it is the same, take one back with `guardcell \
             log retract {}`",
            entry.id,
            say::entry(&entry),
            entry.id
        ));
    }
    recorded
}

fn say_recorded(journal: &Journal, receipts: &[Receipt], out: &mut Out) -> Result<(), Error> {
    let mut entries = Vec::new();
    for receipt in receipts {
        entries.extend(
            journal
                .chain(&receipt.id)
                .map_err(open::fault)?
                .into_iter()
                .find(|e| e.id == receipt.id),
        );
    }
    if out.json() {
        out.value(&Recorded { receipts, entries: &entries })?;
    } else {
        for (receipt, entry) in receipts.iter().zip(&entries) {
            let word = if receipt.already_there { "was there" } else { "recorded" };
            out.item(&format!("{word} {}  ", receipt.id), &say::entry(entry));
        }
    }
    note_future(&entries, Timestamp::now());
    out.finish().map_err(|e| match e {
        e if is_closed_pipe(&e) => e,
        e => {
            let recorded = words::count(receipts.len(), "entry was", "entries were");
            let detail =
                format!("{recorded} recorded, but the answer cannot be written: {}", e.detail());
            e.with_detail(detail)
        }
    })
}

/// A time that is still to come is taken, for a clock may be wrong, but it is said.
fn note_future(entries: &[Entry], now: Timestamp) {
    let is_early = |e: &&Entry| e.at.parse::<Timestamp>().is_ok_and(|at| at > now + CLOCKS_DIFFER);
    let early: Vec<&Entry> = entries.iter().filter(is_early).collect();
    let Some(first) = early.first() else { return };
    let more = match early.len() - 1 {
        0 => String::new(),
        n => format!(", and {n} more"),
    };
    terminal::note(&format!(
        "guardcell: the time of {} is still to come: {}{more}. If it is a slip, take it back with \
         `guardcell log retract {}`",
        first.id,
        words::day_and_year(&first.at),
        first.id
    ));
}

fn by_csv(csv: &Path, path: &Path, out: &mut Out) -> Result<(), Error> {
    text::check_file(csv)?;
    let file = File::open(csv).map_err(|what| io(csv, what))?;
    let mut journal = open::write(path)?;
    let mut receipts = Vec::new();
    journal
        .import_each(Format::Csv, file, |receipt| receipts.push(receipt))
        .map_err(|e| open::fault_in(&csv.display().to_string(), e))?;
    if receipts.is_empty() {
        return Err(bad_file(
            csv.display(),
            "it has a header and no rows, so nothing was recorded",
            "give one entry a row",
        ));
    }
    say_recorded(&journal, &receipts, out)
}
