//! `data/species_names.csv` and the names printed in the works → names of species other than the
//! accepted ones.

use crate::fold::binomial;
use crate::genera::Genus;
use crate::observations::Record;
use crate::pack::{Lists, Pack};
use crate::table::{Faults, rows, words};
use std::collections::BTreeMap;

const COLUMNS: [&str; 5] = ["name", "accepted", "evidence", "sources", "notes"];

struct Entry {
    name: String,
    genus: usize,
    epithet: String,
    evidence: &'static str,
    sources: Vec<String>,
    notes: String,
}

/// The tables of names by folded key.
pub(crate) fn compile(
    genera: &[Genus],
    records: &[Record],
    sources: &BTreeMap<String, usize>,
    lists: &mut Lists<'_>,
    faults: &mut Faults,
) -> Result<String, String> {
    let mut entries = printed(records);
    for row in rows(guardcell_data::SPECIES_NAMES, &COLUMNS)? {
        let (name, accepted) = (row.get("name"), row.get("accepted"));
        let (genus, epithet) = accepted.split_once(' ').unwrap_or((accepted, ""));
        let Some(key) = key(name) else {
            faults.error(&row.at, format!("name {name:?}; it should be genus and epithet"));
            continue;
        };
        let Ok(genus) = genera.binary_search_by(|g| g.name.as_str().cmp(genus)) else {
            faults.error(&row.at, format!("accepted {accepted:?}: no such genus in genera.csv"));
            continue;
        };
        if epithet.is_empty() {
            faults.error(&row.at, format!("accepted {accepted:?}; it should be genus and epithet"));
        }
        let evidence = row.word("evidence", words::NAME_EVIDENCE, faults);
        let keys = row.keys("sources", sources, faults);
        if evidence == "Reported" && keys.is_empty() {
            faults.error(&row.at, format!("{name} is reported and names no source"));
        }
        let entry = Entry {
            name: name.to_owned(),
            genus,
            epithet: epithet.to_owned(),
            evidence,
            sources: keys,
            notes: row.get("notes").to_owned(),
        };
        match entries.get(&key) {
            Some(known) if (known.genus, &known.epithet) == (entry.genus, &entry.epithet) => {}
            Some(known) => faults.error(
                &row.at,
                format!("{name} means {:?} elsewhere in the tables", known.epithet),
            ),
            None => {
                entries.insert(key, entry);
            }
        }
    }
    Ok(emit(&entries, lists))
}

/// Names as printed in the works, where they are not the accepted ones.
fn printed(records: &[Record]) -> BTreeMap<String, Entry> {
    let mut entries: BTreeMap<String, Entry> = BTreeMap::new();
    for r in records {
        let Some(key) = key(&r.verbatim) else { continue };
        entries.entry(key).or_insert_with(|| Entry {
            name: r.verbatim.clone(),
            genus: r.genus,
            epithet: r.epithet.clone(),
            evidence: "Reported",
            sources: r.sources.clone(),
            notes: String::new(),
        });
    }
    entries
}

fn key(name: &str) -> Option<String> {
    let key = binomial(name)?;
    Some(String::from_utf8_lossy(key.bytes()).into_owned())
}

fn emit(entries: &BTreeMap<String, Entry>, lists: &mut Lists<'_>) -> String {
    Pack::of(entries.values(), |row, e| {
        row.text(&e.name);
        // Blank where it is the last word of the name.
        let own = e.name.rsplit(' ').next() == Some(&e.epithet);
        row.text(if own { "" } else { &e.epithet });
        row.word(words::NAME_EVIDENCE, e.evidence);
        row.number(lists.number(&e.sources));
        row.text(&e.notes);
        row.number(e.genus);
    })
    .rust("PACKED_SPECIES_NAMES")
}
