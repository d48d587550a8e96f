//! Conductivity and precipitation of a composition: the one door through which labels, recipes
//! and waters ask for them.

use crate::notice::{Notice, NoticeCode};
use crate::speciation::{Acidity, CarbonDioxide, Condition, Ph, speciate};
use guardcell_error::Error;
use guardcell_reference::Composition;
use guardcell_reference::aqueous::Phase;
use guardcell_reference::parameters::solution as parameter;
use guardcell_units::quantity::{ElectricalConductivity, ThermodynamicTemperature};
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;

/// 25 °C, to which specific conductance refers.
pub(crate) fn reference_temperature() -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(25.0)
}

/// The conductivity at a temperature, closed to the air, the pH from the charge balance.
pub(crate) fn conductance_of(
    composition: &Composition,
    temperature: ThermodynamicTemperature,
) -> Result<ElectricalConductivity, Error> {
    Ok(speciate(composition, temperature, Condition::default())?.conductivity())
}

/// The specific conductance, at 25 °C.
pub(crate) fn specific_conductance_of(
    composition: &Composition,
) -> Result<ElectricalConductivity, Error> {
    conductance_of(composition, reference_temperature())
}

/// The specific conductance at a pH that is known, whatever the charges.
pub(crate) fn specific_conductance_at_ph(
    composition: &Composition,
    ph: f64,
) -> Result<ElectricalConductivity, Error> {
    let condition = Condition {
        acidity: Acidity::Measured(Ph::new(ph)?),
        carbon_dioxide: CarbonDioxide::Closed,
    };
    Ok(speciate(composition, reference_temperature(), condition)?.conductivity())
}

/// Solids that come down in buckets and tanks within hours, with the saturation index from which
/// they are warned of.
const SOLIDS: [(Phase, &str, f64); 4] = [
    (Phase::Gypsum, "gypsum (calcium sulfate)", parameter::PRECIPITATION_GYPSUM.number()),
    (Phase::Brushite, "calcium phosphate (brushite)", parameter::PRECIPITATION_BRUSHITE.number()),
    (
        Phase::Struvite,
        "struvite (magnesium ammonium phosphate)",
        parameter::PRECIPITATION_STRUVITE.number(),
    ),
    (Phase::Calcite, "calcium carbonate", parameter::PRECIPITATION_CALCITE.number()),
];

/// Solids that the solution is supersaturated with, as warnings; closed to the air, as it is just
/// after mixing.
pub(crate) fn precipitates(
    composition: &Composition,
    temperature: ThermodynamicTemperature,
) -> Result<Vec<Notice>, Error> {
    let s = speciate(composition, temperature, Condition::default())?;
    let mut list = Vec::new();
    for (phase, name, limit) in SOLIDS {
        if let Some(index) = s.saturation_index(phase).map(crate::SaturationIndex::log10)
            && index > limit
        {
            list.push(Notice::new(
                NoticeCode::Precipitation,
                format!(
                    "The solution is supersaturated with {name} (saturation index {index:.2} at \
                     {:.0} °C, pH {:.1}): it may turn cloudy or scale. Use softer or acidified \
                     water, less feed, or keep calcium apart from sulfate and phosphate.",
                    temperature.get::<degree_celsius>(),
                    s.ph().value()
                ),
            ));
        }
    }
    for w in s.warnings() {
        if matches!(w, crate::Warning::IonicStrength { .. }) {
            list.push(Notice::new(NoticeCode::AboveValidity, w.to_string()));
        }
    }
    Ok(list)
}
