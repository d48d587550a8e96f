//! The site: place, areas, grower.

use crate::fault::bad_file;
use guardcell::Error;
use guardcell::advice::SiteDescription;

/// Reads a site (TOML) from its text; `name` is the file that errors name.
///
/// # Errors
///
/// What is not TOML or no site, with line and column.
///
/// ```
/// let error = guardcell_folder::site("site.toml", "name = 3").unwrap_err();
/// assert_eq!(error.place().and_then(|p| p.line), Some(1));
/// ```
pub fn site(name: &str, text: &str) -> Result<SiteDescription, Error> {
    toml::from_str(text).map_err(|e| toml_fault(name, text, &e))
}

/// A TOML fault with line and column.
fn toml_fault(name: &str, text: &str, e: &toml::de::Error) -> Error {
    let (line, column) = e.span().map_or((1, 1), |span| {
        let before = text.get(..span.start).unwrap_or_default();
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        (line, column)
    });
    bad_file(
        name,
        e.message().trim_end().replace('\n', ", "),
        "compare it with the site file of `guardcell init --demo`, or with the schema of a site",
    )
    .on_line(line as u64)
    .at_column(column as u64)
}
