//! Readings of the air as a table: one moment and area a row.

use crate::table::Table;
use guardcell::advice::Reading;
use guardcell::{Error, Place};
use serde::{Deserialize, Serialize};

const REQUIRED: [&str; 3] = ["time", "temp_c", "rh_percent"];
const OPTIONAL: [&str; 3] = ["area", "air_m_s", "radiation_w_m2"];

/// Readings and where each is in its file.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Readings {
    /// The readings, in the order of the file.
    pub readings: Vec<Reading>,
    /// The file and line of each.
    pub places: Vec<Place>,
}

/// Reads a table of readings (CSV) from its text; `name` is the file that errors name.
///
/// # Errors
///
/// A column that is missing, unknown or duplicate, or a cell that is not a number, with its place.
///
/// ```
/// let text = "time,temp_c,rh_percent\n2026-06-21T06:00:00Z,18,80\n";
/// assert_eq!(guardcell_folder::readings("air.csv", text)?.readings[0].temp_c, 18.0);
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn readings(name: &str, text: &str) -> Result<Readings, Error> {
    let table = Table::parse(name, text, &REQUIRED, &OPTIONAL)?;
    let mut read = Readings::default();
    for row in table.rows() {
        read.readings.push(
            Reading::new(
                row.text("time")?.to_owned(),
                row.needed("temp_c")?,
                row.needed("rh_percent")?,
            )
            .with_area(row.get("area").map(str::to_owned))
            .with_air_m_s(row.number("air_m_s")?)
            .with_radiation_w_m2(row.number("radiation_w_m2")?),
        );
        read.places.push(row.place());
    }
    Ok(read)
}
