//! Whether the tables of taxa refer to each other's rows, without duplicate names.

use super::table::Package;
use std::collections::{BTreeMap, BTreeSet};

pub(crate) fn faults(package: &Package) -> Vec<String> {
    let mut faults = Vec::new();
    let genera: BTreeSet<&str> =
        package.rows("genera.csv").iter().map(|r| r.get("genus")).collect();
    faults.extend(outside(package));
    faults.extend(not_flagged(package));
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

/// Values that no plant has: δ¹³C of land plants, leaf thickness, rises of acidity.
fn outside(package: &Package) -> Vec<String> {
    let mut faults = Vec::new();
    for row in package.rows("observations.csv") {
        let (low, high) = match row.get("trait") {
            "d13c" => (-40.0, -8.0),
            "leaf_thickness" => (0.01, 30.0),
            "uptake_by_day" => (0.0, 50.0),
            _ => (-100.0, 1000.0),
        };
        for column in ["value", "low", "high"] {
            let value = row.get(column).parse::<f64>().ok();
            if let Some(v) = value.filter(|v| !(low..=high).contains(v)) {
                faults.push(format!(
                    "data/observations.csv:{}: {column} {v} is outside {low} to {high}",
                    row.line
                ));
            }
        }
    }
    faults
}

/// A value, its flag and its line.
type Reading<'a> = (f64, &'a str, u64);

/// Species with isotope values of CAM and of C3, whose values carry no flag.
fn not_flagged(package: &Package) -> Vec<String> {
    let mut species: BTreeMap<(&str, &str), Vec<Reading<'_>>> = BTreeMap::new();
    for row in package.rows("observations.csv") {
        let value = row.get("value").parse::<f64>().ok().filter(|_| row.get("trait") == "d13c");
        let on_leaf = matches!(row.get("organ"), "leaf" | "whole" | "");
        if let Some(value) = value.filter(|_| on_leaf) {
            let of = species.entry((row.get("genus"), row.get("specific_epithet"))).or_default();
            of.push((value, row.get("flag"), row.line));
        }
    }
    species
        .values()
        .filter(|of| of.iter().any(|v| v.0 > -20.0) && of.iter().any(|v| v.0 < -22.0))
        .flatten()
        .filter(|(_, flag, _)| flag.is_empty())
        .map(|(_, _, line)| {
            format!(
                "data/observations.csv:{line}: values of this species lie above -20 and below -22; \
                 flag them as disputed or outlier"
            )
        })
        .collect()
}
