//! The water report.

use crate::error::Located;
use crate::input::text;
use guardcell::Error;
use guardcell::solution::WaterReport;
use std::path::Path;

/// Reads a water report from TOML, or from JSON by its file name.
pub(crate) fn read(path: &Path) -> Result<WaterReport, Error> {
    let text = text::read(path)?;
    let json = path.extension().is_some_and(|e| e.eq_ignore_ascii_case("json"));
    let report = if json { WaterReport::from_json(&text) } else { WaterReport::from_toml(&text) };
    report.map_err(|e| e.in_path(path))
}
