//! The label of a product.

use super::guaranteed::Guaranteed;
#[cfg(feature = "schema")]
use super::number::LenientNumber;
use super::number::lenient_number;
use guardcell_call::{Bound, bounds};
use serde::{Deserialize, Serialize};

/// The most letters of a name.
const NAME_MOST: usize = 200;

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
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::solution::Label;
/// let labels = Label::from_toml(r#"
/// name = "Example 15-5-15"
/// derived_from = ["potassium nitrate", "calcium nitrate", "monoammonium phosphate"]
/// [guaranteed]
/// n_percent = 15
/// p2o5_percent = 5
/// k2o_percent = 15
/// "#)?;
/// assert_eq!(labels[0].guaranteed.n_percent, Some(15.0));
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Label {
    /// The name on the label.
    pub name: String,
    /// Powder or liquid.
    #[serde(default)]
    pub form: Form,
    /// Whether the form was assumed, because the text of the label does not state it.
    #[serde(default, skip_serializing_if = "core::ops::Not::not")]
    pub form_assumed: bool,
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
    /// Supplements that always go into the bucket with it, each in proportion; feed strength counts
    /// them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<Supplement>,
}

/// A supplement that goes with a feed.
///
/// ```
/// # mod guardcell {
/// #     pub mod solution { pub use guardcell_solution::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::solution::{Label, Product, label::Supplement};
/// use guardcell::units::quantity::mg_per_l;
/// let mut labels = Label::from_csv("name,n_percent,ca_percent\nFeed,15,\nCalcium,10,20\n")?;
/// let mut feed = labels.remove(0);
/// feed.with.push(Supplement { label: labels.remove(0), amount: 0.5 });
/// // 300 mg/L: 200 mg of the feed and 100 mg of the supplement, 30 and 10 mg N.
/// let mix = Product::new(&feed)?;
/// assert_eq!(mix.name(), "Feed with Calcium");
/// assert!((mix.nitrogen_at(mg_per_l(300.0)).mg_per_l() - 40.0).abs() < 1e-9);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Supplement {
    /// Its label, without supplements of its own.
    pub label: Label,
    /// How much of it for each gram of the feed, or for each mL of a liquid feed: g of a powder, mL
    /// of a liquid (g where its percentages are of mass and its density is not stated), 0.001 to
    /// 1,000.
    pub amount: f64,
}

bounds! { Supplement {
    amount: Bound::number(1e-3, 1e3, ""),
} }

bounds! { Label {
    name: Bound::text(1, NAME_MOST),
    density_kg_l: Bound::number(0.8, 2.0, "kg/L"),
    bulk_density_kg_l: Bound::number(0.2, 2.0, "kg/L"),
    soluble_percent: Bound::number(0.1, 100.0, "%"),
    derived_from: Bound::items(0, 64),
    shelf: Bound::text(0, 2000),
    with: Bound::items(0, 4),
} }

impl Label {
    /// A powder with this name and analysis, percentages by mass.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::{Label, label::Guaranteed};
    /// let guaranteed = Guaranteed { n_percent: Some(15.0), ..Guaranteed::default() };
    /// assert!(Label::new("Example 15-0-0", guaranteed).check().is_ok());
    /// ```
    #[must_use]
    pub fn new(name: impl Into<String>, guaranteed: Guaranteed) -> Self {
        Self {
            name: name.into(),
            form: Form::Powder,
            form_assumed: false,
            percent_of: PercentOf::Mass,
            density_kg_l: None,
            bulk_density_kg_l: None,
            soluble_percent: None,
            guaranteed,
            derived_from: Vec::new(),
            foliar: None,
            shelf: None,
            with: Vec::new(),
        }
    }
    /// The name of the mix: that of the label, with those of its supplements, or their number where
    /// the names together are longer than a name may be.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// # use guardcell::solution::{Label, label::{Guaranteed, Supplement}};
    /// let label = |name: &str| Label::new(name, Guaranteed::default());
    /// let mut feed = label("Leaf feed");
    /// assert_eq!(feed.mix_name(), "Leaf feed");
    /// feed.with.push(Supplement { label: label("Calcium"), amount: 0.2 });
    /// feed.with.push(Supplement { label: label("Seaweed"), amount: 1.0 });
    /// assert_eq!(feed.mix_name(), "Leaf feed with Calcium and Seaweed");
    /// ```
    #[must_use]
    pub fn mix_name(&self) -> String {
        let names: Vec<&str> = self.with.iter().map(|s| s.label.name.as_str()).collect();
        let with = match names.as_slice() {
            [] => return self.name.clone(),
            [one] => (*one).to_owned(),
            [most @ .., last] => format!("{} and {last}", most.join(", ")),
        };
        let name = format!("{} with {with}", self.name);
        if name.chars().count() <= NAME_MOST {
            return name;
        }
        let rest = NAME_MOST - " with 4 supplements".len();
        let name: String = self.name.chars().take(rest).collect();
        format!("{name} with {} supplements", names.len())
    }
}
