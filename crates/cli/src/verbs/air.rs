//! `air`: dew point, wet bulb, vapour pressure deficit.

use crate::args;
use crate::backend::Backend;
use crate::print::{Out, text};
use guardcell::Error;
use guardcell::calls::Air;
use guardcell::film::AirRequest;
use guardcell::units::uom::si::{
    pressure::kilopascal, ratio::percent, thermodynamic_temperature::degree_celsius,
};
use guardcell::units::{parse_humidity, parse_pressure, parse_temperature};

pub(crate) fn run(args: &args::Air, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    let request = AirRequest {
        temp_c: option("--temp", &args.temp, parse_temperature)?.get::<degree_celsius>(),
        rh_percent: option("--humidity", &args.humidity, parse_humidity)?.get::<percent>(),
        pressure_kpa: match &args.pressure {
            Some(p) => Some(option("--pressure", p, parse_pressure)?.get::<kilopascal>()),
            None => None,
        },
    };
    let report = backend.ask::<Air>(&request)?;
    if out.json() {
        return out.value(&report);
    }
    let n = |v: f64, digits| text::significant(v, digits);
    out.line(format!("  dew point            {} °C", n(report.dew_point_c, 4)));
    out.line(format!("  wet bulb             {} °C", n(report.wet_bulb_c, 4)));
    out.line(format!("  VPD                  {} kPa", n(report.vpd_kpa, 3)));
    out.line(format!("  saturation pressure  {} Pa", n(report.saturation_pressure_pa, 5)));
    out.line(format!("  humidity ratio       {} g/kg", n(report.humidity_ratio_kg_kg * 1000.0, 4)));
    out.line(format!("  density              {} kg/m³", n(report.density_kg_m3, 4)));
    Ok(())
}

/// A quantity from an option, with the option named in the error.
pub(crate) fn option<T>(
    name: &str,
    text: &str,
    parse: impl FnOnce(&str) -> Result<T, Error>,
) -> Result<T, Error> {
    parse(text).map_err(|e| e.without_pointer().of_argument(name))
}
