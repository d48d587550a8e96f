//! Folded keys of every name, in a hash table laid out at build time.

use crate::fold::{fold, hash, letters};
use crate::genera::Genus;
use crate::names::Name;
use crate::species::{Record, Species};
use crate::table::Faults;
use std::collections::BTreeMap;
use std::fmt::Write as _;

pub(crate) fn emit(
    genera: &[Genus],
    names: &[Name],
    records: &[Record],
    species: &[Species],
    faults: &mut Faults,
) -> String {
    let mut keys: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut add = |name: &str, hit: String| {
        if let Some(text) = folded(name) {
            let hits = keys.entry(text).or_default();
            if !hits.contains(&hit) {
                hits.push(hit);
            }
        }
    };
    for (i, g) in genera.iter().enumerate() {
        add(&g.name, format!("Hit::Genus({i})"));
    }
    for (i, n) in names.iter().enumerate() {
        if let Some(hybrid) = &n.of_hybrid {
            // An abbreviation or spelling of a hybrid genus stands for that hybrid genus.
            if let Some(j) = names.iter().position(|m| m.kind == "Nothogenus" && m.name == *hybrid)
            {
                add(&n.name, format!("Hit::Hybrid({i}, {j})"));
            } else {
                faults.error(&n.at, format!("{}: {hybrid:?} is not a hybrid genus", n.name));
            }
            continue;
        }
        add(&n.name, format!("Hit::Name({i})"));
        if !n.abbreviation.is_empty() && n.kind != "Abbreviation" {
            add(&n.abbreviation, format!("Hit::Hybrid({i}, {i})"));
        }
    }
    let mut text = String::from("static KEYS: &[Entry] = &[\n");
    for (key, hits) in &keys {
        let _ = writeln!(
            text,
            "    Entry {{ key: {key:?}, letters: {}, hits: &[{}] }},",
            letters(key.as_bytes()),
            hits.join(", ")
        );
    }
    text.push_str("];\n");
    // Half full at most, so that a miss ends after a step or two.
    let size = (keys.len() * 2).next_power_of_two().max(2);
    let mut slots = vec![u16::MAX; size];
    for (i, key) in keys.keys().enumerate() {
        let mut at = hash(key.as_bytes()) as usize & (size - 1);
        while slots[at] != u16::MAX {
            at = (at + 1) & (size - 1);
        }
        slots[at] = i as u16;
    }
    let _ = writeln!(text, "static SLOTS: [u16; {size}] = {slots:?};");
    // Names of species as printed in the works, where the genus has since changed.
    let mut printed: BTreeMap<String, usize> = BTreeMap::new();
    for r in records {
        let mut words = r.verbatim.split_whitespace();
        if let (Some(g), Some(e)) = (words.next(), words.next())
            && let (Some(g), Some(e)) = (fold(g), fold(e))
            && let Some(key) = g.join(&e)
            && let Ok(i) =
                species.binary_search_by(|s| (s.genus, &s.epithet).cmp(&(r.genus, &r.epithet)))
        {
            let key = String::from_utf8_lossy(key.bytes()).into_owned();
            printed.entry(key).or_insert(i);
        }
    }
    let pairs: Vec<(&str, usize)> = printed.iter().map(|(k, i)| (k.as_str(), *i)).collect();
    let _ = writeln!(text, "static PRINTED: &[(&str, u16)] = &{pairs:?};");
    text
}

fn folded(name: &str) -> Option<String> {
    fold(name).map(|k| String::from_utf8_lossy(k.bytes()).into_owned())
}
