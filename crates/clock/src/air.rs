//! The air around the leaf, hour by hour.

use guardcell_error::{Code, Error};
use guardcell_reference::parameters::clock as p;
use guardcell_units::quantity::{Pressure, ThermodynamicTemperature};
use guardcell_units::uom::si::{pressure::kilopascal, thermodynamic_temperature::degree_celsius};
use jiff::Timestamp;

/// The air of one hour (or until the next entry, if that starts sooner).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirHour {
    /// When it starts.
    pub start: Timestamp,
    /// The air temperature, −50 to 70 °C.
    pub temperature: ThermodynamicTemperature,
    /// The vapour pressure deficit of the air, 0 to 20 kPa.
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

/// Checks order and ranges; a fault has the pointer of the entry, such as `/3/vpd_kpa`.
pub(crate) fn checked(hours: &[AirHour]) -> Result<Vec<Hour>, Error> {
    let mut out: Vec<Hour> = Vec::with_capacity(hours.len());
    for (index, h) in hours.iter().enumerate() {
        let temperature_c = h.temperature.get::<degree_celsius>();
        let vpd_kpa = h.vpd.get::<kilopascal>();
        for (field, value, low, high, unit) in [
            ("temp_c", temperature_c, p::AIR_COLDEST.celsius(), p::AIR_WARMEST.celsius(), "°C"),
            ("vpd_kpa", vpd_kpa, 0.0, p::VPD_HIGHEST.kpa(), "kPa"),
        ] {
            if !(low..=high).contains(&value) {
                let detail = format!("{value} {unit} is out of range");
                let hint = format!("give {low} to {high} {unit}");
                return Err(
                    Error::new(Code::OutOfRange, detail, hint).at(format!("/{index}/{field}"))
                );
            }
        }
        let start = h.start.as_second();
        if let Some(last) = out.last_mut() {
            if start <= last.start {
                return Err(Error::new(
                    Code::Conflict,
                    format!("{} is not after the hour before it", h.start),
                    "sort the hours and drop repeats",
                )
                .at(format!("/{index}/start")));
            }
            last.end = last.end.min(start);
        }
        out.push(Hour { start, end: start.saturating_add(3600), temperature_c, vpd_kpa });
    }
    Ok(out)
}
