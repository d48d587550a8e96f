//! Folded keys of every name, in a hash table laid out at build time.

use crate::fold::{fold, hash, letters};
use crate::genera::Genus;
use crate::names::Name;
use crate::table::Faults;
use std::collections::BTreeMap;
use std::fmt::Write as _;

pub(crate) fn emit(genera: &[Genus], names: &[Name], faults: &mut Faults) -> String {
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
    // All keys are in one text and all hits in one list: a string or slice of its own would cost
    // each entry two relocations.
    let mut text = String::from("static KEYS: &[Entry] = &[\n");
    let (mut key_text, mut all_hits) = (String::new(), Vec::new());
    for (key, hits) in &keys {
        let _ = writeln!(
            text,
            "    Entry {{ at: {}, len: {}, letters: {}, first: {}, hits: {} }},",
            key_text.len(),
            key.len(),
            letters(key.as_bytes()),
            all_hits.len(),
            hits.len()
        );
        key_text.push_str(key);
        all_hits.extend(hits.iter().map(String::as_str));
    }
    text.push_str("];\n");
    let _ = writeln!(text, "static KEY_TEXT: &str = {key_text:?};");
    let _ = writeln!(text, "static HITS: &[Hit] = &[{}];", all_hits.join(", "));
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
    text
}

fn folded(name: &str) -> Option<String> {
    fold(name).map(|k| String::from_utf8_lossy(k.bytes()).into_owned())
}
