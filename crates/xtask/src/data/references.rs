//! Whether the tables of taxa refer to each other's rows, without duplicate names.

use super::table::Package;
use std::collections::{BTreeMap, BTreeSet};

pub(crate) fn faults(package: &Package) -> Vec<String> {
    let mut faults = Vec::new();
    let genera: BTreeSet<&str> =
        package.rows("genera.csv").iter().map(|r| r.get("genus")).collect();
    for row in package.rows("species.csv") {
        if !genera.contains(row.get("genus")) {
            faults.push(format!(
                "data/species.csv:{}: genus {:?} is not in data/genera.csv",
                row.line,
                row.get("genus")
            ));
        }
    }
    let names = package.rows("names.csv");
    let of_kind = |kinds: &[&str]| -> BTreeSet<&str> {
        names.iter().filter(|r| kinds.contains(&r.get("kind"))).map(|r| r.get("name")).collect()
    };
    let older = of_kind(&["synonym", "spelling"]);
    let hybrids = of_kind(&["nothogenus"]);
    let mut seen: BTreeMap<&str, u64> = BTreeMap::new();
    for row in names {
        let at = format!("data/names.csv:{}: {}:", row.line, row.get("name"));
        let is_hybrid = row.get("kind") == "nothogenus";
        let (column, also) = if is_hybrid { ("parents", &older) } else { ("accepted", &hybrids) };
        for given in row.get(column).split('|').map(str::trim) {
            if !genera.contains(given) && !also.contains(given) {
                faults.push(format!("{at} {column} {given:?} is not in data/genera.csv"));
            }
        }
        if row.get("kind") == "abbreviation" {
            continue; // one abbreviation may stand for several genera
        }
        if genera.contains(row.get("name")) {
            faults.push(format!("{at} is accepted in data/genera.csv too"));
        }
        if let Some(line) = seen.insert(row.get("name"), row.line) {
            faults.push(format!("{at} duplicate name, also on line {line}"));
        }
    }
    faults
}
