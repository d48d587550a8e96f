//! What a recipe is asked for.

use crate::label::Label;
use crate::water::WaterReport;
use guardcell_call::{Bound, Bounded, Limited, bounds};
use guardcell_error::{Code, Error, excerpt};
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
#[cfg_attr(feature = "schema", schemars(transform = bounds_of_forms))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Target {
    /// A nutrient on a stated basis.
    Nutrient {
        /// The basis, such as `N` or `P2O5`.
        basis: BasisName,
        /// The figure wanted, mg/L (the same as ppm).
        mg_l: f64,
        /// The low end of what is still as good, mg/L; the figure itself if omitted.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        low_mg_l: Option<f64>,
        /// The high end of what is still as good, mg/L; the figure itself if omitted.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        high_mg_l: Option<f64>,
        /// How much this target counts against others; 1 if omitted.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        weight: Option<f64>,
    },
    /// Feed strength, mg/L of everything dissolved that comes from the feed. It never counts the
    /// water, whatever the meaning of targets.
    FeedStrength {
        /// mg/L.
        mg_l: f64,
    },
    /// What the meter should read in the end, water and feed together, µS/cm at 25 °C.
    Ec25 {
        /// µS/cm at 25 °C.
        us_cm: f64,
    },
    /// How much the feed should raise the reading above the water's own, µS/cm at 25 °C.
    Ec25AboveWater {
        /// µS/cm at 25 °C.
        us_cm: f64,
    },
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
    mass_g: Bound::above(0.0, 1e4, "g"),
    volume_ml: Bound::above(0.0, 1e4, "mL"),
} }

/// A request for a recipe: products, targets, volume; pure water unless a report is given.
///
/// ```
/// use guardcell_solution::{Label, RecipeRequest, WaterReport, recipe};
/// use guardcell_solution::recipe::{BasisName, Ceilings, Target};
/// let label = Label::from_csv("name,n_percent,p2o5_percent,k2o_percent\nX,15,5,15\n")?.remove(0);
/// let request = RecipeRequest::new(vec![label], 5.0, vec![Target::nutrient(BasisName::N, 45.0)])
///     .with_water(WaterReport::from_toml("ec_us_cm = 120\n")?)
///     .with_ceilings(Ceilings { ec25_us_cm: Some(900.0), ..Ceilings::default() });
/// assert!(recipe(&request)?.feasible);
/// # Ok::<(), guardcell_solution::Error>(())
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
    volume_l: Bound::above(0.0, 1e6, "L"),
    targets: Bound::items(1, 64),
    temp_c: Bound::number(0.0, 40.0, "°C"),
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
    /// use guardcell_solution::{Label, RecipeRequest, recipe};
    /// use guardcell_solution::recipe::{BasisName, Target};
    /// let label = Label::from_csv("name,n_percent,p2o5_percent,k2o_percent\nX,20,20,20\n")?.remove(0);
    /// let target = Target::nutrient(BasisName::N, 200.0);
    /// let answer = recipe(&RecipeRequest::single(label, 10.0, target))?;
    /// assert!((answer.products[0].mass_g.unwrap_or(0.0) - 10.0).abs() < 1e-9);
    /// # Ok::<(), guardcell_solution::Error>(())
    /// ```
    #[must_use]
    pub fn single(label: Label, volume_l: f64, target: Target) -> Self {
        Self::new(vec![label], volume_l, vec![target])
    }

    /// The same in this water.
    #[must_use]
    pub fn with_water(mut self, water: WaterReport) -> Self {
        self.water = Some(water);
        self
    }

    /// The same with nutrient targets that count what the feed adds, or the total.
    #[must_use]
    pub fn with_target_meaning(mut self, meaning: TargetMeaning) -> Self {
        self.target_meaning = meaning;
        self
    }

    /// The same under these ceilings.
    #[must_use]
    pub fn with_ceilings(mut self, ceilings: Ceilings) -> Self {
        self.ceilings = ceilings;
        self
    }

    /// The same rounded to what the grower can weigh and measure.
    #[must_use]
    pub fn with_resolution(mut self, resolution: ScaleResolution) -> Self {
        self.resolution = resolution;
        self
    }

    /// The same at a temperature of the solution, 0 to 40 °C.
    #[must_use]
    pub fn with_temp_c(mut self, temp_c: f64) -> Self {
        self.temp_c = Some(temp_c);
        self
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

impl Bounded for Target {
    /// Of the fields within the forms.
    const BOUNDS: &'static [(&'static str, Bound)] = &[
        ("mg_l", Bound::above(0.0, 1e6, "mg/L")),
        ("low_mg_l", Bound::number(0.0, 1e6, "mg/L")),
        ("high_mg_l", Bound::number(0.0, 1e6, "mg/L")),
        ("weight", Bound::above(0.0, 1e3, "")),
        ("us_cm", Bound::above(0.0, 1e5, "µS/cm")),
    ];

    fn check_bounds(&self) -> Result<(), Error> {
        let (form, values) = match self {
            Self::Nutrient { mg_l, low_mg_l, high_mg_l, weight, .. } => (
                "nutrient",
                [
                    ("mg_l", Some(*mg_l)),
                    ("low_mg_l", *low_mg_l),
                    ("high_mg_l", *high_mg_l),
                    ("weight", *weight),
                ],
            ),
            Self::FeedStrength { mg_l } => {
                ("feed_strength", [("mg_l", Some(*mg_l)), ("", None), ("", None), ("", None)])
            }
            Self::Ec25 { us_cm } => {
                ("ec25", [("us_cm", Some(*us_cm)), ("", None), ("", None), ("", None)])
            }
            Self::Ec25AboveWater { us_cm } => {
                ("ec25_above_water", [("us_cm", Some(*us_cm)), ("", None), ("", None), ("", None)])
            }
        };
        for (field, bound) in Self::BOUNDS {
            for (_, value) in values.iter().filter(|(name, _)| name == field) {
                value.check(bound, &format!("/{form}/{field}"))?;
            }
        }
        let (low, high) = self.range();
        if low <= self.wanted() && self.wanted() <= high {
            return Ok(());
        }
        Err(Error::new(
            Code::Conflict,
            format!("the range {low} to {high} mg/L does not contain {}", self.wanted()),
            "give low_mg_l ≤ mg_l ≤ high_mg_l",
        )
        .at(format!("/{form}")))
    }
}

/// Writes the bounds of [`Target`] into the fields of its forms.
#[cfg(feature = "schema")]
fn bounds_of_forms(schema: &mut schemars::Schema) {
    use serde_json::Value;
    let Some(Value::Array(forms)) = schema.ensure_object().get_mut("oneOf") else { return };
    for form in forms {
        let Some(Value::Object(properties)) = form.get_mut("properties") else { continue };
        for property in properties.values_mut().filter_map(Value::as_object_mut) {
            guardcell_call::schema::write(property, Target::BOUNDS);
        }
    }
}

impl Target {
    /// The figure asked for.
    pub(super) fn wanted(&self) -> f64 {
        match self {
            Self::Nutrient { mg_l, .. } | Self::FeedStrength { mg_l } => *mg_l,
            Self::Ec25 { us_cm } | Self::Ec25AboveWater { us_cm } => *us_cm,
        }
    }

    /// What is as good as the figure asked for.
    pub(super) fn range(&self) -> (f64, f64) {
        match self {
            Self::Nutrient { mg_l, low_mg_l, high_mg_l, .. } => {
                (low_mg_l.unwrap_or(*mg_l), high_mg_l.unwrap_or(*mg_l))
            }
            _ => (self.wanted(), self.wanted()),
        }
    }

    pub(super) fn weight(&self) -> f64 {
        match self {
            Self::Nutrient { weight, .. } => weight.unwrap_or(1.0),
            _ => 1.0,
        }
    }
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
    type Err = Error;

    /// A target as people write it: `150 ppm N`, `300 mg/L feed`, `1.2 mS/cm`, `0.8 mS/cm above
    /// water`, `600 ppm meter 500`.
    ///
    /// # Errors
    /// [`Code::AmbiguousPpm`] for a bare ppm, [`Code::InvalidText`] for anything that is not a
    /// target, each with the choices.
    ///
    /// ```
    /// use guardcell_solution::recipe::{BasisName, Target};
    /// let t: Target = "150 ppm N".parse()?;
    /// assert!(matches!(t, Target::Nutrient { basis: BasisName::N, .. }));
    /// assert!("300 ppm".parse::<Target>().is_err());
    /// # Ok::<(), guardcell_solution::Error>(())
    /// ```
    fn from_str(text: &str) -> Result<Self, Error> {
        const CHOICES: &str = "write a nutrient with its basis (150 ppm N), a feed strength \
                               (300 mg/L feed), an EC (1.2 mS/cm, or 0.8 mS/cm above water) or a \
                               reading with its scale (600 ppm meter 500)";
        let no_target = || {
            Error::new(
                Code::InvalidText,
                format!("{:?} is not a target", excerpt(text, 60)),
                CHOICES,
            )
        };
        let (head, above) = match text.trim().strip_suffix("above water") {
            Some(head) => (head.trim(), true),
            None => (text.trim(), false),
        };
        let quantity = Quantity::parse(head).map_err(|e| match e.code() {
            "ambiguous-ppm" => Error::new(Code::AmbiguousPpm, e.to_string(), CHOICES),
            _ => Error::new(Code::InvalidText, e.to_string(), CHOICES),
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
                let name = BasisName::from_symbol(basis.symbol).ok_or_else(no_target)?;
                Ok(Self::nutrient(name, in_mg_per_l(mass)))
            }
            _ => Err(no_target()),
        }
    }
}

impl BasisName {
    /// Every basis.
    pub const ALL: [Self; 18] = [
        Self::N,
        Self::P,
        Self::P2O5,
        Self::K,
        Self::K2O,
        Self::Ca,
        Self::CaO,
        Self::Mg,
        Self::MgO,
        Self::S,
        Self::SO4,
        Self::Fe,
        Self::Mn,
        Self::Zn,
        Self::Cu,
        Self::B,
        Self::Mo,
        Self::Si,
    ];

    /// The symbol, such as `P2O5`.
    ///
    /// ```
    /// use guardcell_solution::recipe::BasisName;
    /// assert_eq!(BasisName::K2O.symbol(), "K2O");
    /// ```
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::N => "N",
            Self::P => "P",
            Self::P2O5 => "P2O5",
            Self::K => "K",
            Self::K2O => "K2O",
            Self::Ca => "Ca",
            Self::CaO => "CaO",
            Self::Mg => "Mg",
            Self::MgO => "MgO",
            Self::S => "S",
            Self::SO4 => "SO4",
            Self::Fe => "Fe",
            Self::Mn => "Mn",
            Self::Zn => "Zn",
            Self::Cu => "Cu",
            Self::B => "B",
            Self::Mo => "Mo",
            Self::Si => "Si",
        }
    }

    /// The basis of a symbol such as `P2O5`; `None` if recipes have no such target.
    ///
    /// ```
    /// use guardcell_solution::recipe::BasisName;
    /// assert_eq!(BasisName::from_symbol("K2O"), Some(BasisName::K2O));
    /// assert_eq!(BasisName::from_symbol("CaCO3"), None);
    /// ```
    #[must_use]
    pub fn from_symbol(symbol: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|basis| basis.symbol() == symbol)
    }
}

impl core::fmt::Display for Target {
    /// As people write it, and as [`Target::from_str`](core::str::FromStr) reads it.
    ///
    /// ```
    /// use guardcell_solution::recipe::Target;
    /// assert_eq!(Target::FeedStrength { mg_l: 300.0 }.to_string(), "300 mg/L feed");
    /// ```
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Nutrient { basis, mg_l, .. } => write!(f, "{mg_l} mg/L {}", basis.symbol()),
            Self::FeedStrength { mg_l } => write!(f, "{mg_l} mg/L feed"),
            Self::Ec25 { us_cm } => write!(f, "{us_cm} µS/cm"),
            Self::Ec25AboveWater { us_cm } => write!(f, "{us_cm} µS/cm above water"),
        }
    }
}
