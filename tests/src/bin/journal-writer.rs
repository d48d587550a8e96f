//! Writes entries to a journal and says of each when it was acknowledged. The crash tests end it
//! at any moment.
//!
//! `journal-writer JOURNAL PREFIX COUNT NOTE_LENGTH WAIT_MS`, or `journal-writer JOURNAL` to list
//! what is in it without writing.

use guardcell::ledger::{Draft, Event, PlantShare, Round};
use guardcell_journal::{Journal, Selection};
use std::io::Write as _;
use std::path::Path;
use std::time::Duration;

fn main() -> std::process::ExitCode {
    match run() {
        Ok(()) => std::process::ExitCode::SUCCESS,
        Err(message) => {
            let _ = writeln!(std::io::stderr(), "{message}");
            std::process::ExitCode::from(3)
        }
    }
}

fn run() -> Result<(), String> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if let [path] = arguments.as_slice() {
        let journal = Journal::open_to_read(Path::new(path)).map_err(|e| e.to_string())?;
        let mut out = std::io::stdout().lock();
        for entry in journal.entries(&Selection::default()).map_err(|e| e.to_string())? {
            writeln!(out, "{}", entry.id).map_err(|e| e.to_string())?;
        }
        return Ok(());
    }
    let [path, prefix, count, note, wait] = arguments.as_slice() else {
        return Err("journal-writer JOURNAL PREFIX COUNT NOTE_LENGTH WAIT_MS".into());
    };
    let number = |s: &String| s.parse::<u64>().map_err(|e| format!("{s:?}: {e}"));
    let (count, note, wait) = (number(count)?, number(note)?, number(wait)?);
    let mut out = std::io::stdout().lock();
    let mut journal = Journal::open_waiting(Path::new(path), Duration::from_millis(wait))
        .map_err(|e| e.to_string())?;
    for i in 0..count {
        let draft = Draft {
            id: Some(format!("{prefix}-{i}")),
            recorded: None,
            at: "2026-06-21T05:10:00+01:00".into(),
            zone: Some("Europe/London".into()),
            site: "Fernhollow".into(),
            supersedes: None,
            event: Event::Round(Round {
                plants: vec![PlantShare { plant: format!("F{i:03}"), volume_ml: Some(12.5) }],
                product: None,
                water: None,
                wetting_agent: None,
                sprayer: None,
                feed_strength_mg_l: 300.0,
                n_mg_l: None,
                passes: 2,
                volume_ml: None,
                window: None,
                conditions: None,
            }),
            note: "n".repeat(usize::try_from(note).map_err(|e| e.to_string())?),
        };
        let receipt = journal.append(draft).map_err(|e| e.to_string())?;
        writeln!(out, "{}", receipt.id).and_then(|()| out.flush()).map_err(|e| e.to_string())?;
    }
    Ok(())
}
