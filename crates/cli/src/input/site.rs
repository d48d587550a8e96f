//! The site: place, areas, grower.

use crate::input::text;
use guardcell::Error;
use guardcell::advice::SiteDescription;
use std::path::Path;

/// Reads a site from TOML.
pub(crate) fn read(path: &Path) -> Result<SiteDescription, Error> {
    guardcell_folder::site(&path.display().to_string(), &text::read(path)?)
}
