//! The collection: one plant a row.

use crate::input::text;
use guardcell::Error;
use guardcell_folder::Collection;
use std::path::Path;

/// Reads a collection.
pub(crate) fn read(path: &Path) -> Result<Collection, Error> {
    guardcell_folder::collection(&path.display().to_string(), &text::read(path)?)
}
