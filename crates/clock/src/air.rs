//! The air around the leaf, hour by hour.

use crate::ClockError;
use guardcell_units::quantity::{Pressure, ThermodynamicTemperature};
use guardcell_units::uom::si::{pressure::kilopascal, thermodynamic_temperature::degree_celsius};
use jiff::Timestamp;

/// The air of one hour (or until the next entry, where that starts sooner).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirHour {
    /// When it starts.
    pub start: Timestamp,
    /// The air temperature, −50 … 70 °C.
    pub temperature: ThermodynamicTemperature,
    /// The vapour pressure deficit of the air, 0 … 20 kPa.
    pub vpd: Pressure,
}

/// One checked hour in plain numbers, end exclusive.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Hour {
    pub(crate) start: i64,
    pub(crate) end: i64,
    pub(crate) temperature_c: f64,
    pub(crate) vpd_kpa: f64,
}

/// Checks order and ranges.
pub(crate) fn checked(hours: &[AirHour]) -> Result<Vec<Hour>, ClockError> {
    let mut out: Vec<Hour> = Vec::with_capacity(hours.len());
    for (index, h) in hours.iter().enumerate() {
        let temperature_c = h.temperature.get::<degree_celsius>();
        let vpd_kpa = h.vpd.get::<kilopascal>();
        let wrong = |what, value, should| ClockError::Air { index, what, value, should };
        if !(-50.0..=70.0).contains(&temperature_c) {
            return Err(wrong("the temperature", temperature_c, "from -50 to 70 °C"));
        }
        if !(0.0..=20.0).contains(&vpd_kpa) {
            return Err(wrong("the VPD", vpd_kpa, "from 0 to 20 kPa"));
        }
        let start = h.start.as_second();
        if let Some(last) = out.last_mut() {
            if start <= last.start {
                return Err(ClockError::AirOrder { index, start: h.start.to_string() });
            }
            last.end = last.end.min(start);
        }
        out.push(Hour { start, end: start.saturating_add(3600), temperature_c, vpd_kpa });
    }
    Ok(out)
}
