//! The site: place, areas, grower.

use crate::error::bad_file;
use crate::input::text;
use guardcell::Error;
use guardcell::advice::SiteDescription;
use std::path::Path;

/// Reads a site from TOML.
pub(crate) fn read(path: &Path) -> Result<SiteDescription, Error> {
    let text = text::read(path)?;
    toml::from_str(&text).map_err(|e| toml_fault(path, &text, &e))
}

/// A TOML fault with line and column.
pub(crate) fn toml_fault(path: &Path, text: &str, e: &toml::de::Error) -> Error {
    let (line, column) = e.span().map_or((1, 1), |span| {
        let before = text.get(..span.start).unwrap_or_default();
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        (line, column)
    });
    bad_file(
        path.display(),
        e.message().trim_end().replace('\n', ", "),
        "compare it with demo-data/site.toml, or with the schema of a site",
    )
    .on_line(line as u64)
    .at_column(column as u64)
}
