//! Readings of the air: one moment and area a row.

use crate::error::CliError;
use crate::input::table::Table;
use guardcell::advice::Reading;
use std::path::Path;

const REQUIRED: [&str; 3] = ["time", "temp_c", "rh_percent"];
const OPTIONAL: [&str; 3] = ["area", "air_m_s", "radiation_w_m2"];

/// Reads conditions; the second list says where each reading stands in the file.
pub(crate) fn read(path: &Path) -> Result<(Vec<Reading>, Vec<String>), CliError> {
    let table = Table::read(path, &REQUIRED, &OPTIONAL)?;
    let mut readings = Vec::new();
    let mut places = Vec::new();
    for row in table.rows() {
        readings.push(Reading {
            time: row.text("time")?.to_owned(),
            area: row.get("area").map(str::to_owned),
            temp_c: row.needed("temp_c")?,
            rh_percent: row.needed("rh_percent")?,
            air_m_s: row.number("air_m_s")?,
            radiation_w_m2: row.number("radiation_w_m2")?,
        });
        places.push(row.place());
    }
    Ok((readings, places))
}
