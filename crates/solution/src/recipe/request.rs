//! What a recipe is asked for.

use crate::error::{Place, SolutionError};
use crate::label::Label;
use crate::water::WaterReport;
use guardcell_units::quantity::in_mg_per_l;
use guardcell_units::text::{Measure, Quantity};
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

/// The bases a nutrient target may be stated on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[expect(missing_docs, reason = "the variants are the chemical symbols")]
pub enum BasisName {
    N,
    P,
    P2O5,
    K,
    K2O,
    Ca,
    CaO,
    Mg,
    MgO,
    S,
    SO4,
    Fe,
    Mn,
    Zn,
    Cu,
    B,
    Mo,
    Si,
}

/// One target.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Target {
    /// A nutrient on a stated basis.
    Nutrient {
        /// The basis, such as `N` or `P2O5`.
        basis: BasisName,
        /// The figure wanted, mg/L (the same as ppm).
        mg_l: f64,
        /// The low end of what is still as good, mg/L. Left out: the figure itself.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        low_mg_l: Option<f64>,
        /// The high end of what is still as good, mg/L. Left out: the figure itself.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        high_mg_l: Option<f64>,
        /// How much this target counts against others; 1 where left out.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        weight: Option<f64>,
    },
    /// Feed strength, mg/L of everything dissolved that comes from the feed. It never counts the
    /// water, whatever the meaning of targets.
    FeedStrength {
        /// mg/L.
        mg_l: f64,
    },
    /// What the meter shall read in the end, water and feed together, µS/cm at 25 °C.
    Ec25 {
        /// µS/cm at 25 °C.
        us_cm: f64,
    },
    /// How much the feed shall raise the reading above the water's own, µS/cm at 25 °C.
    Ec25AboveWater {
        /// µS/cm at 25 °C.
        us_cm: f64,
    },
}

/// Limits that a recipe must not pass, counting feed and water together.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

/// The smallest amounts the grower can weigh or measure.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct ScaleResolution {
    /// Step of the scale, g. Left out: amounts are not rounded.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// Step of the syringe or cylinder, mL. Left out: amounts are not rounded.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
}

/// A request for a recipe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct RecipeRequest {
    /// The labels of the products to use.
    pub products: Vec<Label>,
    /// How much solution, L (above 0).
    pub volume_l: f64,
    /// The water; left out, pure water.
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
    /// Temperature of the solution, °C (0–40; 25 where left out): for the reading of a meter
    /// without compensation.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temp_c: Option<f64>,
}

impl RecipeRequest {
    /// A request for one product and one target in pure water.
    ///
    /// ```
    /// use guardcell_solution::{Label, RecipeRequest, recipe};
    /// use guardcell_solution::recipe::{BasisName, Target};
    /// let label = Label::from_csv("name,n_percent,p2o5_percent,k2o_percent\nX,20,20,20\n")?.remove(0);
    /// let target = Target::nutrient(BasisName::N, 200.0);
    /// let answer = recipe(&RecipeRequest::single(label, 10.0, target))?;
    /// assert!((answer.products[0].mass_g.unwrap_or(0.0) - 10.0).abs() < 1e-9);
    /// # Ok::<(), guardcell_solution::SolutionError>(())
    /// ```
    #[must_use]
    pub fn single(label: Label, volume_l: f64, target: Target) -> Self {
        Self {
            products: vec![label],
            volume_l,
            water: None,
            targets: vec![target],
            target_meaning: TargetMeaning::default(),
            ceilings: Ceilings::default(),
            resolution: ScaleResolution::default(),
            temp_c: None,
        }
    }
}

impl Target {
    /// A nutrient target without a range.
    ///
    /// ```
    /// use guardcell_solution::recipe::{BasisName, Target};
    /// assert!(matches!(Target::nutrient(BasisName::P2O5, 50.0), Target::Nutrient { mg_l: 50.0, .. }));
    /// ```
    #[must_use]
    pub const fn nutrient(basis: BasisName, mg_l: f64) -> Self {
        Self::Nutrient { basis, mg_l, low_mg_l: None, high_mg_l: None, weight: None }
    }
}

impl core::str::FromStr for Target {
    type Err = SolutionError;

    /// A target as people write it: `150 ppm N`, `300 mg/L feed`, `1.2 mS/cm`, `0.8 mS/cm above
    /// water`, `600 ppm meter 500`.
    ///
    /// # Errors
    /// [`SolutionError::Ambiguous`] for a bare ppm, [`SolutionError::Value`] for anything that is
    /// no target, each with the choices.
    ///
    /// ```
    /// use guardcell_solution::recipe::{BasisName, Target};
    /// let t: Target = "150 ppm N".parse()?;
    /// assert!(matches!(t, Target::Nutrient { basis: BasisName::N, .. }));
    /// assert!("300 ppm".parse::<Target>().is_err());
    /// # Ok::<(), guardcell_solution::SolutionError>(())
    /// ```
    fn from_str(text: &str) -> Result<Self, SolutionError> {
        const CHOICES: &str = "Write a nutrient with its basis (150 ppm N), a feed strength \
                               (300 mg/L feed), an EC (1.2 mS/cm, or 0.8 mS/cm above water) or a \
                               reading with its scale (600 ppm meter 500)";
        let no_target =
            || SolutionError::value(Place::Whole, format!("{text:?} is no target"), CHOICES);
        let (head, above) = match text.trim().strip_suffix("above water") {
            Some(head) => (head.trim(), true),
            None => (text.trim(), false),
        };
        let quantity = Quantity::parse(head).map_err(|e| match e.code() {
            "ambiguous-ppm" => SolutionError::ambiguous(Place::Whole, e.to_string(), CHOICES),
            _ => SolutionError::value(Place::Whole, e.to_string(), CHOICES),
        })?;
        match (quantity.measure(), above) {
            (Measure::SpecificConductance(k) | Measure::Meter(k, _), true) => {
                Ok(Self::Ec25AboveWater { us_cm: k.us_per_cm() })
            }
            (Measure::SpecificConductance(k) | Measure::Meter(k, _), false) => {
                Ok(Self::Ec25 { us_cm: k.us_per_cm() })
            }
            (Measure::FeedStrength(f), false) => Ok(Self::FeedStrength { mg_l: f.mg_per_l() }),
            (Measure::AsBasis(mass, basis), false) => {
                let name = BasisName::of_symbol(basis.symbol).ok_or_else(no_target)?;
                Ok(Self::nutrient(name, in_mg_per_l(mass)))
            }
            _ => Err(no_target()),
        }
    }
}

impl BasisName {
    /// The basis of a symbol such as `P2O5`; `None` where recipes have no such target.
    ///
    /// ```
    /// use guardcell_solution::recipe::BasisName;
    /// assert_eq!(BasisName::of_symbol("K2O"), Some(BasisName::K2O));
    /// assert_eq!(BasisName::of_symbol("CaCO3"), None);
    /// ```
    #[must_use]
    pub fn of_symbol(symbol: &str) -> Option<Self> {
        const ALL: [BasisName; 18] = [
            BasisName::N,
            BasisName::P,
            BasisName::P2O5,
            BasisName::K,
            BasisName::K2O,
            BasisName::Ca,
            BasisName::CaO,
            BasisName::Mg,
            BasisName::MgO,
            BasisName::S,
            BasisName::SO4,
            BasisName::Fe,
            BasisName::Mn,
            BasisName::Zn,
            BasisName::Cu,
            BasisName::B,
            BasisName::Mo,
            BasisName::Si,
        ];
        // The variants are the symbols.
        ALL.into_iter().find(|b| format!("{b:?}") == symbol)
    }
}
