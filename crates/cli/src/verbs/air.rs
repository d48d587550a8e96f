//! `air`: dew point, wet bulb, vapour pressure deficit.

use crate::args;
use crate::backend::Backend;
use crate::print::{Out, text};
use crate::quantity;
use guardcell::Error;
use guardcell::calls::Air;
use guardcell::film::AirRequest;

pub(crate) fn run(args: &args::Air, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    let request = AirRequest {
        temp_c: quantity::celsius("--temp", &args.temp)?,
        rh_percent: quantity::humidity("--humidity", &args.humidity)?,
        pressure_kpa: args
            .pressure
            .as_deref()
            .map(|p| quantity::kilopascals("--pressure", p))
            .transpose()?,
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
