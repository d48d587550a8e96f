//! What a product's label says: the guaranteed analysis, what it is derived from, its density.

mod analysis;
mod csv;
mod density;
mod guaranteed;
mod json;
mod number;
mod text;
mod toml;

pub(crate) use analysis::{Analysis, ELEMENTS, element_key};
pub use guaranteed::Guaranteed;
pub(crate) use json::fault as json_fault;
use number::{LenientNumber, lenient_number};
pub(crate) use toml::document as toml_document;

use guardcell_call::{Bound, bounds};
use guardcell_error::{Code, Error, Place};
use serde::{Deserialize, Serialize};

/// Whether the product is poured as a powder or as a liquid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Form {
    /// Powder, crystals or granules that dissolve.
    #[default]
    Powder,
    /// A liquid concentrate.
    Liquid,
}

/// What the percentages of the label are percent of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum PercentOf {
    /// Grams in 100 g of product (w/w), the rule for United States labels.
    #[default]
    Mass,
    /// Grams in 100 mL of product (w/v), allowed for liquids elsewhere.
    Volume,
}

/// The label of one product.
///
/// ```
/// use guardcell_solution::Label;
/// let labels = Label::from_toml(r#"
/// name = "Example 15-5-15"
/// derived_from = ["potassium nitrate", "calcium nitrate", "monoammonium phosphate"]
/// [guaranteed]
/// n_percent = 15
/// p2o5_percent = 5
/// k2o_percent = 15
/// "#)?;
/// assert_eq!(labels[0].guaranteed.n_percent, Some(15.0));
/// # Ok::<(), guardcell_solution::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Label {
    /// The name on the label.
    pub name: String,
    /// Powder or liquid.
    #[serde(default)]
    pub form: Form,
    /// Whether percentages are of mass or, for a liquid, of volume.
    #[serde(default)]
    pub percent_of: PercentOf,
    /// Density of a liquid, kg/L (0.8–2).
    #[serde(default, deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<LenientNumber>"))]
    pub density_kg_l: Option<f64>,
    /// Mass of one litre of the loose powder, kg/L (0.2–2), needed for spoons: weigh a level
    /// spoonful and divide its grams by its millilitres.
    #[serde(default, deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<LenientNumber>"))]
    pub bulk_density_kg_l: Option<f64>,
    /// How much of the product dissolves and stays dissolved as solids, in percent of what
    /// `percent_of` names. If omitted: 100 for a powder; for a liquid the sum of the ions and urea
    /// its analysis accounts for.
    #[serde(default, deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<LenientNumber>"))]
    pub soluble_percent: Option<f64>,
    /// The guaranteed analysis.
    pub guaranteed: Guaranteed,
    /// The materials after "derived from", one each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub derived_from: Vec<String>,
    /// Whether the label allows use on leaves; omitted if it says nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foliar: Option<bool>,
    /// Notes on keeping the product (moisture, age, frost), shown with its recipes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shelf: Option<String>,
}

bounds! { Label {
    name: Bound::text(1, 200),
    density_kg_l: Bound::number(0.8, 2.0, "kg/L"),
    bulk_density_kg_l: Bound::number(0.2, 2.0, "kg/L"),
    soluble_percent: Bound::number(0.1, 100.0, "%"),
    derived_from: Bound::items(0, 64),
    shelf: Bound::text(0, 2000),
} }

impl Label {
    /// A powder with this name and analysis, percentages by mass.
    ///
    /// ```
    /// use guardcell_solution::{Label, label::Guaranteed};
    /// let guaranteed = Guaranteed { n_percent: Some(15.0), ..Guaranteed::default() };
    /// assert!(Label::new("Example 15-0-0", guaranteed).check().is_ok());
    /// ```
    #[must_use]
    pub fn new(name: impl Into<String>, guaranteed: Guaranteed) -> Self {
        Self {
            name: name.into(),
            form: Form::Powder,
            percent_of: PercentOf::Mass,
            density_kg_l: None,
            bulk_density_kg_l: None,
            soluble_percent: None,
            guaranteed,
            derived_from: Vec::new(),
            foliar: None,
            shelf: None,
        }
    }

    /// Labels from a TOML document: either one label at the top level, or several as
    /// `[[label]]` tables.
    ///
    /// # Errors
    /// [`Error`] with line and column where the text is not TOML or a field is not known,
    /// with a JSON Pointer where the figures cannot be right.
    ///
    /// ```
    /// use guardcell_solution::Label;
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
    /// use guardcell_solution::Label;
    /// let l = Label::from_json(r#"{"name": "X", "guaranteed": {"n_percent": "15,5"}}"#)?;
    /// assert_eq!(l[0].guaranteed.n_percent, Some(15.5));
    /// # Ok::<(), guardcell_solution::Error>(())
    /// ```
    pub fn from_json(text: &str) -> Result<Vec<Self>, Error> {
        json::parse(text)
    }

    /// Labels from CSV, one a row. The header names the fields of [`Label`] and [`Guaranteed`];
    /// `derived_from` separates its materials by `|`. Fields separated by `;` are recognised,
    /// and then a decimal comma needs no quotes.
    ///
    /// # Errors
    /// [`Error`] with line and column; missing or unknown columns are named.
    ///
    /// ```
    /// use guardcell_solution::Label;
    /// let l = Label::from_csv("name,n_percent,k2o_percent\nPotassium nitrate,13.7,46\n")?;
    /// assert_eq!(l[0].guaranteed.k2o_percent, Some(46.0));
    /// # Ok::<(), guardcell_solution::Error>(())
    /// ```
    pub fn from_csv(text: &str) -> Result<Vec<Self>, Error> {
        csv::parse(text)
    }

    /// One label from the pasted text of a guaranteed analysis, in the statutory wording of the
    /// United States, of Regulation (EU) 2019/1009, or of a country with the elemental basis.
    ///
    /// # Errors
    /// [`Error`] with line and column; [`Code::NoBasis`] for a figure whose basis the text does not
    /// say.
    ///
    /// ```
    /// use guardcell_solution::Label;
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
    /// # Ok::<(), guardcell_solution::Error>(())
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
    /// use guardcell_solution::Label;
    /// let mut l = Label::from_csv("name,n_percent\nX,15\n")?.remove(0);
    /// l.guaranteed.nitrate_n_percent = Some(16.0);
    /// assert!(l.check().is_err());
    /// # Ok::<(), guardcell_solution::Error>(())
    /// ```
    pub fn check(&self) -> Result<(), Error> {
        Analysis::of(self).map(|_| ())
    }
}

/// The error of an input without content.
fn empty() -> Error {
    Error::new(Code::Missing, "the label is empty", "give a name and a guaranteed analysis")
}

/// A line and column of a text, from 1.
fn place(line: usize, column: usize) -> Place {
    let whole = |n: usize| u64::try_from(n).unwrap_or(u64::MAX);
    Place::default().at_line(whole(line)).at_column(whole(column))
}

/// Checks each label, locating faults by the pointer of its place in the document.
fn checked(labels: Vec<Label>, pointer: impl Fn(usize) -> String) -> Result<Vec<Label>, Error> {
    if labels.is_empty() {
        return Err(empty());
    }
    for (i, label) in labels.iter().enumerate() {
        label.check().map_err(|e| e.within(&pointer(i)))?;
    }
    Ok(labels)
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
