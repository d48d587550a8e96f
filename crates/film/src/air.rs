//! What moist air holds, on the wire.

use crate::bound;
use crate::moist_air::MoistAir;
use guardcell_call::{Bounded, bounds};
use guardcell_error::Error;
use guardcell_reference::parameters::film as data;
use guardcell_units::quantity::{Pressure, Ratio, ThermodynamicTemperature};
use guardcell_units::uom::si::{
    available_energy::kilojoule_per_kilogram,
    diffusion_coefficient::square_meter_per_second,
    mass_density::kilogram_per_cubic_meter,
    pressure::{kilopascal, pascal},
    ratio::{percent, ratio},
    thermodynamic_temperature::degree_celsius,
};
use serde::{Deserialize, Serialize};

/// Air to describe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub struct AirRequest {
    /// Air temperature in °C.
    pub temp_c: f64,
    /// Relative humidity over water in %.
    pub rh_percent: f64,
    /// Air pressure in kPa; 101.325 by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_kpa: Option<f64>,
}

bounds! { AirRequest {
    temp_c: bound::TEMPERATURE,
    rh_percent: bound::HUMIDITY,
    pressure_kpa: bound::PRESSURE,
} }

impl AirRequest {
    /// Air at sea-level pressure.
    ///
    /// ```
    /// # mod guardcell { pub use guardcell_error::{Error}; pub mod film { pub use guardcell_film::*; } }
    /// use guardcell::film::{AirRequest, air};
    /// let response = air(&AirRequest::new(25.0, 50.0))?;
    /// assert!((response.dew_point_c - 13.86).abs() < 0.02);
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    #[must_use]
    pub const fn new(temp_c: f64, rh_percent: f64) -> Self {
        Self { temp_c, rh_percent, pressure_kpa: None }
    }

    pub(crate) fn moist_air(&self) -> Result<MoistAir, Error> {
        self.check_bounds()?;
        MoistAir::new(
            ThermodynamicTemperature::new::<degree_celsius>(self.temp_c),
            Ratio::new::<percent>(self.rh_percent),
            Pressure::new::<kilopascal>(self.pressure_kpa.unwrap_or(data::STANDARD_PRESSURE.kpa())),
        )
    }
}

/// What the air holds. Saturation is over liquid water throughout, also below 0 °C.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct AirResponse {
    /// Dew point in °C.
    pub dew_point_c: f64,
    /// Thermodynamic wet-bulb temperature in °C.
    pub wet_bulb_c: f64,
    /// Vapour pressure deficit in kPa.
    pub vpd_kpa: f64,
    /// Saturation pressure at the air temperature in Pa.
    pub saturation_pressure_pa: f64,
    /// Partial pressure of water vapour in Pa.
    pub vapour_pressure_pa: f64,
    /// Mass of vapour per mass of dry air in kg/kg.
    pub humidity_ratio_kg_kg: f64,
    /// Density of the moist air in kg/m³.
    pub density_kg_m3: f64,
    /// Latent heat of vaporisation in kJ/kg.
    pub latent_heat_kj_kg: f64,
    /// Diffusivity of water vapour in m²/s.
    pub vapour_diffusivity_m2_s: f64,
}

/// Describes moist air (ASHRAE Handbook Fundamentals 2017, chapter 1).
///
/// # Errors
/// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) with the pointer of the field.
///
/// ```
/// # mod guardcell { pub use guardcell_error::{Error}; pub mod film { pub use guardcell_film::*; } }
/// use guardcell::film::{AirRequest, air};
/// let response = air(&AirRequest::new(25.0, 50.0))?;
/// assert!((response.vpd_kpa - 1.585).abs() < 0.002);
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn air(request: &AirRequest) -> Result<AirResponse, Error> {
    let air = request.moist_air()?;
    Ok(AirResponse {
        dew_point_c: air.dew_point().get::<degree_celsius>(),
        wet_bulb_c: air.wet_bulb().get::<degree_celsius>(),
        vpd_kpa: air.vapour_pressure_deficit().get::<kilopascal>(),
        saturation_pressure_pa: air.saturation_pressure().get::<pascal>(),
        vapour_pressure_pa: air.vapour_pressure().get::<pascal>(),
        humidity_ratio_kg_kg: air.humidity_ratio().get::<ratio>(),
        density_kg_m3: air.density().get::<kilogram_per_cubic_meter>(),
        latent_heat_kj_kg: air.latent_heat().get::<kilojoule_per_kilogram>(),
        vapour_diffusivity_m2_s: air.vapour_diffusivity().get::<square_meter_per_second>(),
    })
}
