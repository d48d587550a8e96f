//! Which journal, and its errors with the argument they belong to.

use crate::args::JournalFile;
use crate::error::argument;
use crate::home::Home;
use guardcell::Error;
use guardcell_journal::Journal;
use std::path::{Path, PathBuf};

const VARIABLE: &str = "GUARDCELL_JOURNAL";

/// The path that was asked for.
pub(crate) fn path(file: &JournalFile, home: &Home) -> Result<PathBuf, Error> {
    place(file.journal.as_deref(), home)
}

/// The journal of a flag, else of the environment, else of the folder.
pub(crate) fn place(flag: Option<&Path>, home: &Home) -> Result<PathBuf, Error> {
    if let Some(path) = flag {
        return Ok(path.to_path_buf());
    }
    if let Some(path) = variable(VARIABLE) {
        return Ok(path);
    }
    if let Some(path) = home.journal_place() {
        return Ok(path);
    }
    Err(argument(
        "--journal",
        format!(
            "no journal is named, {VARIABLE} is not set, and no folder with a site.toml is near"
        ),
        "name a file, which is created if missing; or go to your folder, or name it with --dir: its \
         journal is journal.db",
    ))
}

/// The journal that an answer may learn from: the one named, else that of the folder if it has one.
pub(crate) fn existing(flag: Option<&Path>, home: &Home) -> Option<PathBuf> {
    flag.map(Path::to_path_buf).or_else(|| home.journal_place().filter(|path| path.is_file()))
}

/// A path from the environment; empty counts as not set.
pub(crate) fn variable(name: &str) -> Option<PathBuf> {
    std::env::var_os(name).filter(|v| !v.is_empty()).map(PathBuf::from)
}

/// Opens a journal to write; creates it if missing.
pub(crate) fn write(path: &Path) -> Result<Journal, Error> {
    Journal::open(path).map_err(fault)
}

/// Opens a journal to read.
pub(crate) fn read(path: &Path) -> Result<Journal, Error> {
    Journal::open_to_read(path).map_err(fault)
}

/// An error of the journal or of an entry, with the argument that its pointer comes from.
pub(crate) fn fault(e: Error) -> Error {
    match e.pointer() {
        "" => e,
        pointer => {
            let flag = flag(pointer);
            e.of_argument(flag)
        }
    }
}

/// The same for a file that is being imported.
pub(crate) fn fault_in(name: &str, e: Error) -> Error {
    if e.place().is_some_and(|p| p.line.is_some()) { e.in_file(name) } else { e }
}

/// The flag that a field of an entry comes from.
fn flag(pointer: &str) -> String {
    let known = [
        ("/event/feed_strength_mg_l", "--strength"),
        ("/event/n_mg_l", "--n"),
        ("/event/product", "--product"),
        ("/event/water", "--water"),
        ("/event/wetting_agent", "--wetting-agent"),
        ("/event/sprayer", "--sprayer"),
        ("/event/passes", "--passes"),
        ("/event/volume_ml", "--volume"),
        ("/event/drain_ml", "--drain"),
        ("/event/drain_mg_l", "--drain-strength"),
        ("/event/duration_min", "--lasted"),
        ("/event/due", "--due"),
        ("/event/every_days", "--every"),
        ("/event/photo", "--photo"),
        ("/event/measure", "the measure"),
        ("/event/value", "the value"),
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
        ("/tolerance", "--tolerance"),
        ("/group", "--residue-group"),
        ("/interval_share", "--interval"),
    ];
    if let Some((_, flag)) = known.iter().find(|(p, _)| *p == pointer) {
        return (*flag).to_owned();
    }
    if pointer.starts_with("/event/plants") { "the plants".into() } else { pointer.to_owned() }
}
