//! Nutrients and ions on a basis, hardness and alkalinity, as mass, amount or charge.

use super::notes::Notes;
use super::refuse::{
    analytes, hardness_is_not_alkalinity, needs_product, no_basis, other_kind, refuse,
};
use crate::basis::{Basis, BasisInfo, CaCO3};
use crate::dimension::Dimension as D;
use crate::fault;
use crate::text::{Measure, Quantity, Subject, Target, Unit, dissolved};
use guardcell_error::Error;

/// What is dissolved, in kg/m³ on a basis, mol of charge per m³ or mol per m³.
#[derive(Clone, Copy)]
enum Solute {
    Basis(f64, &'static BasisInfo),
    Hardness(f64),
    Alkalinity(f64),
    /// An amount of charge of something not stated.
    Charge(f64),
    /// An amount of substance of something not stated.
    Amount(f64),
}

/// What it is to be counted as.
#[derive(Clone, Copy)]
enum Aim {
    Same,
    Basis(&'static BasisInfo),
    Hardness(Option<&'static BasisInfo>),
    Alkalinity(Option<&'static BasisInfo>),
}

pub(super) fn to(q: &Quantity, t: &Target, notes: &mut Notes) -> Result<Quantity, Error> {
    let unit = match t.subject {
        Subject::Meter(_) => t.unit,
        _ => dissolved(t.unit),
    };
    let aim = match (t.subject, unit.dimension()) {
        (Subject::Basis(b), D::MassPerVolume | D::AmountPerVolume | D::ChargePerVolume) => {
            Aim::Basis(b)
        }
        (Subject::Hardness(b), _) => Aim::Hardness(b),
        (Subject::Alkalinity(b), _) => Aim::Alkalinity(b),
        (Subject::Plain, D::Hardness) => Aim::Hardness(None),
        (Subject::Plain, D::Alkalinity) => Aim::Alkalinity(None),
        (Subject::Plain, D::MassPerVolume | D::AmountPerVolume | D::ChargePerVolume) => Aim::Same,
        (Subject::Feed | Subject::Meter(_) | Subject::ReadAt { .. }, _)
        | (Subject::Plain, D::Conductivity) => return Err(needs_product(q, t)),
        _ => return Err(other_kind(q, t)),
    };
    let source = match q.measure() {
        // `uom` keeps concentrations in kg/m³ and mol/m³.
        Measure::AsBasis(mass, basis) => Solute::Basis(mass.value, basis),
        Measure::Hardness(h) => Solute::Hardness(h.equivalents().value),
        Measure::Alkalinity(a) => Solute::Alkalinity(a.equivalents().value),
        Measure::ChargePerVolume(c) => Solute::Charge(c.value),
        Measure::AmountPerVolume(n) => Solute::Amount(n.value),
        _ => return Err(other_kind(q, t)),
    };
    let aimed = counted_as(source, aim, q, t, notes)?;
    let shown = match (aim, aimed) {
        (Aim::Basis(b) | Aim::Hardness(Some(b)) | Aim::Alkalinity(Some(b)), _) => Some(b),
        _ => None,
    };
    written(aimed, shown, unit, q, t)
}

fn kg_per_mol(basis: &BasisInfo) -> f64 {
    basis.formula.g_per_mol() / 1000.0
}

/// The same solute, counted as it is aimed at.
fn counted_as(
    source: Solute,
    aim: Aim,
    q: &Quantity,
    t: &Target,
    notes: &mut Notes,
) -> Result<Solute, Error> {
    let two = |b: &'static BasisInfo, kg: f64| kg / kg_per_mol(b) * b.count * 2.0;
    Ok(match (source, aim) {
        (Solute::Basis(..) | Solute::Charge(_) | Solute::Amount(_), Aim::Same)
        | (Solute::Hardness(_), Aim::Same | Aim::Hardness(_))
        | (Solute::Alkalinity(_), Aim::Same | Aim::Alkalinity(_)) => source,
        (Solute::Basis(kg, from), Aim::Basis(b)) => match from.factor_to(b) {
            Some(factor) => Solute::Basis(kg * factor, b),
            None => by_equivalents(kg, from, b, notes).ok_or_else(|| analytes(q, t, from, b))?,
        },
        (Solute::Basis(kg, from), Aim::Hardness(_)) => {
            if !matches!(from.analyte, "calcium" | "magnesium") {
                return Err(other_kind(q, t));
            }
            if !matches!(from.symbol, "CaCO3" | "CaO") {
                notes.note_with(|| format!(
                    "this is the share of {} in the hardness; calcium and magnesium add up to it",
                    from.analyte
                ));
            }
            Solute::Hardness(two(from, kg))
        }
        (Solute::Basis(kg, from), Aim::Alkalinity(_)) => match from.symbol {
            "CaCO3" | "CO3" => Solute::Alkalinity(kg / kg_per_mol(from) * 2.0),
            "HCO3" => Solute::Alkalinity(kg / kg_per_mol(from)),
            "Ca" | "CaO" | "Mg" | "MgO" | "MgCO3" => return Err(hardness_is_not_alkalinity(q, t)),
            _ => return Err(other_kind(q, t)),
        },
        (Solute::Hardness(charge), Aim::Basis(b)) => match b.symbol {
            "CaCO3" | "CaO" => Solute::Hardness(charge),
            "HCO3" | "CO3" => return Err(hardness_is_not_alkalinity(q, t)),
            _ if matches!(b.analyte, "calcium" | "magnesium") => {
                return Err(refuse(
                    q,
                    t,
                    "hardness does not say how much of it is calcium and how much magnesium",
                    "read calcium and magnesium from the water report",
                ));
            }
            _ => return Err(other_kind(q, t)),
        },
        (Solute::Alkalinity(charge), Aim::Basis(b)) => match b.symbol {
            "CaCO3" | "HCO3" => Solute::Alkalinity(charge),
            "Ca" | "CaO" | "Mg" | "MgO" | "MgCO3" => return Err(hardness_is_not_alkalinity(q, t)),
            _ => return Err(other_kind(q, t)),
        },
        (Solute::Hardness(_), Aim::Alkalinity(_)) | (Solute::Alkalinity(_), Aim::Hardness(_)) => {
            return Err(hardness_is_not_alkalinity(q, t));
        }
        (Solute::Charge(charge), Aim::Hardness(_)) => Solute::Hardness(charge),
        (Solute::Charge(charge), Aim::Alkalinity(_)) => Solute::Alkalinity(charge),
        (Solute::Charge(charge), Aim::Basis(b)) => {
            notes.note_with(|| format!("the quantity names no ion; taken as {}", b.symbol));
            Solute::Basis(charge / charges(b)? * kg_per_mol(b), b)
        }
        (Solute::Amount(amount), Aim::Hardness(_)) => Solute::Hardness(amount * 2.0),
        (Solute::Amount(amount), Aim::Alkalinity(_)) => Solute::Alkalinity(amount),
        (Solute::Amount(amount), Aim::Basis(b)) => {
            notes.note_with(|| format!("the quantity names no formula; taken as {}", b.symbol));
            Solute::Basis(amount * kg_per_mol(b), b)
        }
    })
}

/// Magnesium as CaCO3, and alkalinity between its two bases: equal charges.
fn by_equivalents(
    kg: f64,
    from: &'static BasisInfo,
    to: &'static BasisInfo,
    notes: &mut Notes,
) -> Option<Solute> {
    match (from.analyte, from.symbol, to.symbol) {
        ("magnesium", _, "CaCO3" | "CaO") => {
            notes.note_with(|| {
                format!(
                    "magnesium counted as the {} of equal charge: its share in the hardness",
                    to.symbol
                )
            });
            Some(Solute::Hardness(kg / kg_per_mol(from) * from.count * 2.0))
        }
        (_, "CaCO3", "HCO3") => {
            notes.note("read as an alkalinity: CaCO3 and HCO3 of equal charge");
            Some(Solute::Alkalinity(kg / kg_per_mol(from) * 2.0))
        }
        (_, "HCO3", "CaCO3") => {
            notes.note("read as an alkalinity: CaCO3 and HCO3 of equal charge");
            Some(Solute::Alkalinity(kg / kg_per_mol(from)))
        }
        _ => None,
    }
}

fn charges(b: &'static BasisInfo) -> Result<f64, Error> {
    if b.charge == 0 { Err(fault::no_charge(b.symbol)) } else { Ok(f64::from(b.charge)) }
}

/// The solute in a unit of mass, amount, charge or degrees.
fn written(
    solute: Solute,
    shown: Option<&'static BasisInfo>,
    unit: Unit,
    q: &Quantity,
    t: &Target,
) -> Result<Quantity, Error> {
    let kind = unit.dimension();
    let (si, subject) = match solute {
        Solute::Basis(kg, b) => {
            let si = match kind {
                D::AmountPerVolume => kg / kg_per_mol(b),
                D::ChargePerVolume => kg / kg_per_mol(b) * charges(b)?,
                D::MassPerVolume => kg,
                _ => return Err(other_kind(q, t)),
            };
            (si, Subject::Basis(b))
        }
        Solute::Hardness(charge) => match (kind, shown) {
            (D::Hardness, _) => (charge, Subject::Plain),
            (D::ChargePerVolume, _) => (charge, Subject::Hardness(None)),
            (D::AmountPerVolume, _) => (charge / 2.0, Subject::Hardness(None)),
            (D::MassPerVolume, Some(b)) => {
                (charge / 2.0 * kg_per_mol(b), Subject::Hardness(Some(b)))
            }
            (D::MassPerVolume, None) => return Err(no_basis(q, "mg/L CaCO3 as the target")),
            _ => return Err(other_kind(q, t)),
        },
        Solute::Alkalinity(charge) => match (kind, shown) {
            (D::Alkalinity, _) => (charge, Subject::Plain),
            (D::ChargePerVolume | D::AmountPerVolume, _) => (charge, Subject::Alkalinity(None)),
            (D::MassPerVolume, Some(b)) => {
                let charges = if b.symbol == CaCO3::SYMBOL { 2.0 } else { 1.0 };
                (charge / charges * kg_per_mol(b), Subject::Alkalinity(Some(b)))
            }
            (D::MassPerVolume, None) => {
                return Err(no_basis(q, "mg/L CaCO3 or mg/L HCO3 as the target"));
            }
            _ => return Err(other_kind(q, t)),
        },
        Solute::Charge(charge) if kind == D::ChargePerVolume => (charge, Subject::Plain),
        Solute::Amount(amount) if kind == D::AmountPerVolume => (amount, Subject::Plain),
        Solute::Charge(_) | Solute::Amount(_) => {
            return Err(no_basis(q, "2 meq/L Ca or 2 mmol/L Ca"));
        }
    };
    Ok(q.with(unit.of_si(si), unit, subject))
}
