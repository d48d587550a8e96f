//! What a recipe should reach.

use guardcell_call::{Bound, Bounded, Limited};
use guardcell_error::{Code, Error, excerpt};
use guardcell_units::quantity::in_mg_per_l;
use guardcell_units::round::significant;
use guardcell_units::text::{Measure, Quantity};
use serde::{Deserialize, Serialize};

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

impl Bounded for Target {
    /// Of the fields within the forms.
    const BOUNDS: &'static [(&'static str, Bound)] = &[
        ("mg_l", Bound::number(1e-6, 1e6, "mg/L")),
        ("low_mg_l", Bound::number(0.0, 1e6, "mg/L")),
        ("high_mg_l", Bound::number(0.0, 1e6, "mg/L")),
        ("weight", Bound::number(1e-6, 1e3, "")),
        ("us_cm", Bound::number(1e-3, 1e5, "µS/cm")),
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
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::recipe::{BasisName, Target};
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
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::recipe::{BasisName, Target};
    /// let t: Target = "150 ppm N".parse()?;
    /// assert!(matches!(t, Target::Nutrient { basis: BasisName::N, .. }));
    /// assert!("300 ppm".parse::<Target>().is_err());
    /// # Ok::<(), guardcell::solution::Error>(())
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
            Code::AmbiguousPpm => Error::new(Code::AmbiguousPpm, e.detail(), CHOICES),
            _ => Error::new(Code::InvalidText, e.detail(), CHOICES),
        })?;
        match (quantity.measure(), above) {
            (Measure::SpecificConductance(k) | Measure::Meter(k, _), true) => {
                Ok(Self::Ec25AboveWater { us_cm: significant(k.us_per_cm(), 10) })
            }
            (Measure::SpecificConductance(k) | Measure::Meter(k, _), false) => {
                Ok(Self::Ec25 { us_cm: significant(k.us_per_cm(), 10) })
            }
            (Measure::FeedStrength(f), false) => {
                Ok(Self::FeedStrength { mg_l: significant(f.mg_per_l(), 10) })
            }
            (Measure::AsBasis(mass, basis), false) => {
                let name = BasisName::from_symbol(basis.symbol).ok_or_else(no_target)?;
                Ok(Self::nutrient(name, significant(in_mg_per_l(mass), 10)))
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
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::recipe::BasisName;
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
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::recipe::BasisName;
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
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::recipe::Target;
    /// assert_eq!(Target::FeedStrength { mg_l: 300.0 }.to_string(), "300 mg/L feed");
    /// ```
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let figure = significant(self.wanted(), 6);
        match self {
            Self::Nutrient { basis, .. } => write!(f, "{figure} mg/L {}", basis.symbol()),
            Self::FeedStrength { .. } => write!(f, "{figure} mg/L feed"),
            Self::Ec25 { .. } => write!(f, "{figure} µS/cm"),
            Self::Ec25AboveWater { .. } => write!(f, "{figure} µS/cm above water"),
        }
    }
}
