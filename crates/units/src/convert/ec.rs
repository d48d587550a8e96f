//! EC from one temperature to another, and to and from the ppm of meters.

use super::context::Context;
use super::notes::Notes;
use super::refuse::{needs_product, other_kind};
use crate::conductivity::{Compensation, SpecificConductance};
use crate::dimension::Dimension as D;
use crate::fault;
use crate::quantity::{in_celsius, in_us_per_cm};
use crate::text::{Measure, Quantity, Subject, Target};
use guardcell_error::Error;

/// S/m in one µS/cm.
const S_PER_M: f64 = 1e-4;
/// kg/m³ in one ppm of a display: the scale of the unit `[ppm]`.
const PPM: f64 = 1e-3;

pub(super) fn to(
    q: &Quantity,
    t: &Target,
    context: &Context,
    notes: &mut Notes,
) -> Result<Quantity, Error> {
    let unit = t.unit;
    match (t.subject, unit.dimension()) {
        (Subject::Plain, D::Conductivity) => match q.measure() {
            // Only the unit changes: the temperature stays what it was.
            Measure::Conductivity(reading) => {
                Ok(q.with(unit.of_si(in_us_per_cm(reading.value()) * S_PER_M), unit, q.subject()))
            }
            _ => {
                let ec = at_25(q, context, notes)?;
                Ok(q.with(unit.of_si(ec.us_per_cm() * S_PER_M), unit, Subject::Plain))
            }
        },
        (Subject::ReadAt { number, unit: temperature }, _) => {
            let wanted = crate::quantity::ThermodynamicTemperature::new::<
                uom::si::thermodynamic_temperature::kelvin,
            >(crate::text::Unit::single(temperature).to_si(number));
            let us_per_cm = match q.measure() {
                Measure::Conductivity(reading)
                    if (in_celsius(reading.at()) - in_celsius(wanted)).abs() < 1e-9 =>
                {
                    in_us_per_cm(reading.value())
                }
                _ => {
                    let ec = at_25(q, context, notes)?;
                    if (in_celsius(wanted) - 25.0).abs() < 1e-9 {
                        ec.us_per_cm()
                    } else {
                        how(context.compensation, notes);
                        in_us_per_cm(ec.read_at(wanted, context.compensation)?.value())
                    }
                }
            };
            Ok(q.with(unit.of_si(us_per_cm * S_PER_M), unit, t.subject))
        }
        (Subject::Meter(scale), _) => {
            let ec = at_25(q, context, notes)?;
            notes.note_with(|| format!(
                "a meter on the {scale} scale shows {} ppm per mS/cm at 25 °C; it is not a mass of anything",
                scale.name()
            ));
            Ok(q.with(unit.of_si(scale.ppm(ec) * PPM), unit, t.subject))
        }
        (Subject::Plain, D::Ppm) => Err(fault::ambiguous_ppm("")),
        (Subject::Basis(_) | Subject::Feed, _)
        | (_, D::MassPerVolume | D::AmountPerVolume | D::ChargePerVolume) => {
            Err(needs_product(q, t))
        }
        _ => Err(other_kind(q, t)),
    }
}

/// The EC at 25 °C behind any reading.
fn at_25(q: &Quantity, context: &Context, notes: &mut Notes) -> Result<SpecificConductance, Error> {
    match q.measure() {
        Measure::Conductivity(reading) => {
            if (in_celsius(reading.at()) - 25.0).abs() < 1e-9 {
                return Ok(SpecificConductance::new(reading.value()));
            }
            how(context.compensation, notes);
            reading.at_25(context.compensation)
        }
        Measure::SpecificConductance(ec) => {
            notes.note(
                "an EC without a temperature is taken as compensated to 25 °C, as meters show it",
            );
            Ok(ec)
        }
        Measure::Meter(ec, scale) => {
            notes.note_with(|| format!(
                "a meter on the {scale} scale shows {} ppm per mS/cm at 25 °C; it is not a mass of anything",
                scale.name()
            ));
            Ok(ec)
        }
        _ => Err(fault::no_number()),
    }
}

fn how(compensation: Compensation, notes: &mut Notes) {
    match compensation {
        Compensation::Linear { per_kelvin } => notes.note_with(|| format!(
            "compensated linearly with {} %/K of the EC at 25 °C; feeds run from about 1.6 to 2.1 %/K",
            crate::round::significant(per_kelvin.percent_per_kelvin(), 6)
        )),
        Compensation::NaturalWater => notes.note(
            "compensated with the function for natural waters, which is measured on ground and \
             surface waters and not on feeds",
        ),
    }
    notes.source(
        "ISO 7888:1985 (EN 27888), Water quality: determination of electrical conductivity",
    );
}
