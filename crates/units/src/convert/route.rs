//! Which conversion leads from a quantity to a target.

use super::context::Context;
use super::notes::Notes;
use super::refuse::{no_basis, other_kind};
use super::{ec, light, powder, share, solute};
use crate::dimension::Dimension as D;
use crate::injector::InjectorRatio;
use crate::text::{Measure, Quantity, Subject, Target};
use guardcell_error::Error;

/// Converts a quantity to a target.
pub(super) fn to(
    q: &Quantity,
    t: &Target,
    context: &Context,
    notes: &mut Notes,
) -> Result<Quantity, Error> {
    let unit = t.unit;
    // The same unit and subject: the number as it is.
    if unit == q.unit() && t.subject == q.subject() {
        return Ok(*q);
    }
    let same = || Ok(q.with(unit.of_si(q.unit().to_si(q.number())), unit, q.subject()));
    match q.measure() {
        Measure::Conductivity(_) | Measure::SpecificConductance(_) | Measure::Meter(..) => {
            ec::to(q, t, context, notes)
        }
        Measure::AsBasis(..) | Measure::MassPerVolume(_) if share::is_target(t) => {
            share::of_concentration(q, t, context, notes)
        }
        Measure::AsBasis(..)
        | Measure::Hardness(_)
        | Measure::Alkalinity(_)
        | Measure::ChargePerVolume(_)
        | Measure::AmountPerVolume(_) => solute::to(q, t, notes),
        Measure::Mass(_)
        | Measure::Volume(_)
        | Measure::MassPerVolume(_)
        | Measure::VolumeFraction(_)
        | Measure::FeedStrength(_) => powder::to(q, t, context, notes),
        Measure::Injector(ratio) => injector(q, t, ratio, notes),
        Measure::MassFraction(..) => share::to(q, t, context, notes),
        Measure::Illuminance(_) | Measure::PhotonFluxDensity(_) => light::to(q, t, context, notes),
        Measure::Percentage(_) => match t.dimension() {
            D::Percentage => same(),
            D::VolumeFraction => {
                notes.note("a bare % is read as per cent by volume (v/v)");
                same()
            }
            D::MassFraction | D::AsBasis | D::MassPerVolume => {
                Err(no_basis(q, "20 % N, 46 % w/w or 10 % w/v"))
            }
            _ => Err(other_kind(q, t)),
        },
        Measure::Humidity(_) => match t.dimension() {
            D::Percentage | D::Humidity => same(),
            _ => Err(other_kind(q, t)),
        },
        Measure::TemperatureInterval(_) if unit.dimension() == D::Temperature => {
            let kelvins = q.unit().interval_to_si(q.number());
            Ok(q.with(unit.interval_of_si(kelvins), unit, Subject::Difference))
        }
        _ if q.dimension() == t.dimension() && t.subject == Subject::Plain => same(),
        _ => Err(other_kind(q, t)),
    }
}

fn injector(
    q: &Quantity,
    t: &Target,
    ratio: InjectorRatio,
    notes: &mut Notes,
) -> Result<Quantity, Error> {
    let si = match t.dimension() {
        D::InjectorRatio => ratio.dilution(),
        D::VolumeFraction | D::Percentage => {
            notes.note("the share of stock solution in the finished feed, by volume");
            ratio.stock_share().value
        }
        _ => return Err(other_kind(q, t)),
    };
    Ok(q.with(t.unit.of_si(si), t.unit, Subject::Plain))
}
