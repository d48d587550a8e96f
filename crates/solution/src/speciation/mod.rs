//! Which ions, pairs and acids a composition forms.

pub mod condition;

pub use condition::{Acidity, CarbonDioxide, Condition, Ph};

use crate::SolutionError;
use guardcell_reference::Composition;
use guardcell_units::quantity::{ElectricalConductivity, Molality, ThermodynamicTemperature};

/// A composition at equilibrium.
#[derive(Debug, Clone)]
pub struct Speciated {
    temperature: ThermodynamicTemperature,
}

/// Brings a composition to equilibrium.
///
/// # Errors
/// When a total, the temperature or the condition is out of range, and when the totals are too
/// far out of charge balance for any pH.
pub fn speciate(
    _composition: &Composition,
    _temperature: ThermodynamicTemperature,
    _condition: Condition,
) -> Result<Speciated, SolutionError> {
    Err(SolutionError::NotConverged { residual: 1.0 })
}

impl Speciated {
    /// The temperature of the equilibrium.
    #[must_use]
    pub fn temperature(&self) -> ThermodynamicTemperature {
        self.temperature
    }

    /// The pH.
    #[must_use]
    pub fn ph(&self) -> Ph {
        unreachable!()
    }

    /// The ionic strength.
    #[must_use]
    pub fn ionic_strength(&self) -> Molality {
        unreachable!()
    }

    /// The conductivity at the temperature of the equilibrium.
    #[must_use]
    pub fn conductivity(&self) -> ElectricalConductivity {
        unreachable!()
    }

    /// The conductivity of the same solution, closed, brought to another temperature.
    ///
    /// # Errors
    /// When the temperature is out of range.
    pub fn conductivity_at(
        &self,
        _temperature: ThermodynamicTemperature,
    ) -> Result<ElectricalConductivity, SolutionError> {
        Err(SolutionError::NotConverged { residual: 1.0 })
    }

    /// The specific conductance: the conductivity at 25 °C.
    ///
    /// # Errors
    /// As [`Self::conductivity_at`].
    pub fn specific_conductance(&self) -> Result<ElectricalConductivity, SolutionError> {
        Err(SolutionError::NotConverged { residual: 1.0 })
    }
}
