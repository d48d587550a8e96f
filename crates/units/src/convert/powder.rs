//! Mass, volume and their quotients; between spoonfuls and grams only with a bulk density.

use super::context::Context;
use super::notes::Notes;
use super::refuse::{needs_product, no_basis, other_kind};
use crate::dimension::Dimension as D;
use crate::fault;
use crate::text::{Quantity, Subject, Target, dissolved};
use guardcell_error::Error;

pub(super) fn to(
    q: &Quantity,
    t: &Target,
    context: &Context,
    notes: &mut Notes,
) -> Result<Quantity, Error> {
    let si = q.unit().to_si(q.number());
    let plain = |value: f64| Ok(q.with(t.unit.of_si(value), t.unit, Subject::Plain));
    let feed = |value: f64| {
        let unit = dissolved(t.unit);
        Ok(q.with(unit.of_si(value), unit, Subject::Feed))
    };
    match (q.dimension(), t.dimension()) {
        (D::Mass, D::Mass)
        | (D::Volume, D::Volume)
        | (D::MassPerVolume, D::MassPerVolume)
        | (D::VolumeFraction, D::VolumeFraction | D::Percentage) => plain(si),
        (D::VolumeFraction, D::InjectorRatio) if si > 0.0 => plain(1.0 / si),
        (D::Volume, D::Mass) | (D::VolumeFraction, D::MassPerVolume) => {
            plain(si * density(q, t, context, notes)?)
        }
        (D::Mass, D::Volume) | (D::MassPerVolume | D::FeedStrength, D::VolumeFraction) => {
            plain(si / density(q, t, context, notes)?)
        }
        (D::VolumeFraction, D::FeedStrength) => feed(si * density(q, t, context, notes)?),
        (D::FeedStrength, D::FeedStrength | D::MassPerVolume | D::Ppm)
        | (D::MassPerVolume, D::FeedStrength) => feed(si),
        (D::MassPerVolume, D::Ppm) => Err(fault::ambiguous_ppm("")),
        (
            D::MassPerVolume,
            D::AsBasis | D::Hardness | D::Alkalinity | D::AmountPerVolume | D::ChargePerVolume,
        ) => Err(no_basis(q, "150 mg/L N or 40 mg/L P2O5")),
        (
            D::FeedStrength | D::VolumeFraction | D::MassPerVolume,
            D::AsBasis
            | D::Conductivity
            | D::MeterPpm
            | D::AmountPerVolume
            | D::ChargePerVolume
            | D::Ppm,
        ) => Err(needs_product(q, t)),
        _ => Err(other_kind(q, t)),
    }
}

/// The bulk density of the powder or the density of the liquid, in kg/m³.
fn density(q: &Quantity, t: &Target, context: &Context, notes: &mut Notes) -> Result<f64, Error> {
    let shown = |density: f64| crate::round::significant(density / 1000.0, 6);
    // `uom` keeps densities in kg/m³.
    if let Some(liquid) = context.density {
        notes.note_with(|| format!("with a density of {} kg/L", shown(liquid.value)));
        return Ok(liquid.value);
    }
    let bulk =
        context.bulk_density.ok_or_else(|| fault::needs_bulk_density(&q.rounded(), &t.words()))?;
    notes.note_with(|| {
        format!(
            "with a bulk density of {} g/mL, which changes with how the powder is filled",
            shown(bulk.value)
        )
    });
    Ok(bulk.value)
}
