//! Labels from text: TOML, JSON, CSV, or a pasted guaranteed analysis.

use super::analysis::Analysis;
use super::product_label::Label;
use super::{csv, json, text, toml};
use guardcell_error::Error;

impl Label {
    /// Labels from a TOML document: either one label at the top level, or several as
    /// `[[label]]` tables.
    ///
    /// # Errors
    /// [`Error`] with line and column where the text is not TOML or a field is not known,
    /// with a JSON Pointer where the figures cannot be right.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::Label;
    /// let e = Label::from_toml("name = \"X\"\n[guaranteed]\nn_percent = 120\n").unwrap_err();
    /// assert!(e.to_string().contains("120"));
    /// ```
    pub fn from_toml(text: &str) -> Result<Vec<Self>, Error> {
        toml::parse(text)
    }

    /// Labels from a JSON document: one object, or an array of them.
    ///
    /// # Errors
    /// As [`Self::from_toml`].
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::Label;
    /// let l = Label::from_json(r#"{"name": "X", "guaranteed": {"n_percent": "15,5"}}"#)?;
    /// assert_eq!(l[0].guaranteed.n_percent, Some(15.5));
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn from_json(text: &str) -> Result<Vec<Self>, Error> {
        json::parse(text)
    }

    /// Labels from CSV, one a row. The header names the fields of [`Label`] and [`crate::label::Guaranteed`];
    /// `derived_from` separates its materials by `|`. Fields separated by `;` are recognised,
    /// and then a decimal comma needs no quotes.
    ///
    /// # Errors
    /// [`Error`] with line and column; missing or unknown columns are named.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::Label;
    /// let l = Label::from_csv("name,n_percent,k2o_percent\nPotassium nitrate,13.7,46\n")?;
    /// assert_eq!(l[0].guaranteed.k2o_percent, Some(46.0));
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn from_csv(text: &str) -> Result<Vec<Self>, Error> {
        csv::parse(text)
    }

    /// One label from the pasted text of a guaranteed analysis, in the statutory wording of the
    /// United States, of Regulation (EU) 2019/1009, or of a country with the elemental basis.
    ///
    /// # Errors
    /// [`Error`] with line and column; [`Code::NoBasis`](guardcell_error::Code::NoBasis) for a figure whose basis the text does not
    /// say.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::Label;
    /// let label = Label::from_text("\
    /// Example Feed 20-20-20
    /// GUARANTEED ANALYSIS
    /// Total Nitrogen (N) ............ 20%
    ///   4.0% Ammoniacal Nitrogen
    ///   6.0% Nitrate Nitrogen
    ///   10.0% Urea Nitrogen
    /// Available Phosphate (P2O5) .... 20%
    /// Soluble Potash (K2O) .......... 20%
    /// Derived from: urea, potassium nitrate, ammonium phosphate.
    /// ")?;
    /// assert_eq!(label.guaranteed.urea_n_percent, Some(10.0));
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn from_text(text: &str) -> Result<Self, Error> {
        text::parse(text)
    }

    /// Checks that the figures can stand together: each within 0–100 %, the forms of nitrogen
    /// within the total, oxide and element in agreement, all nutrients together within the product.
    ///
    /// # Errors
    /// [`Error`] with a JSON Pointer to the figure.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::Label;
    /// let mut l = Label::from_csv("name,n_percent\nX,15\n")?.remove(0);
    /// l.guaranteed.nitrate_n_percent = Some(16.0);
    /// assert!(l.check().is_err());
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn check(&self) -> Result<(), Error> {
        Analysis::of(self).map(|_| ())
    }
}

#[cfg(test)]
mod tests {
    use super::Label;
    use crate::water::WaterReport;
    use proptest::prelude::*;

    proptest! {
        // Whatever is pasted, reading it ends in a label or in a message.
        #[test]
        fn no_text_panics(text in "\\PC{0,80}", lines in "([A-Za-z()0-9%.,;:|= \\-°²µ\"\\[\\]{}]{0,40}\n){0,8}") {
            for t in [text.as_str(), lines.as_str()] {
                for e in [
                    Label::from_text(t).err(),
                    Label::from_csv(t).err(),
                    Label::from_toml(t).err(),
                    Label::from_json(t).err(),
                    WaterReport::from_toml(t).err(),
                ].into_iter().flatten() {
                    prop_assert!(!e.to_string().is_empty());
                }
            }
        }

        // A label written as JSON reads back the same.
        #[test]
        fn json_there_and_back(n in 0.0..30.0f64, k in 0.0..30.0f64) {
            let mut label = Label::from_csv("name,n_percent\nX,1\n").unwrap().remove(0);
            label.guaranteed.n_percent = Some(n);
            label.guaranteed.k2o_percent = Some(k);
            let text = serde_json::to_string(&label).unwrap();
            prop_assert_eq!(&Label::from_json(&text).unwrap()[0], &label);
        }
    }
}
