//! The site: place, areas, grower.

use crate::error::CliError;
use crate::input::text;
use guardcell::advice::SiteDescription;
use std::path::Path;

/// Reads a site from TOML.
pub(crate) fn read(path: &Path) -> Result<SiteDescription, CliError> {
    let text = text::read(path)?;
    toml::from_str(&text).map_err(|e| toml_fault(path, &text, &e))
}

/// A TOML fault with line and column.
pub(crate) fn toml_fault(path: &Path, text: &str, e: &toml::de::Error) -> CliError {
    let (line, column) = e.span().map_or((1, 1), |span| {
        let before = text.get(..span.start).unwrap_or_default();
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        (line, column)
    });
    CliError::input(
        format!("{}:{line}:{column}", path.display()),
        e.message().trim_end().replace('\n', ", "),
        "compare it with demo-data/site.toml of the source, or the schema of a site",
    )
}
