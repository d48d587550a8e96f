//! Readings of the air: tables with one moment and area a row, and maps of where they are.

use crate::input::text;
use guardcell::advice::Reading;
use guardcell::{Code, Error, Place};
use guardcell_conditions::{Options, Read, Repeat, read_file, repeats};
use jiff::Timestamp;
use std::path::{Path, PathBuf};

/// Readings, where each stands, and what there is to say about them.
pub(crate) struct Conditions {
    pub(crate) readings: Vec<Reading>,
    pub(crate) places: Vec<Place>,
    pub(crate) notes: Vec<String>,
}

/// Reads conditions from tables, and by a map where a file ends in `.toml`, all together; ages are
/// counted to `now`.
pub(crate) fn read(
    paths: &[PathBuf],
    now: Timestamp,
    allow_stale: bool,
) -> Result<Conditions, Error> {
    let mut all = Conditions { readings: Vec::new(), places: Vec::new(), notes: Vec::new() };
    for path in paths {
        if path.extension().is_some_and(|e| e.eq_ignore_ascii_case("toml")) {
            let read = follow(path, now, allow_stale)?;
            all.notes.extend(notes(&read, path));
            all.places.extend(read.places.iter().map(|p| Place::default().in_file(p)));
            all.readings.extend(read.readings);
        } else {
            let read = guardcell_folder::readings(&path.display().to_string(), &text::read(path)?)?;
            all.readings.extend(read.readings);
            all.places.extend(read.places);
        }
    }
    all.notes.extend(without_contradiction(&all.readings, &all.places)?);
    Ok(all)
}

/// Refuses a table that has two readings of one area and moment that differ; copies are noted.
fn without_contradiction(readings: &[Reading], places: &[Place]) -> Result<Vec<String>, Error> {
    let place = |i: usize| places.get(i).cloned().unwrap_or_default();
    let mut notes = Vec::new();
    for repeat in repeats(readings) {
        match repeat {
            Repeat::Differs { first, second } => {
                let detail =
                    format!("another reading of this area and time differs ({})", place(first));
                let hint = "keep one; a map of the file can choose (`duplicates`)";
                return Err(Error::new(Code::Conflict, detail, hint).placed(place(second)));
            }
            Repeat::Same { first, second } => {
                notes.push(format!("{}: a copy of {}", place(second), place(first)));
            }
        }
    }
    Ok(notes)
}

/// Follows a map.
pub(crate) fn follow(path: &Path, now: Timestamp, allow_stale: bool) -> Result<Read, Error> {
    read_file(path, &Options::at(now).allowing_stale(allow_stale))
}

/// What must not go unsaid when readings are used.
fn notes(read: &Read, map: &Path) -> Vec<String> {
    let r = &read.report;
    let mut out = Vec::new();
    if r.readings_dropped > 0 {
        out.push(format!(
            "{}: {} of {} readings were dropped; `guardcell conditions check --map {}` says why",
            r.from,
            r.readings_dropped,
            r.readings_possible,
            map.display()
        ));
    }
    for a in r.areas.iter().filter(|a| a.stale) {
        let area = a.area.as_deref().unwrap_or("every area");
        let age = a.newest_age_h.map_or("run out".to_owned(), |h| format!("{h:.1} h old"));
        out.push(format!(
            "{}: the newest reading of {area} is {age}, past the {} h of the map; taken all the same",
            r.from, r.max_age_h
        ));
    }
    out
}
