//! `data/species_names.csv` and the names printed in the works → names of species other than the
//! accepted ones.

use crate::fold::fold;
use crate::genera::Genus;
use crate::observations::Record;
use crate::species::Species;
use crate::table::{Faults, rows, words};
use crate::traits::strings;
use std::collections::BTreeMap;
use std::fmt::Write as _;

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
    species: &[Species],
    sources: &BTreeMap<String, usize>,
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
    Ok(emit(&entries, species))
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

/// The folded key of a binomial. `None` if it is not one, or the species was not determined.
fn key(name: &str) -> Option<String> {
    let mut words = name.split_whitespace().filter(|w| *w != "x" && *w != "×");
    let (genus, epithet) = (words.next()?, words.next()?);
    if matches!(epithet.trim_end_matches('.'), "sp" | "cf" | "aff") {
        return None;
    }
    let key = fold(genus)?.join(&fold(epithet)?)?;
    Some(String::from_utf8_lossy(key.bytes()).into_owned())
}

fn emit(entries: &BTreeMap<String, Entry>, species: &[Species]) -> String {
    let keys: Vec<&String> = entries.keys().collect();
    let mut text = format!("static SPECIES_NAME_KEYS: &[&str] = &{keys:?};\n");
    text.push_str("static SPECIES_NAMES: &[SpeciesName] = &[\n");
    for e in entries.values() {
        let of = species.binary_search_by(|s| (s.genus, &s.epithet).cmp(&(e.genus, &e.epithet)));
        let _ = writeln!(
            text,
            "    SpeciesName {{ name: {:?}, epithet: {:?}, evidence: NameEvidence::{}, sources: {}, \
             notes: {:?}, genus: {}, species: {:?} }},",
            e.name,
            e.epithet,
            e.evidence,
            strings(&e.sources),
            e.notes,
            e.genus,
            of.ok(),
        );
    }
    text.push_str("];\n");
    text
}
