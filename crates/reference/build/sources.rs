//! `data/sources.csv` → the table of works that data and checks cite.

use crate::pack::{Pack, variants};
use std::collections::BTreeMap;
use std::path::Path;

const COLUMNS: [&str; 10] =
    ["key", "author", "year", "title", "container", "volume", "pages", "doi", "read", "note"];
const READ: &[(&str, &str)] = &[
    ("full text", "FullText"),
    ("abstract", "Abstract"),
    ("table in a later work", "LaterWork"),
    ("memory", "Memory"),
];

/// Compiles the works and returns the index of each key in the sorted table.
pub(crate) fn compile(out: &Path) -> Result<BTreeMap<String, usize>, String> {
    let table = guardcell_data::SOURCES;
    let mut rows = crate::read(table, &COLUMNS)?;
    rows.sort_by(|a, b| a.1[0].cmp(&b.1[0]));
    let mut index = BTreeMap::new();
    let mut works = Vec::new();
    for (line, row) in &rows {
        let at = format!("data/{}:{line}", table.file);
        let [key, author, year, title, container, volume, pages, doi, read, note] = &row[..] else {
            return Err(format!("{at}: {} fields; there should be 10", row.len()));
        };
        if key.is_empty() || !key.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit()) {
            return Err(format!("{at}: key {key:?}; it should be lower-case letters and digits"));
        }
        let Some((_, read)) = READ.iter().find(|(word, _)| word == read) else {
            return Err(format!("{at}: read {read:?}; it should be one of {READ:?}"));
        };
        // A compilation may cite a work without its title: the note must then say so.
        if author.is_empty() || (title.is_empty() && note.is_empty()) {
            return Err(format!(
                "{at}: a work needs an author and a title, or a note why it has none"
            ));
        }
        let number: u16 = match year.as_str() {
            "" => 0,
            y => y.parse().map_err(|e| format!("{at}: year {y:?}: {e}"))?,
        };
        if index.insert(key.clone(), index.len()).is_some() {
            return Err(format!("{at}: duplicate key {key:?}"));
        }
        works.push((
            [key, author, title, container, volume, pages, doi, note],
            usize::from(number),
            read,
        ));
    }
    let packed = Pack::of(&works, |row, (texts, year, read)| {
        texts.iter().for_each(|text| row.text(text));
        row.number(*year);
        row.word(READ, read);
    });
    let text = variants("READS", "Read", READ) + &packed.rust("PACKED_WORKS");
    crate::write(out, "sources.rs", &text)?;
    Ok(index)
}

/// The keys of a field, each of which must stand in `sources.csv`.
pub(crate) fn cited<'a>(
    at: &str,
    field: &'a str,
    sources: &BTreeMap<String, usize>,
) -> Result<Vec<&'a str>, String> {
    let keys: Vec<&str> = field.split_whitespace().collect();
    match keys.iter().find(|k| !sources.contains_key(**k)) {
        Some(k) => Err(format!("{at}: source {k:?} is not in sources.csv")),
        None => Ok(keys),
    }
}
