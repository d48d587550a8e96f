//! What a conversion is asked and what it answers.

use crate::dimension::Dimension;
use crate::light::LightSource;
use crate::text::{LONGEST, PpmMeaning};
use guardcell_call::{Bound, bounds};
use serde::{Deserialize, Serialize};

/// A quantity and what to convert it to.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::{ConvertRequest, convert};
/// let request = ConvertRequest::new("2 tsp", "g").with_bulk_density("4.6 g/tsp");
/// assert_eq!(convert(&request)?.value, 9.2);
/// # Ok::<(), guardcell::units::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub struct ConvertRequest {
    /// The quantity as written, such as `120 ppm P2O5`, `14 °dH` or `1.4 mS/cm at 18 °C`.
    pub quantity: String,
    /// The unit and basis to convert to, such as `ppm P`, `mg/L CaCO3` or `mS/cm at 25 °C`.
    pub to: String,
    /// The bulk density of a powder, such as `0.93 g/mL` or `4.6 g/tsp`; needed between spoonfuls
    /// and mass, and only there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density: Option<String>,
    /// The density of a liquid, such as `1.24 kg/L`; needed between shares by mass and mass per
    /// volume, and between volume and mass of a liquid.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density: Option<String>,
    /// How EC is brought from one temperature to another; linear by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_compensation: Option<EcCompensation>,
    /// The coefficient of linear compensation in per cent per kelvin, 0 to 10; 1.9 by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_percent_per_k: Option<f64>,
    /// What a bare ppm means to this grower; a bare ppm is refused by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ppm_means: Option<PpmMeaning>,
    /// The light source; needed between lux and photon flux density, and only there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub light_source: Option<LightSource>,
}

bounds! { ConvertRequest {
    quantity: Bound::text(1, LONGEST),
    to: Bound::text(1, LONGEST),
    bulk_density: Bound::text(1, LONGEST),
    density: Bound::text(1, LONGEST),
    ec_percent_per_k: Bound::number(0.0, 10.0, "%/K"),
} }

guardcell_call::setters! { ConvertRequest {
    /// The same with the bulk density of a powder.
    with_bulk_density(bulk_density <- String);
    /// The same with the density of a liquid.
    with_density(density <- String);
    /// The same with a way to bring EC to another temperature.
    with_ec_compensation(ec_compensation?: EcCompensation);
    /// The same with a coefficient of linear compensation, in per cent per kelvin.
    with_ec_percent_per_k(ec_percent_per_k?: f64);
    /// The same with a meaning for a bare ppm.
    with_ppm_means(ppm_means?: PpmMeaning);
    /// The same with a light source.
    with_light_source(light_source?: LightSource);
} }

impl ConvertRequest {
    /// A quantity and the unit to convert it to.
    #[must_use]
    pub fn new(quantity: impl Into<String>, to: impl Into<String>) -> Self {
        Self { quantity: quantity.into(), to: to.into(), ..Self::default() }
    }
}

/// How EC is brought from one temperature to another (ISO 7888).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum EcCompensation {
    /// Linear, with the coefficient of the request or 1.9 %/K.
    #[default]
    Linear,
    /// The non-linear function for natural waters, 0 to below 36 °C.
    NaturalWater,
}

/// A converted quantity.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct ConvertResponse {
    /// The number in `unit`, to ten significant digits.
    pub value: f64,
    /// The unit: a UCUM code where there is one, else the usual symbol.
    pub unit: String,
    /// What it is counted as or read on: `P`, `CaCO3`, `feed`, `meter 500`, `at 25 °C`; null where
    /// the unit is enough.
    pub basis: Option<String>,
    /// The kind of quantity.
    pub kind: Dimension,
    /// The conversion in one line.
    pub message: String,
    /// What was converted.
    pub from: ReadQuantity,
    /// What was assumed or has to be known.
    pub notes: Vec<String>,
    /// Where the definitions and factors are published.
    pub sources: Vec<String>,
}

/// A quantity as it was understood.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct ReadQuantity {
    /// The number in `unit`.
    pub value: f64,
    /// The unit code.
    pub unit: String,
    /// What it is counted as or read on.
    pub basis: Option<String>,
    /// The kind of quantity.
    pub kind: Dimension,
}
