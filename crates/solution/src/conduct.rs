//! Conductivity of a composition: the one door through which this crate asks for it.

use crate::error::SolutionError;
use crate::speciation::{Condition, speciate};
use guardcell_reference::Composition;
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
) -> Result<ElectricalConductivity, SolutionError> {
    Ok(speciate(composition, temperature, Condition::default())?.conductivity())
}

/// The specific conductance, at 25 °C.
pub(crate) fn specific_conductance_of(
    composition: &Composition,
) -> Result<ElectricalConductivity, SolutionError> {
    conductance_of(composition, reference_temperature())
}

/// Solids that the solution is supersaturated with, as warnings.
pub(crate) fn precipitates(
    _composition: &Composition,
    _temperature: ThermodynamicTemperature,
    _ph: Option<f64>,
) -> Result<Vec<crate::notice::Notice>, SolutionError> {
    Ok(Vec::new())
}
