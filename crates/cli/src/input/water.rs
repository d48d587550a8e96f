//! The water report.

use crate::input::text;
use guardcell::Error;
use guardcell::solution::WaterReport;
use std::path::Path;

/// Reads a water report from TOML, or from JSON by its file name.
pub(crate) fn read(path: &Path) -> Result<WaterReport, Error> {
    guardcell_folder::water(&path.display().to_string(), &text::read(path)?)
}
