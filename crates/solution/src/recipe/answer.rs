//! A recipe.

use super::request::{CeilingName, TargetMeaning};
use super::target::Target;
use crate::notice::{Bounds, Notice};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What to weigh out, what will be in the solution and what a meter will show.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct RecipeResponse {
    /// What the nutrient targets count.
    pub target_meaning: TargetMeaning,
    /// The volume of solution, L.
    pub volume_l: f64,
    /// Each product with its amount.
    pub products: Vec<RecipeProduct>,
    /// Each target with what is reached.
    pub targets: Vec<TargetReached>,
    /// Feed strength: everything dissolved that comes from the feed, mg/L.
    pub feed_strength_mg_l: f64,
    /// Of that, the ions and urea that the analysis accounts for, mg/L. The rest is crystal
    /// water, carriers, chelate and dye.
    pub feed_ions_mg_l: f64,
    /// Total N from the feed, mg/L (ppm N); the water's own is in `profile_mg_l`.
    pub n_mg_l: f64,
    /// Every element of the solution (`n`, `p`, `k`, `ca`, …), with its split.
    pub profile_mg_l: BTreeMap<String, ElementAmount>,
    /// The forms of nitrogen, feed and water together.
    pub n_forms_mg_l: NitrogenForms,
    /// Specific conductance as a meter will read it, µS/cm at 25 °C.
    pub ec25_us_cm: Bounds,
    /// Conductivity at the temperature of the solution, as a meter without compensation reads it,
    /// µS/cm.
    pub ec_us_cm: Bounds,
    /// The water's own specific conductance, µS/cm at 25 °C.
    pub water_ec25_us_cm: f64,
    /// The same reading on meters that show ppm.
    pub meter_ppm: MeterPpm,
    /// Whether every target is met within every ceiling.
    pub feasible: bool,
    /// The ceilings that keep a target from being met.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub blocking: Vec<Blocking>,
    /// What the answer assumes.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub assumptions: Vec<Notice>,
    /// What a reader should know before mixing.
    pub warnings: Vec<Notice>,
}

/// One product of a recipe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct RecipeProduct {
    /// The name on the label.
    pub name: String,
    /// The mass to weigh, g, rounded to the scale where one was given. Absent for a liquid
    /// without a density.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// The volume to measure, mL, for a liquid.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// The same in level spoons, for a powder with a bulk density.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spoons: Option<Spoons>,
    /// What the rounding changed, where a resolution was given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rounding: Option<Rounding>,
    /// Grams (or millilitres, for a liquid without a density) in one litre of solution, exact.
    pub per_litre: f64,
    /// The feed strength this product brings, mg/L.
    pub feed_strength_mg_l: f64,
    /// This product's share of each element that the feed brings, percent.
    pub share_percent: BTreeMap<String, f64>,
    /// The supplements that go with it, which its strength and shares count.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<RecipeSupplement>,
}

/// How much of a supplement goes with a product.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct RecipeSupplement {
    /// The name on its label.
    pub name: String,
    /// The mass to weigh, g, in proportion to the product as it is weighed. Absent for a liquid
    /// without a density.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// The volume to measure, mL, for a liquid.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// The feed strength that it brings, mg/L.
    pub feed_strength_mg_l: f64,
}

/// Level spoons of a powder.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Spoons {
    /// Teaspoons of 5 mL, exact.
    pub metric_tsp: f64,
    /// United States teaspoons of 4.929 mL, exact.
    pub us_tsp: f64,
    /// Metric teaspoons rounded to eighths.
    pub metric_tsp_rounded: f64,
    /// How far that rounding is off, percent.
    pub rounding_error_percent: f64,
}

/// What rounding to the scale changed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Rounding {
    /// The exact amount, in g (or mL for a volume).
    pub exact: f64,
    /// The step of the scale, in the same unit.
    pub step: f64,
    /// The rounded amount less the exact one, percent of the exact one.
    pub error_percent: f64,
}

/// One element of a solution.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ElementAmount {
    /// Together, mg/L.
    pub total: f64,
    /// From the products, mg/L.
    pub from_products: f64,
    /// From the water, mg/L.
    pub from_water: f64,
}

/// The forms of nitrogen, mg/L as N.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct NitrogenForms {
    /// Nitrate N.
    pub nitrate: f64,
    /// Ammoniacal N.
    pub ammoniacal: f64,
    /// Urea N, which no conductivity meter sees.
    pub urea: f64,
    /// N whose form the label does not state.
    pub other: f64,
}

impl NitrogenForms {
    /// All forms together, mg/L as N.
    pub(super) fn total(&self) -> f64 {
        self.nitrate + self.ammoniacal + self.urea + self.other
    }
}

/// A specific conductance as the three ppm scales show it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct MeterPpm {
    /// The 500 scale (factor 0.5).
    pub scale_500: Bounds,
    /// The 640 scale (factor 0.64).
    pub scale_640: Bounds,
    /// The 700 scale (factor 0.7).
    pub scale_700: Bounds,
}

/// One target and what is reached.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct TargetReached {
    /// The target as asked.
    pub target: Target,
    /// The figure reached, in the target's own unit and basis and with its meaning.
    pub reached: f64,
    /// Reached less wanted, percent of the wanted figure.
    pub deviation_percent: f64,
    /// Whether it lies within the wanted range (or within 1 % of the figure).
    pub met: bool,
}

/// A ceiling that keeps a target from being met.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Blocking {
    /// The ceiling, by its field.
    pub ceiling: CeilingName,
    /// Its limit.
    pub limit: f64,
    /// What the targets would need.
    pub needed: f64,
    /// How far that is over, in the ceiling's unit.
    pub over: f64,
    /// The same as a sentence.
    pub message: String,
}
