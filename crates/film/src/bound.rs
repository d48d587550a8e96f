//! The ranges in which the model is valid, for wire fields and typed parameters alike.

use guardcell_call::{Bound, Limited};
use guardcell_error::Error;
use guardcell_reference::parameters::film as data;

pub(crate) const TEMPERATURE: Bound = Bound::number(
    data::AIR_TEMPERATURE_LOWEST.celsius(),
    data::AIR_TEMPERATURE_HIGHEST.celsius(),
    "°C",
);
pub(crate) const HUMIDITY: Bound = Bound::number(data::HUMIDITY_LOWEST.percent(), 100.0, "%");
pub(crate) const PRESSURE: Bound =
    Bound::number(data::AIR_PRESSURE_LOWEST.kpa(), data::AIR_PRESSURE_HIGHEST.kpa(), "kPa");
pub(crate) const AIR_SPEED: Bound = Bound::number(0.0, data::AIR_SPEED_HIGHEST.m_per_s(), "m/s");
pub(crate) const LEAF_WIDTH: Bound =
    Bound::number(data::LEAF_WIDTH_LOWEST.cm(), data::LEAF_WIDTH_HIGHEST.cm(), "cm");
pub(crate) const NET_RADIATION: Bound = Bound::number(
    data::NET_RADIATION_LOWEST.w_per_m2(),
    data::NET_RADIATION_HIGHEST.w_per_m2(),
    "W/m²",
);
pub(crate) const LOAD: Bound = Bound::number(0.0, data::FILM_LOAD_HIGHEST.g_per_m2(), "g/m²");
pub(crate) const PASSES: Bound = Bound::number(1.0, data::PASSES_HIGHEST.number(), "");
pub(crate) const THRESHOLD: Bound =
    Bound::number(data::THRESHOLD_LOWEST.g_per_m2(), data::THRESHOLD_HIGHEST.g_per_m2(), "g/m²");
pub(crate) const AMOUNT: Bound = Bound::number(0.0, data::AMOUNT_HIGHEST.mmol_per_l(), "mmol/L");

/// The value of a quantity whose conversion may have rounded it out of its range by a hair.
pub(crate) fn checked(value: f64, bound: &Bound, pointer: &str) -> Result<f64, Error> {
    let value = (value * 1e9).round() / 1e9;
    value.check(bound, pointer)?;
    Ok(value)
}
