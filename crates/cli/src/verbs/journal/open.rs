//! Which journal, and its faults as those of the program.

use crate::args::JournalFile;
use crate::error::CliError;
use guardcell_journal::{Journal, JournalError};
use std::path::{Path, PathBuf};

/// The journal of a folder that has one.
const USUAL: &str = "guardcell.journal";
const VARIABLE: &str = "GUARDCELL_JOURNAL";

/// The path that was asked for.
pub(crate) fn path(file: &JournalFile) -> Result<PathBuf, CliError> {
    if let Some(path) = &file.journal {
        return Ok(path.clone());
    }
    if let Some(path) = variable(VARIABLE) {
        return Ok(path);
    }
    let usual = Path::new(USUAL);
    if usual.is_file() {
        return Ok(usual.to_path_buf());
    }
    Err(CliError::input(
        "--journal",
        format!("no journal is named, {VARIABLE} is not set, and this folder has no {USUAL}"),
        "name a file; it is started if it is not there, and the same folder finds it again if it \
         is called guardcell.journal",
    ))
}

/// A path from the environment; blank is none.
pub(crate) fn variable(name: &str) -> Option<PathBuf> {
    std::env::var_os(name).filter(|v| !v.is_empty()).map(PathBuf::from)
}

/// Opens a journal to write; starts it where there is none.
pub(crate) fn write(path: &Path) -> Result<Journal, CliError> {
    Journal::open(path).map_err(fault)
}

/// Opens a journal to read.
pub(crate) fn read(path: &Path) -> Result<Journal, CliError> {
    Journal::open_to_read(path).map_err(fault)
}

/// What the journal refuses, with the exit code it deserves: bad input, or reading and writing
/// that failed.
pub(crate) fn fault(e: JournalError) -> CliError {
    match e {
        JournalError::Value { pointer, wrong, right } => {
            CliError::Input { place: flag(&pointer), wrong, right }
        }
        JournalError::UnknownEntry { id } => CliError::input(
            "the entry",
            format!("the journal holds no {id:?}"),
            "name one that `guardcell history entries` lists",
        ),
        JournalError::AlreadyCorrected { id, by } => CliError::input(
            "the entry",
            format!("{id:?} has already been corrected or taken back by {by:?}"),
            format!("correct {by:?} instead"),
        ),
        JournalError::Exists { path } => CliError::input(
            path.display().to_string(),
            "there is a file already",
            "name another, or say --replace",
        ),
        e @ (JournalError::Line { .. }
        | JournalError::Conflict { .. }
        | JournalError::NotAJournal { .. }
        | JournalError::Newer { .. }
        | JournalError::Older { .. }) => CliError::Refused(e.to_string()),
        e => CliError::Storage(e.to_string()),
    }
}

/// The same for a file that is being imported.
pub(crate) fn fault_in(file: &str, e: JournalError) -> CliError {
    match e {
        JournalError::Line { line, wrong } => {
            CliError::Refused(format!("{file}:{line}: {wrong}; nothing of the file was recorded"))
        }
        e => fault(e),
    }
}

/// The flag that a field of an entry comes from.
fn flag(pointer: &str) -> String {
    let known = [
        ("/event/feed_strength_mg_l", "--strength"),
        ("/event/n_mg_l", "--n"),
        ("/event/product", "--product"),
        ("/event/passes", "--passes"),
        ("/event/volume_ml", "--volume"),
        ("/event/drain_ml", "--drain"),
        ("/event/drain_mg_l", "--drain-strength"),
        ("/event/duration_min", "--lasted"),
        ("/event/group", "--group"),
        ("/event/round", "--round"),
        ("/event/conditions/temp_c", "--temp"),
        ("/event/conditions/rh_percent", "--humidity"),
        ("/event/conditions/air_m_s", "--air"),
        ("/event/conditions/residue_g_m2", "--modelled"),
        ("/event/conditions/scale_g_m2", "--modelled-scale"),
        ("/at", "--at"),
        ("/zone", "--zone"),
        ("/site", "--site"),
        ("/note", "--note"),
        ("/supersedes", "the entry"),
        ("/next/tolerance", "--tolerance"),
        ("/interval_share", "--interval"),
    ];
    if let Some((_, flag)) = known.iter().find(|(p, _)| *p == pointer) {
        return (*flag).to_owned();
    }
    if pointer.starts_with("/event/plants") { "the plants".into() } else { pointer.to_owned() }
}
