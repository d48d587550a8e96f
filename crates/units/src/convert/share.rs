//! Shares by mass, and mass per volume of a liquid of known density.

use super::context::Context;
use super::notes::Notes;
use super::refuse::{analytes, needs_product, no_basis, other_kind};
use super::solute;
use crate::basis::BasisInfo;
use crate::dimension::Dimension as D;
use crate::fault;
use crate::round::significant;
use crate::text::{Measure, Quantity, Subject, Target, Unit};
use guardcell_error::Error;

/// Whether a target is a share by mass.
pub(super) fn is_target(t: &Target) -> bool {
    matches!(t.unit.dimension(), D::MassFraction | D::Percentage) && t.subject != Subject::Humidity
}

/// A share by mass in another unit or basis, or as a mass per volume.
pub(super) fn to(
    q: &Quantity,
    t: &Target,
    context: &Context,
    notes: &mut Notes,
) -> Result<Quantity, Error> {
    let from = match q.measure() {
        Measure::MassFraction(_, from) => from,
        _ => return Err(other_kind(q, t)),
    };
    let share = q.unit().to_si(q.number());
    match t.dimension() {
        _ if is_target(t) => {
            let (share, basis) = counted_as(share, from, q, t)?;
            Ok(q.with(t.unit.of_si(share), t.unit, subject(t.unit, basis)))
        }
        D::MassPerVolume | D::AsBasis | D::AmountPerVolume | D::ChargePerVolume => {
            let density = density(q, t, context, notes)?;
            let Some(litre) = Unit::of_codes("kg", 1.0, "m3") else { return Err(other_kind(q, t)) };
            match (from, t.subject) {
                (Some(basis), _) => {
                    let c = q.with(share * density, litre, Subject::Basis(basis));
                    let converted = solute::to(&c, t, notes);
                    // The message names what was asked, not the step between.
                    converted.map_err(|e| {
                        if e.code() == guardcell_error::Code::NotConvertible {
                            match t.subject.basis() {
                                Some(other) => analytes(q, t, basis, other),
                                None => other_kind(q, t),
                            }
                        } else {
                            e
                        }
                    })
                }
                (None, Subject::Plain) if t.dimension() == D::MassPerVolume => {
                    Ok(q.with(t.unit.of_si(share * density), t.unit, Subject::Plain))
                }
                (None, _) => Err(no_basis(q, "20 % P2O5")),
            }
        }
        D::FeedStrength | D::Conductivity | D::MeterPpm => Err(needs_product(q, t)),
        _ => Err(other_kind(q, t)),
    }
}

/// A mass per volume as a share by mass.
pub(super) fn of_concentration(
    q: &Quantity,
    t: &Target,
    context: &Context,
    notes: &mut Notes,
) -> Result<Quantity, Error> {
    let (kg_per_m3, from) = match q.measure() {
        // `uom` keeps concentrations in kg/m³.
        Measure::AsBasis(mass, basis) => (mass.value, Some(basis)),
        Measure::MassPerVolume(mass) => (mass.value, None),
        _ => return Err(other_kind(q, t)),
    };
    let share = kg_per_m3 / density(q, t, context, notes)?;
    if share > 1.0 + 1e-12 {
        let shown = format!("{} % by mass", significant(share * 100.0, 6));
        let range = "a quantity below its density, or a higher density";
        return Err(fault::out_of_range("the answer", &shown, range));
    }
    let (share, basis) = counted_as(share, from, q, t)?;
    Ok(q.with(t.unit.of_si(share), t.unit, subject(t.unit, basis)))
}

/// The share on the basis of the target, or on its own.
fn counted_as(
    share: f64,
    from: Option<&'static BasisInfo>,
    q: &Quantity,
    t: &Target,
) -> Result<(f64, Option<&'static BasisInfo>), Error> {
    match (from, t.subject.basis()) {
        (Some(a), Some(b)) => {
            let factor = a.factor_to(b).ok_or_else(|| analytes(q, t, a, b))?;
            Ok((share * factor, Some(b)))
        }
        (None, Some(_)) => Err(no_basis(q, "20 % P2O5")),
        (from, None) => Ok((share, from)),
    }
}

fn subject(unit: Unit, basis: Option<&'static BasisInfo>) -> Subject {
    match (unit.dimension(), basis) {
        (D::MassFraction, Some(basis)) => Subject::Basis(basis),
        (D::MassFraction, None) => Subject::Plain,
        (_, basis) => Subject::ByMass(basis),
    }
}

/// The density of the liquid in kg/m³.
fn density(q: &Quantity, t: &Target, context: &Context, notes: &mut Notes) -> Result<f64, Error> {
    let density = context.density.ok_or_else(|| fault::needs_density(&q.rounded(), &t.words()))?;
    notes
        .note_with(|| format!("with a density of {} kg/L", significant(density.value / 1000.0, 6)));
    Ok(density.value)
}
