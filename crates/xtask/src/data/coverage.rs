//! How well each subtribe is covered.

use guardcell::reference::{Grade, Leaf, Pathway, genera};
use std::collections::BTreeMap;
use std::fmt::Write as _;

#[derive(Default)]
struct Cover {
    genera: usize,
    with_evidence: usize,
    inferred: usize,
    leaf: usize,
    species: usize,
}

pub(crate) fn by_subtribe() -> String {
    let mut covers: BTreeMap<[&str; 3], Cover> = BTreeMap::new();
    for g in genera() {
        let cover = covers.entry([g.subfamily, g.tribe, g.subtribe]).or_default();
        cover.genera += 1;
        cover.with_evidence += usize::from(g.has_evidence());
        cover.inferred += usize::from(g.traits.grade == Grade::Inferred);
        cover.leaf += usize::from(g.traits.leaf != Leaf::Unknown);
        cover.species +=
            g.species().iter().filter(|s| s.traits.pathway != Pathway::Unknown).count();
    }
    let mut text = format!(
        "{:<58} {:>6} {:>8} {:>8} {:>5} {:>7}\n",
        "subfamily, tribe, subtribe", "genera", "evidence", "inferred", "leaf", "species"
    );
    for (place, c) in &covers {
        let name: Vec<&str> = place.iter().filter(|p| !p.is_empty()).copied().collect();
        let _ = writeln!(
            text,
            "{:<58} {:>6} {:>8} {:>8} {:>5} {:>7}",
            name.join(", "),
            c.genera,
            c.with_evidence,
            c.inferred,
            c.leaf,
            c.species
        );
    }
    text
}
