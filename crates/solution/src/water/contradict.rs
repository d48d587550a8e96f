//! Figures of a report that do not agree, and which of them is most likely off.
//!
//! A figure is suspected when leaving it out, and completing the rest again, removes the
//! disagreement (or most of it). Several that do so equally are all named: the report cannot tell
//! them apart.

use super::carbonate::Carbonate;
use super::complete::{Completion, from_stated};
use super::response::Contradiction;
use super::stated::{FIELDS, Stated};
use guardcell_error::Error;
use guardcell_reference::parameters::solution as parameter;
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::in_mmol_per_l;

/// One disagreement: code, words, and how many times over its limit.
struct Fault {
    code: &'static str,
    message: String,
    over: f64,
}

pub(super) fn contradictions(c: &Completion) -> Result<Vec<Contradiction>, Error> {
    let faults = faults(c);
    if faults.is_empty() {
        return Ok(Vec::new());
    }
    let mut without = Vec::new();
    for field in FIELDS {
        if let Some(rest) = c.stated.without(field) {
            without.push((field, self::faults(&from_stated(&rest)?)));
        }
    }
    Ok(faults
        .into_iter()
        .map(|f| {
            // What is left of this disagreement, and of all of them, without the field.
            let left: Vec<(&str, f64, f64)> = without
                .iter()
                .map(|(field, rest)| {
                    let this = rest.iter().filter(|r| r.code == f.code).map(|r| r.over).sum();
                    let all = rest.iter().map(|r| r.over).sum();
                    (*field, this, all)
                })
                .collect();
            let mut relevant: Vec<_> = left.into_iter().filter(|l| l.1 < 0.5 * f.over).collect();
            relevant.sort_by(|a, b| a.2.total_cmp(&b.2));
            let best = relevant.first().map_or(f64::INFINITY, |l| l.2);
            Contradiction {
                code: f.code.to_owned(),
                message: f.message,
                likely_off: relevant
                    .into_iter()
                    .filter(|l| l.2 <= best + 1e-9)
                    .map(|l| l.0.to_owned())
                    .collect(),
            }
        })
        .collect())
}

fn faults(c: &Completion) -> Vec<Fault> {
    let s = &c.stated;
    let mut list = Vec::new();
    let mut check = |code: &'static str, deviation: f64, limit: f64, message: String| {
        if deviation > limit {
            list.push(Fault { code, message, over: deviation / limit });
        }
    };
    let limit = parameter::ANALYSIS_AGREEMENT.percent();
    check(
        "charge-imbalance",
        c.imbalance_percent.abs(),
        limit,
        format!(
            "The {} exceed the {} by {:.0} % of their sum; up to {limit:.0} % is usual.",
            if c.imbalance_percent > 0.0 { "cations" } else { "anions" },
            if c.imbalance_percent > 0.0 { "anions" } else { "cations" },
            c.imbalance_percent.abs()
        ),
    );
    if let Some(ec) = s.ec25.filter(|e| *e > 0.0) {
        check(
            "ec-against-ions",
            100.0 * (c.ec_from_ions - ec).abs() / ec,
            limit,
            format!(
                "The ions conduct {:.0} µS/cm at 25 °C; the report says {ec:.0}.",
                c.ec_from_ions
            ),
        );
    }
    hardness(s, limit, &mut check);
    alkalinity_and_ph(s, &c.water.composition(), &mut check);
    list
}

fn hardness(s: &Stated, limit: f64, check: &mut impl FnMut(&'static str, f64, f64, String)) {
    let Some(h) = s.hardness.filter(|h| *h > 0.0) else {
        return;
    };
    let parts = match (s.ca, s.mg) {
        (Some(ca), Some(mg)) => 100.0 * (ca + mg - h).abs() / h,
        (Some(one), None) | (None, Some(one)) if one > h => 100.0 * (one - h) / h,
        _ => return,
    };
    let sum = s.ca.unwrap_or(0.0) + s.mg.unwrap_or(0.0);
    check(
        "hardness-against-ca-mg",
        parts,
        limit,
        format!("Calcium and magnesium come to {sum:.2} mmol/L, the hardness to {h:.2} mmol/L."),
    );
}

fn alkalinity_and_ph(
    s: &Stated,
    c: &Composition,
    check: &mut impl FnMut(&'static str, f64, f64, String),
) {
    let (Some(alkalinity), Some(ph)) = (s.alkalinity, s.ph) else {
        return;
    };
    if alkalinity <= 0.05 {
        return; // below what a field test sees
    }
    let charges: f64 = [
        (Solute::Ca, 4.0),
        (Solute::Mg, 4.0),
        (Solute::Na, 1.0),
        (Solute::K, 1.0),
        (Solute::Cl, 1.0),
        (Solute::So4, 4.0),
        (Solute::Dic, 1.0),
    ]
    .iter()
    .map(|(s, z2)| z2 * in_mmol_per_l(c[*s]))
    .sum();
    let pco2 = Carbonate::at(s.temp_c.unwrap_or(25.0), charges / 2000.0).pco2_atm(alkalinity, ph);
    let (low, high) = (parameter::WATER_PCO2_LOW.atm(), parameter::WATER_PCO2_HIGH.atm());
    let off = (pco2 / high).max(low / pco2.max(1e-12));
    check(
        "alkalinity-against-ph",
        off,
        1.0,
        format!(
            "An alkalinity of {:.0} mg/L CaCO3 at pH {ph} would hold CO2 at {pco2:.1e} atm; waters \
             lie between {low:.0e} and {high} atm.",
            alkalinity * 50.04
        ),
    );
}
