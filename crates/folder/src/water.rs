//! The water report.

use guardcell::Error;
use guardcell::solution::WaterReport;

/// Reads a water report from TOML, or from JSON where its name ends in `.json`.
///
/// # Errors
///
/// What is not such a report, in the file of this name.
///
/// ```
/// let water = guardcell_folder::water("rain.toml", "ec_us_cm = 18\nph = 6.1")?;
/// assert_eq!(water.ph, Some(6.1));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn water(name: &str, text: &str) -> Result<WaterReport, Error> {
    let json = name.to_lowercase().ends_with(".json");
    let report = if json { WaterReport::from_json(text) } else { WaterReport::from_toml(text) };
    report.map_err(|e| e.in_file(name))
}
