//! Readings of the air: a table with one moment and area a row, or a map of where they are.

use crate::input::table::Table;
use guardcell::advice::Reading;
use guardcell::{Code, Error, Place};
use guardcell_conditions::{Options, Read, Repeat, read_file, repeats};
use jiff::Timestamp;
use std::path::Path;

const REQUIRED: [&str; 3] = ["time", "temp_c", "rh_percent"];
const OPTIONAL: [&str; 3] = ["area", "air_m_s", "radiation_w_m2"];

/// Readings, where each stands, and what there is to say about them.
pub(crate) struct Conditions {
    pub(crate) readings: Vec<Reading>,
    pub(crate) places: Vec<Place>,
    pub(crate) notes: Vec<String>,
}

/// Reads conditions from a table, or by a map where the file ends in `.toml`; ages are counted to
/// `now`.
pub(crate) fn read(path: &Path, now: Timestamp, allow_stale: bool) -> Result<Conditions, Error> {
    if path.extension().is_some_and(|e| e.eq_ignore_ascii_case("toml")) {
        let read = follow(path, now, allow_stale)?;
        let notes = notes(&read, path);
        let places = read.places.iter().map(|p| Place::default().in_file(p)).collect();
        return Ok(Conditions { readings: read.readings, places, notes });
    }
    let table = Table::read(path, &REQUIRED, &OPTIONAL)?;
    let mut readings = Vec::new();
    let mut places = Vec::new();
    for row in table.rows() {
        readings.push(
            Reading::new(
                row.text("time")?.to_owned(),
                row.needed("temp_c")?,
                row.needed("rh_percent")?,
            )
            .with_area(row.get("area").map(str::to_owned))
            .with_air_m_s(row.number("air_m_s")?)
            .with_radiation_w_m2(row.number("radiation_w_m2")?),
        );
        places.push(row.place());
    }
    let notes = without_contradiction(&readings, &places)?;
    Ok(Conditions { readings, places, notes })
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
