//! What every folded name stands for, in the order of the keys; the library folds the names itself.

use crate::fold::fold;
use crate::genera::Genus;
use crate::names::Name;
use crate::pack::Pack;
use crate::table::Faults;
use std::collections::BTreeMap;

pub(crate) fn emit(genera: &[Genus], names: &[Name], faults: &mut Faults) -> String {
    // Each hit as `Hit` of the library: which variant, and its numbers; the second of a hybrid is 0
    // where it is the first.
    let mut keys: BTreeMap<String, Vec<[usize; 3]>> = BTreeMap::new();
    let mut add = |name: &str, hit: [usize; 3]| {
        if let Some(text) = folded(name) {
            let hits = keys.entry(text).or_default();
            if !hits.contains(&hit) {
                hits.push(hit);
            }
        }
    };
    for (i, g) in genera.iter().enumerate() {
        add(&g.name, [0, i, 0]);
    }
    for (i, n) in names.iter().enumerate() {
        if let Some(hybrid) = &n.of_hybrid {
            // An abbreviation or spelling of a hybrid genus stands for that hybrid genus.
            if let Some(j) = names.iter().position(|m| m.kind == "Nothogenus" && m.name == *hybrid)
            {
                add(&n.name, [2, i, j + 1]);
            } else {
                faults.error(&n.at, format!("{}: {hybrid:?} is not a hybrid genus", n.name));
            }
            continue;
        }
        add(&n.name, [1, i, 0]);
        if !n.abbreviation.is_empty() && n.kind != "Abbreviation" {
            add(&n.abbreviation, [2, i, 0]);
        }
    }
    // Neighbours in the order of the keys are mostly neighbours in their tables.
    let mut last = [0; 3];
    Pack::of(keys.into_values().flatten(), |row, [kind, i, j]| {
        row.number(kind);
        row.step(&mut last[kind], i);
        row.number(j);
    })
    .rust("PACKED_HITS")
}

fn folded(name: &str) -> Option<String> {
    fold(name).map(|k| String::from_utf8_lossy(k.bytes()).into_owned())
}
