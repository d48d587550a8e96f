//! What a recipe is asked for.

use super::target::Target;
use crate::label::Label;
use crate::water::WaterReport;
use guardcell_call::{Bound, Bounded, bounds};
use guardcell_error::Error;
use serde::{Deserialize, Serialize};

/// What the figures of a target count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum TargetMeaning {
    /// What the feed adds; the water's own comes on top, and the meter reads both.
    #[default]
    AddedFeed,
    /// Feed and water together: what the water holds is subtracted.
    Total,
}

/// Limits that a recipe must not pass, counting feed and water together.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields, default)]
pub struct Ceilings {
    /// Specific conductance at 25 °C, µS/cm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ec25_us_cm: Option<f64>,
    /// Urea N, percent of all N.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub urea_n_percent: Option<f64>,
    /// Ammoniacal N, percent of all N.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ammoniacal_n_percent: Option<f64>,
    /// Sodium, mg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub na_mg_l: Option<f64>,
    /// Chloride, mg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cl_mg_l: Option<f64>,
}

bounds! { Ceilings {
    ec25_us_cm: Bound::number(0.0, 1e5, "µS/cm"),
    urea_n_percent: Bound::number(0.0, 100.0, "%"),
    ammoniacal_n_percent: Bound::number(0.0, 100.0, "%"),
    na_mg_l: Bound::number(0.0, 1e6, "mg/L"),
    cl_mg_l: Bound::number(0.0, 1e6, "mg/L"),
} }

/// A ceiling of a recipe, by its field in [`Ceilings`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum CeilingName {
    /// Specific conductance at 25 °C.
    Ec25UsCm,
    /// Urea N of all N.
    UreaNPercent,
    /// Ammoniacal N of all N.
    AmmoniacalNPercent,
    /// Sodium.
    NaMgL,
    /// Chloride.
    ClMgL,
}

impl CeilingName {
    /// The field of [`Ceilings`], such as `na_mg_l`.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::recipe::CeilingName;
    /// assert_eq!(CeilingName::NaMgL.field(), "na_mg_l");
    /// ```
    #[must_use]
    pub const fn field(self) -> &'static str {
        match self {
            Self::Ec25UsCm => "ec25_us_cm",
            Self::UreaNPercent => "urea_n_percent",
            Self::AmmoniacalNPercent => "ammoniacal_n_percent",
            Self::NaMgL => "na_mg_l",
            Self::ClMgL => "cl_mg_l",
        }
    }
}

/// The smallest amounts the grower can weigh or measure.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields, default)]
pub struct ScaleResolution {
    /// Step of the scale, g; amounts are not rounded if omitted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// Step of the syringe or cylinder, mL; amounts are not rounded if omitted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
}

bounds! { ScaleResolution {
    mass_g: Bound::number(1e-6, 1e4, "g"),
    volume_ml: Bound::number(1e-6, 1e4, "mL"),
} }

/// A request for a recipe: products, targets, volume; pure water unless a report is given.
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::solution::{Label, RecipeRequest, WaterReport, recipe};
/// use guardcell::solution::recipe::{BasisName, Ceilings, Target};
/// let label = Label::from_csv("name,n_percent,p2o5_percent,k2o_percent\nX,15,5,15\n")?.remove(0);
/// let request = RecipeRequest::new(vec![label], 5.0, vec![Target::nutrient(BasisName::N, 45.0)])
///     .with_water(WaterReport::from_toml("ec_us_cm = 120\n")?)
///     .with_ceilings(Ceilings { ec25_us_cm: Some(900.0), ..Ceilings::default() });
/// assert!(recipe(&request)?.feasible);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct RecipeRequest {
    /// The labels of the products to use.
    pub products: Vec<Label>,
    /// How much solution, L (above 0).
    pub volume_l: f64,
    /// The water; pure water if omitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<WaterReport>,
    /// What is wanted: one target for one product, any number for several.
    pub targets: Vec<Target>,
    /// Whether nutrient targets count what the feed adds or the total.
    #[serde(default)]
    pub target_meaning: TargetMeaning,
    /// Limits not to pass.
    #[serde(default)]
    pub ceilings: Ceilings,
    /// What the grower can weigh.
    #[serde(default)]
    pub resolution: ScaleResolution,
    /// Temperature of the solution, °C (0–40; 25 if omitted): for the reading of a meter
    /// without compensation.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temp_c: Option<f64>,
}

bounds! { RecipeRequest {
    products: Bound::items(1, 200),
    volume_l: Bound::number(1e-3, 1e6, "L"),
    targets: Bound::items(1, 64),
    temp_c: Bound::number(0.0, 40.0, "°C"),
} }

guardcell_call::setters! { RecipeRequest {
    /// The same in this water.
    with_water(water?: WaterReport);
    /// The same with nutrient targets that count what the feed adds, or the total.
    with_target_meaning(target_meaning: TargetMeaning);
    /// The same under these ceilings.
    with_ceilings(ceilings: Ceilings);
    /// The same rounded to what the grower can weigh and measure.
    with_resolution(resolution: ScaleResolution);
    /// The same at a temperature of the solution, 0 to 40 °C.
    with_temp_c(temp_c?: f64);
} }

impl RecipeRequest {
    /// Products and targets for a volume in litres, in pure water.
    #[must_use]
    pub fn new(products: Vec<Label>, volume_l: f64, targets: Vec<Target>) -> Self {
        Self {
            products,
            volume_l,
            water: None,
            targets,
            target_meaning: TargetMeaning::default(),
            ceilings: Ceilings::default(),
            resolution: ScaleResolution::default(),
            temp_c: None,
        }
    }

    /// A request for one product and one target in pure water.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::{Label, RecipeRequest, recipe};
    /// use guardcell::solution::recipe::{BasisName, Target};
    /// let label = Label::from_csv("name,n_percent,p2o5_percent,k2o_percent\nX,20,20,20\n")?.remove(0);
    /// let target = Target::nutrient(BasisName::N, 200.0);
    /// let answer = recipe(&RecipeRequest::single(label, 10.0, target))?;
    /// assert!((answer.products[0].mass_g.unwrap_or(0.0) - 10.0).abs() < 1e-9);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn single(label: Label, volume_l: f64, target: Target) -> Self {
        Self::new(vec![label], volume_l, vec![target])
    }

    /// Refuses a request that is too large or out of range before any work.
    pub(super) fn check(&self) -> Result<(), Error> {
        self.check_bounds()?;
        self.ceilings.check_bounds().map_err(|e| e.within("/ceilings"))?;
        self.resolution.check_bounds().map_err(|e| e.within("/resolution"))?;
        for (i, target) in self.targets.iter().enumerate() {
            target.check_bounds().map_err(|e| e.within(&format!("/targets/{i}")))?;
        }
        Ok(())
    }
}
