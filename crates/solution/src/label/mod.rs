//! What a product's label says: the guaranteed analysis, what it is derived from, its density.

mod analysis;
mod csv;
mod density;
mod json;
mod number;
mod text;
mod toml;

pub(crate) use analysis::{Analysis, ELEMENTS, element_key};
pub(crate) use json::fault as json_fault;
pub(crate) use number::lenient_number;
pub(crate) use toml::document as toml_document;

use crate::error::SolutionError;
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

/// The guaranteed analysis, in percent. Each nutrient may stand as the oxide or as the element,
/// and the field name says which; where both are given they must agree.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Guaranteed {
    /// Total nitrogen, % N. May be left out where all its forms are given.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub n_percent: Option<f64>,
    /// Nitrate nitrogen, % N.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub nitrate_n_percent: Option<f64>,
    /// Ammoniacal nitrogen, % N.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub ammoniacal_n_percent: Option<f64>,
    /// Urea (ureic) nitrogen, % N.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub urea_n_percent: Option<f64>,
    /// Nitrogen in other forms (organic, amino acids, other water-soluble), % N.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub other_n_percent: Option<f64>,
    /// Available phosphate, % P2O5.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub p2o5_percent: Option<f64>,
    /// Phosphorus on the elemental basis, % P.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub p_percent: Option<f64>,
    /// Soluble potash, % K2O.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub k2o_percent: Option<f64>,
    /// Potassium on the elemental basis, % K.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub k_percent: Option<f64>,
    /// Calcium, % Ca.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub ca_percent: Option<f64>,
    /// Calcium oxide, % CaO.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub cao_percent: Option<f64>,
    /// Magnesium, % Mg.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub mg_percent: Option<f64>,
    /// Magnesium oxide, % MgO.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub mgo_percent: Option<f64>,
    /// Sulfur, % S.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub s_percent: Option<f64>,
    /// Sulfur trioxide, % SO3.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub so3_percent: Option<f64>,
    /// Sodium, % Na.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub na_percent: Option<f64>,
    /// Sodium oxide, % Na2O.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub na2o_percent: Option<f64>,
    /// Chloride, % Cl.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub cl_percent: Option<f64>,
    /// Boron, % B.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub b_percent: Option<f64>,
    /// Cobalt, % Co.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub co_percent: Option<f64>,
    /// Copper, % Cu.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub cu_percent: Option<f64>,
    /// Iron, % Fe.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub fe_percent: Option<f64>,
    /// Manganese, % Mn.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub mn_percent: Option<f64>,
    /// Molybdenum, % Mo.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub mo_percent: Option<f64>,
    /// Zinc, % Zn.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub zn_percent: Option<f64>,
    /// Silicon, % Si.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub si_percent: Option<f64>,
    /// Silicon dioxide, % SiO2.
    #[serde(deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub sio2_percent: Option<f64>,
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
/// # Ok::<(), guardcell_solution::SolutionError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub density_kg_l: Option<f64>,
    /// Mass of one litre of the loose powder, kg/L (0.2–2), needed for spoons: weigh a level
    /// spoonful and divide its grams by its millilitres.
    #[serde(default, deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub bulk_density_kg_l: Option<f64>,
    /// How much of the product dissolves and stays dissolved as solids, in percent of what
    /// `percent_of` names. Left out: 100 for a powder; for a liquid the sum of the ions and urea
    /// its analysis accounts for.
    #[serde(default, deserialize_with = "lenient_number", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub soluble_percent: Option<f64>,
    /// The guaranteed analysis.
    pub guaranteed: Guaranteed,
    /// The materials after "derived from", one each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub derived_from: Vec<String>,
    /// Whether the label allows use on leaves; left out where it says nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foliar: Option<bool>,
    /// Notes on keeping the product (moisture, age, frost), shown with its recipes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shelf: Option<String>,
}

impl Label {
    /// Labels from a TOML document: either one label at the top level, or several as
    /// `[[label]]` tables.
    ///
    /// # Errors
    /// [`SolutionError`] with line and column where the text is not TOML or a field is not known,
    /// with a JSON Pointer where the figures cannot be right.
    ///
    /// ```
    /// use guardcell_solution::Label;
    /// let e = Label::from_toml("name = \"X\"\n[guaranteed]\nn_percent = 120\n").unwrap_err();
    /// assert!(e.to_string().contains("120"));
    /// ```
    pub fn from_toml(text: &str) -> Result<Vec<Self>, SolutionError> {
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
    /// # Ok::<(), guardcell_solution::SolutionError>(())
    /// ```
    pub fn from_json(text: &str) -> Result<Vec<Self>, SolutionError> {
        json::parse(text)
    }

    /// Labels from CSV, one a row. The header names the fields of [`Label`] and [`Guaranteed`];
    /// `derived_from` separates its materials by `|`. Fields separated by `;` are recognised,
    /// and then a decimal comma needs no quotes.
    ///
    /// # Errors
    /// [`SolutionError`] with line and column; missing or unknown columns are named.
    ///
    /// ```
    /// use guardcell_solution::Label;
    /// let l = Label::from_csv("name,n_percent,k2o_percent\nPotassium nitrate,13.7,46\n")?;
    /// assert_eq!(l[0].guaranteed.k2o_percent, Some(46.0));
    /// # Ok::<(), guardcell_solution::SolutionError>(())
    /// ```
    pub fn from_csv(text: &str) -> Result<Vec<Self>, SolutionError> {
        csv::parse(text)
    }

    /// One label from the pasted text of a guaranteed analysis, in the statutory wording of the
    /// United States, of Regulation (EU) 2019/1009, or of a country with the elemental basis.
    ///
    /// # Errors
    /// [`SolutionError`] with line and column; a figure whose basis the text does not say is
    /// [`SolutionError::Ambiguous`].
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
    /// # Ok::<(), guardcell_solution::SolutionError>(())
    /// ```
    pub fn from_text(text: &str) -> Result<Self, SolutionError> {
        text::parse(text)
    }

    /// Checks that the figures can stand together: each within 0–100 %, the forms of nitrogen
    /// within the total, oxide and element in agreement, all nutrients together within the product.
    ///
    /// # Errors
    /// [`SolutionError::Value`] or [`SolutionError::Missing`] with a JSON Pointer to the figure.
    ///
    /// ```
    /// use guardcell_solution::Label;
    /// let mut l = Label::from_csv("name,n_percent\nX,15\n")?.remove(0);
    /// l.guaranteed.nitrate_n_percent = Some(16.0);
    /// assert!(l.check().is_err());
    /// # Ok::<(), guardcell_solution::SolutionError>(())
    /// ```
    pub fn check(&self) -> Result<(), SolutionError> {
        Analysis::of(self).map(|_| ())
    }
}

/// The error of an input without content.
fn empty() -> SolutionError {
    SolutionError::missing(
        crate::error::Place::Whole,
        "the label is empty",
        "Give a name and a guaranteed analysis",
    )
}

/// Checks each label, locating faults by the pointer of its place in the document.
fn checked(
    labels: Vec<Label>,
    pointer: impl Fn(usize) -> String,
) -> Result<Vec<Label>, SolutionError> {
    if labels.is_empty() {
        return Err(empty());
    }
    for (i, label) in labels.iter().enumerate() {
        label.check().map_err(|e| e.under(&pointer(i)))?;
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
