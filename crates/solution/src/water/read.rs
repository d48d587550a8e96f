//! Reading a report from a document.

use super::report::WaterReport;
use super::stated::{Stated, nothing};
use guardcell_error::Error;

impl WaterReport {
    /// A report from a TOML document with the fields of [`WaterReport`].
    ///
    /// # Errors
    /// [`Error`] with line and column where the text is not TOML, a field is not known or
    /// the file is empty; with a JSON Pointer where a figure cannot be.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::WaterReport;
    /// let r = WaterReport::from_toml("hardness = \"14 °dH\"\nph = 7.6\n")?;
    /// assert_eq!(r.ph, Some(7.6));
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn from_toml(text: &str) -> Result<Self, Error> {
        stated(text, crate::document::toml)
    }

    /// A report from a JSON document with the fields of [`WaterReport`].
    ///
    /// # Errors
    /// As [`Self::from_toml`].
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::WaterReport;
    /// assert!(WaterReport::from_json("{\"ph\": 7.6}").is_ok());
    /// ```
    pub fn from_json(text: &str) -> Result<Self, Error> {
        stated(text, crate::document::json)
    }
}

/// Reads a report that states something and nothing that cannot be.
fn stated(text: &str, read: fn(&str) -> Result<WaterReport, Error>) -> Result<WaterReport, Error> {
    if text.trim().is_empty() {
        return Err(nothing());
    }
    let report = read(text)?;
    Stated::of(&report)?;
    Ok(report)
}
