//! How well each subtribe is covered.

use super::table::Package;
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

/// How many of the most grown species have a record of their own, by group: any value or statement,
/// and a measurement that says something of the pathway.
pub(crate) fn grown(package: &Package) -> String {
    let records: Vec<_> =
        ["observations.csv", "judgements.csv"].into_iter().flat_map(|t| package.rows(t)).collect();
    let mut groups: BTreeMap<String, [usize; 3]> = BTreeMap::new();
    for row in package.rows("grown_species.csv") {
        let (genus, epithet) = row.get("name").split_once(' ').unwrap_or((row.get("name"), ""));
        let own =
            records.iter().any(|r| (r.get("genus"), r.get("specific_epithet")) == (genus, epithet));
        let measured = genera().iter().filter(|g| g.name == genus).any(|g| {
            let mut of = g.species().iter().filter(|s| s.epithet == epithet);
            of.any(|s| s.traits.grade == Grade::Measured)
        });
        for group in [row.get("group"), "all"] {
            let counts = groups.entry(group.to_owned()).or_default();
            counts[0] += 1;
            counts[1] += usize::from(own);
            counts[2] += usize::from(measured);
        }
    }
    let mut text =
        format!("{:<58} {:>6} {:>8} {:>8}\n", "most grown", "all", "recorded", "measured");
    for (group, [all, own, measured]) in &groups {
        let _ = writeln!(text, "{group:<58} {all:>6} {own:>8} {measured:>8}");
    }
    text
}
