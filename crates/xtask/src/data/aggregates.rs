//! Whether the rows of genera agree with the rows of their species.

use super::table::{Package, Row};
use std::collections::BTreeMap;

/// What the species rows of one genus add up to.
#[derive(Default)]
struct Sum<'a> {
    /// By species: whether any leaf row with an isotope ratio calls it CAM.
    species: BTreeMap<&'a str, bool>,
    d13c: Option<(f64, f64)>,
    thickness: Option<(f64, f64)>,
}

fn widen(span: &mut Option<(f64, f64)>, value: f64) {
    let (low, high) = span.unwrap_or((value, value));
    *span = Some((low.min(value), high.max(value)));
}

pub(crate) fn faults(package: &Package) -> Vec<String> {
    let mut sums: BTreeMap<&str, Sum<'_>> = BTreeMap::new();
    for row in package.rows("species.csv") {
        if !matches!(row.get("organ"), "leaf" | "whole" | "") {
            continue;
        }
        let sum = sums.entry(row.get("genus")).or_default();
        if let Some(d) = row.number("d13c_permil") {
            widen(&mut sum.d13c, d);
            if matches!(row.get("pathway"), "c3" | "cam") {
                *sum.species.entry(row.get("specific_epithet")).or_default() |=
                    row.get("pathway") == "cam";
            }
        }
        if let Some(mm) = row.number("leaf_thickness_mm") {
            widen(&mut sum.thickness, mm);
        }
    }
    let none = Sum::default();
    package
        .rows("genera.csv")
        .iter()
        .flat_map(|g| {
            let sum = sums.get(g.get("genus")).unwrap_or(&none);
            of_genus(g, sum)
        })
        .collect()
}

fn of_genus(g: &Row, sum: &Sum<'_>) -> Vec<String> {
    let genus = g.get("genus");
    let at = format!("data/genera.csv:{}: {genus}:", g.line);
    let mut faults = Vec::new();
    let cam = sum.species.values().filter(|c| **c).count();
    let n = sum.species.len();
    let count = |column: &str| g.number(column).unwrap_or(0.0) as usize;
    if (count("cam_species"), count("measured_species")) != (cam, n) {
        faults.push(format!(
            "{at} says {} of {} measured species CAM, its species rows say {cam} of {n}",
            count("cam_species"),
            count("measured_species"),
        ));
    }
    for (low, high, span) in
        [("d13c_low", "d13c_high", sum.d13c), ("leaf_mm_low", "leaf_mm_high", sum.thickness)]
    {
        let said = g.number(low).zip(g.number(high));
        let close =
            |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() < 1e-6 && (a.1 - b.1).abs() < 1e-6;
        let agrees = match (said, span) {
            (None, None) => true,
            (Some(a), Some(b)) => close(a, b),
            _ => false,
        };
        if !agrees {
            faults.push(format!(
                "{at} {low} and {high} are {said:?}, its species rows give {span:?}"
            ));
        }
    }
    let pathway = g.get("pathway");
    if n > 0 {
        let fits = match pathway {
            "cam" => cam == n,
            "c3" => cam == 0,
            "variable" | "facultative" => true,
            _ => false,
        };
        if !fits {
            faults.push(format!("{at} is {pathway}, but {cam} of {n} measured species are CAM"));
        }
        if pathway == "c3" && cam == 0 && !g.get("notes").contains("weak CAM") {
            faults.push(format!(
                "{at} is c3 from isotopes; its notes should say that this is C3 or weak CAM"
            ));
        }
    }
    faults
}
