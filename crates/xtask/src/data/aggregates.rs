//! Whether the rows of genera agree with the rows of their species.
//!
//! Two kinds of species may be counted or left out, as the row of the genus sees fit: those that
//! were not determined (or are artificial hybrids, or whose note says they are not counted), and
//! those on which two works disagree. The count must lie within what that allows.

use super::table::{Package, Row};
use std::collections::BTreeMap;

type Span = Option<(f64, f64)>;

/// What the leaf rows with an isotope ratio say of one species.
#[derive(Default)]
struct Species {
    determined: bool,
    c3: bool,
    cam: bool,
}

/// What the species rows of one genus add up to.
#[derive(Default)]
struct Sum<'a> {
    species: BTreeMap<&'a str, Species>,
    /// δ¹³C over all rows, and over those of determined species.
    d13c: (Span, Span),
    /// Leaf thickness, likewise.
    thickness: (Span, Span),
}

fn widen(span: &mut Span, value: f64) {
    let (low, high) = span.unwrap_or((value, value));
    *span = Some((low.min(value), high.max(value)));
}

fn widen_both(spans: &mut (Span, Span), value: f64, determined: bool) {
    widen(&mut spans.0, value);
    if determined {
        widen(&mut spans.1, value);
    }
}

pub(crate) fn faults(package: &Package) -> Vec<String> {
    let mut sums: BTreeMap<&str, Sum<'_>> = BTreeMap::new();
    for row in package.rows("species.csv") {
        if !matches!(row.get("organ"), "leaf" | "whole" | "") {
            continue;
        }
        let epithet = row.get("specific_epithet");
        let determined = !epithet.starts_with("sp.")
            && !epithet.starts_with('×')
            && !row.get("notes").contains("not counted");
        let sum = sums.entry(row.get("genus")).or_default();
        if let Some(d) = row.number("d13c_permil") {
            widen_both(&mut sum.d13c, d, determined);
            let species = sum.species.entry(epithet).or_default();
            species.determined |= determined;
            species.c3 |= row.get("pathway") == "c3";
            species.cam |= row.get("pathway") == "cam";
        }
        if let Some(mm) = row.number("leaf_thickness_mm") {
            widen_both(&mut sum.thickness, mm, determined);
        }
    }
    let none = Sum::default();
    package
        .rows("genera.csv")
        .iter()
        .flat_map(|g| of_genus(g, sums.get(g.get("genus")).unwrap_or(&none)))
        .collect()
}

fn of_genus(g: &Row, sum: &Sum<'_>) -> Vec<String> {
    let at = format!("data/genera.csv:{}: {}:", g.line, g.get("genus"));
    let mut faults = Vec::new();
    let count = |f: &dyn Fn(&Species) -> bool| sum.species.values().filter(|s| f(s)).count();
    let known = |s: &Species| s.c3 || s.cam;
    let measured = count(&|s| s.determined && known(s))..=count(&known);
    let cam = count(&|s| s.determined && s.cam && !s.c3)..=count(&|s| s.cam);
    let said = |column: &str| g.number(column).unwrap_or(0.0) as usize;
    for (column, allowed) in [("measured_species", &measured), ("cam_species", &cam)] {
        if !allowed.contains(&said(column)) {
            faults.push(format!(
                "{at} {column} is {}, its species rows give {} to {}",
                said(column),
                allowed.start(),
                allowed.end()
            ));
        }
    }
    for (low, high, (all, determined)) in
        [("d13c_low", "d13c_high", sum.d13c), ("leaf_mm_low", "leaf_mm_high", sum.thickness)]
    {
        let said = g.number(low).zip(g.number(high));
        if !same(said, all) && !same(said, determined) {
            faults.push(format!(
                "{at} {low} and {high} are {said:?}, its species rows give {determined:?} or {all:?}"
            ));
        }
    }
    let (pathway, n) = (g.get("pathway"), said("measured_species"));
    if n > 0 {
        let fits = match pathway {
            "cam" => said("cam_species") == n,
            "c3" => said("cam_species") == 0,
            other => matches!(other, "variable" | "facultative"),
        };
        if !fits {
            faults.push(format!(
                "{at} is {pathway}, but {} of {n} measured species are CAM",
                said("cam_species")
            ));
        }
        if pathway == "c3" && !g.get("notes").contains("weak CAM") {
            faults.push(format!(
                "{at} is c3 from isotopes; its notes should say that this is C3 or weak CAM"
            ));
        }
    }
    faults
}

fn same(a: Span, b: Span) -> bool {
    match (a, b) {
        (None, None) => true,
        (Some(a), Some(b)) => (a.0 - b.0).abs() < 1e-6 && (a.1 - b.1).abs() < 1e-6,
        _ => false,
    }
}
