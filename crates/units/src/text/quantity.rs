//! A quantity as written, and what it is of.

use super::unit::Unit;
use crate::basis::BasisInfo;
use crate::dimension::Dimension;
use crate::round::{shortest, significant};
use crate::table::UnitDef;
use crate::tds_scale::Scale;
use core::fmt;
use serde::{Deserialize, Serialize};

/// What a bare ppm means to this grower. There is no default.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum PpmMeaning {
    /// mg/L of nitrogen.
    #[serde(rename = "n")]
    N,
    /// A meter on the 500 scale.
    #[serde(rename = "meter_500")]
    Meter500,
    /// A meter on the 640 scale.
    #[serde(rename = "meter_640")]
    Meter640,
    /// A meter on the 700 scale.
    #[serde(rename = "meter_700")]
    Meter700,
    /// mg/L of everything dissolved from the feed.
    #[serde(rename = "feed")]
    Feed,
}

/// What a quantity is of, beyond its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Subject {
    /// Not stated, or implied by the unit (°dH).
    Plain,
    /// A nutrient or ion, counted as this basis.
    Basis(&'static BasisInfo),
    /// Hardness, counted as this basis or as an amount.
    Hardness(Option<&'static BasisInfo>),
    /// Alkalinity, counted as this basis or as an amount.
    Alkalinity(Option<&'static BasisInfo>),
    /// Everything dissolved from the feed.
    Feed,
    /// A meter reading on this scale.
    Meter(Scale),
    /// EC of water at this temperature.
    ReadAt {
        /// The number of the temperature.
        number: f64,
        /// Its unit.
        unit: &'static UnitDef,
    },
    /// Relative humidity.
    Humidity,
    /// A share by mass, of this basis if one is named.
    ByMass(Option<&'static BasisInfo>),
    /// A difference of temperatures.
    Difference,
}

impl Subject {
    /// The basis it is counted as, if any.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::Quantity;
    /// let q = Quantity::parse("120 ppm P2O5").unwrap();
    /// assert_eq!(q.subject().basis().unwrap().symbol, "P2O5");
    /// ```
    #[must_use]
    pub fn basis(self) -> Option<&'static BasisInfo> {
        match self {
            Self::Basis(b) => Some(b),
            Self::Hardness(b) | Self::Alkalinity(b) | Self::ByMass(b) => b,
            _ => None,
        }
    }

    /// The words after the unit, with a space before each.
    fn words(self, trade: bool) -> String {
        let named = |b: Option<&'static BasisInfo>, word: &str| match b {
            Some(b) => format!(" {} {word}", b.symbol),
            None => format!(" {word}"),
        };
        match self {
            Self::Plain => String::new(),
            Self::Basis(b) => format!(" {}", b.symbol),
            Self::Hardness(b) => named(b, "hardness"),
            Self::Alkalinity(b) => named(b, "alkalinity"),
            Self::Feed => " feed".to_owned(),
            Self::Meter(scale) => format!(" meter {scale}"),
            Self::ReadAt { number, unit } => {
                let name = if trade { unit.trade } else { unit.code };
                format!(" at {} {name}", shortest(number))
            }
            Self::Humidity => " RH".to_owned(),
            Self::ByMass(None) => " w/w".to_owned(),
            Self::ByMass(Some(b)) => format!(" {}", b.symbol),
            Self::Difference => " difference".to_owned(),
        }
    }
}

/// The kind of quantity that a unit and a subject make together.
pub(crate) fn dimension(unit: &Unit, subject: Subject) -> Dimension {
    match subject {
        Subject::Plain => unit.dimension(),
        Subject::Basis(_) if unit.dimension() == Dimension::MassFraction => Dimension::MassFraction,
        Subject::Basis(_) => Dimension::AsBasis,
        Subject::Hardness(_) => Dimension::Hardness,
        Subject::Alkalinity(_) => Dimension::Alkalinity,
        Subject::Feed => Dimension::FeedStrength,
        Subject::Meter(_) => Dimension::MeterPpm,
        Subject::ReadAt { .. } => Dimension::Conductivity,
        Subject::Humidity => Dimension::Humidity,
        Subject::ByMass(_) => Dimension::MassFraction,
        Subject::Difference => Dimension::TemperatureInterval,
    }
}

/// A quantity as written: a number, a unit and what it is of.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::Quantity;
/// let q = Quantity::parse("1/4 tsp per gallon").unwrap();
/// assert_eq!(q.to_string(), "0.25 [tsp_us]/[gal_us]");
/// assert_eq!(q.trade().to_string(), "0.25 US tsp/US gal");
/// assert_eq!(Quantity::parse(&q.to_string()).unwrap(), q);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    pub(super) number: f64,
    pub(super) unit: Unit,
    pub(super) subject: Subject,
}

impl Quantity {
    /// The kind of quantity.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::dimension::Dimension;
    /// use guardcell::units::text::Quantity;
    /// assert_eq!(Quantity::parse("14 °dH").unwrap().dimension(), Dimension::Hardness);
    /// ```
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        dimension(&self.unit, self.subject)
    }

    /// The number, counted in [`Quantity::unit`].
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::Quantity;
    /// assert_eq!(Quantity::parse("1 1/2 oz").unwrap().number(), 1.5);
    /// ```
    #[must_use]
    pub fn number(&self) -> f64 {
        self.number
    }

    /// The unit.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::Quantity;
    /// assert_eq!(Quantity::parse("5 ml per litre").unwrap().unit().code(), "mL/L");
    /// ```
    #[must_use]
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// What it is of.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::{Quantity, Subject};
    /// assert_eq!(Quantity::parse("300 ppm feed").unwrap().subject(), Subject::Feed);
    /// ```
    #[must_use]
    pub fn subject(&self) -> Subject {
        self.subject
    }

    /// Prints it as the trade writes it; [`Display`](fmt::Display) prints codes.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::Quantity;
    /// let q = Quantity::parse("2 [tsp_us]/[gal_us]").unwrap();
    /// assert_eq!(q.trade().to_string(), "2 US tsp/US gal");
    /// ```
    #[must_use]
    pub fn trade(&self) -> impl fmt::Display {
        self.written(true, None)
    }

    /// As the trade writes it, the number rounded for reading.
    pub(crate) fn rounded(&self) -> String {
        self.written(true, Some(10))
    }

    fn written(&self, trade: bool, digits: Option<u8>) -> String {
        let number = shortest(digits.map_or(self.number, |d| significant(self.number, d)));
        let name = if trade { self.unit.trade() } else { self.unit.code() };
        if self.unit.dimension() == Dimension::InjectorRatio {
            return name
                .replace('N', &number)
                .replace(':', " in ")
                .replace('+', " + ")
                .replace("  ", " ");
        }
        let words = self.subject.words(trade);
        match words.strip_prefix(' ') {
            Some(annotation) if !trade => {
                format!("{number} {name}{{{}}}", annotation.replace(' ', "_"))
            }
            _ => format!("{number} {name}{words}"),
        }
    }

    /// The unit with the words that belong to it, as the trade writes them.
    pub(crate) fn unit_words(&self) -> String {
        format!("{}{}", self.unit.trade(), self.subject.words(true))
    }

    /// As the trade writes it, to the five digits a person can use.
    pub(crate) fn readable(&self) -> String {
        self.written(true, Some(5))
    }

    /// The same with another number, unit and subject.
    pub(crate) fn with(&self, number: f64, unit: Unit, subject: Subject) -> Self {
        Self { number, unit, subject }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written(false, None))
    }
}

/// What to convert to: a unit and what it is of, without a number.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::Target;
/// assert!(Target::parse("mS/cm at 25 °C").is_ok());
/// assert!(Target::parse("ppm meter 700").is_ok());
/// assert!(Target::parse("12 furlongs").is_err());
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Target {
    pub(crate) unit: Unit,
    pub(crate) subject: Subject,
}

impl Target {
    /// The unit.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::Target;
    /// assert_eq!(Target::parse("degrees Fahrenheit").unwrap().unit().code(), "[degF]");
    /// ```
    #[must_use]
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// The kind of quantity.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::dimension::Dimension;
    /// use guardcell::units::text::Target;
    /// assert_eq!(Target::parse("°dKH").unwrap().dimension(), Dimension::Alkalinity);
    /// ```
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        dimension(&self.unit, self.subject)
    }

    /// What it is of.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::{Subject, Target};
    /// assert_eq!(Target::parse("mg/L feed").unwrap().subject(), Subject::Feed);
    /// ```
    #[must_use]
    pub fn subject(&self) -> Subject {
        self.subject
    }

    pub(crate) fn words(&self) -> String {
        format!("{}{}", self.unit.trade(), self.subject.words(true))
    }
}
