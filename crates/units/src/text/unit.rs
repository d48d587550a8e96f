//! A unit as written: one unit, or one over a number of another.

use super::lookup;
use crate::dimension::Dimension;
use crate::round::shortest;
use crate::table::{UnitDef, quotient_dimension};

/// A unit of the table, or a quotient of two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    numerator: &'static UnitDef,
    /// How many of the second unit it is divided by, and which.
    denominator: Option<(f64, &'static UnitDef)>,
    dimension: Dimension,
}

impl Unit {
    pub(crate) fn single(unit: &'static UnitDef) -> Self {
        Self { numerator: unit, denominator: None, dimension: unit.dimension }
    }

    pub(crate) fn quotient(
        numerator: &'static UnitDef,
        count: f64,
        denominator: &'static UnitDef,
    ) -> Option<Self> {
        Some(Self {
            numerator,
            denominator: Some((count, denominator)),
            dimension: quotient_dimension(numerator.dimension, denominator.dimension)?,
        })
    }

    pub(crate) fn of_codes(numerator: &str, count: f64, denominator: &str) -> Option<Self> {
        Self::quotient(lookup::by_code(numerator)?, count, lookup::by_code(denominator)?)
    }

    /// What it measures, before anything is said about the substance.
    ///
    /// ```
    /// use guardcell_units::dimension::Dimension;
    /// use guardcell_units::text::Target;
    /// assert_eq!(Target::parse("g/m2").unwrap().unit().dimension(), Dimension::ArealMass);
    /// ```
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        self.dimension
    }

    /// The code: UCUM where it has one.
    ///
    /// ```
    /// use guardcell_units::text::Target;
    /// let target = Target::parse("oz per 100 gal").unwrap();
    /// assert_eq!(target.unit().code(), "[oz_av]/(100.[gal_us])");
    /// ```
    #[must_use]
    pub fn code(&self) -> String {
        match self.denominator {
            None => self.numerator.code.to_owned(),
            Some((1.0, d)) => format!("{}/{}", self.numerator.code, d.code),
            Some((count, d)) => {
                format!("{}/({}.{})", self.numerator.code, shortest(count), d.code)
            }
        }
    }

    /// As the trade writes it.
    ///
    /// ```
    /// use guardcell_units::text::Target;
    /// assert_eq!(Target::parse("[oz_av]/(100.[gal_us])").unwrap().unit().trade(), "oz/100 US gal");
    /// ```
    #[must_use]
    pub fn trade(&self) -> String {
        match self.denominator {
            None => self.numerator.trade.to_owned(),
            Some((1.0, d)) => format!("{}/{}", self.numerator.trade, d.trade),
            Some((count, d)) => {
                format!("{}/{} {}", self.numerator.trade, shortest(count), d.trade)
            }
        }
    }

    /// The definitions and sources behind it, numerator first.
    ///
    /// ```
    /// use guardcell_units::text::Target;
    /// let unit = Target::parse("tsp/gal").unwrap().unit();
    /// assert_eq!(unit.definitions().next().unwrap().definition, "1/6 US fluid ounce");
    /// ```
    pub fn definitions(&self) -> impl Iterator<Item = &'static UnitDef> {
        core::iter::once(self.numerator).chain(self.denominator.map(|(_, d)| d))
    }

    /// The value in SI base units of the dimension.
    pub(crate) fn to_si(self, number: f64) -> f64 {
        let top = (number + self.numerator.shift) * self.numerator.scale;
        match self.denominator {
            None => top,
            Some((count, d)) => top / (count * d.scale),
        }
    }

    /// The number in this unit of a value in SI base units.
    pub(crate) fn of_si(self, value: f64) -> f64 {
        let top = match self.denominator {
            None => value,
            Some((count, d)) => value * (count * d.scale),
        };
        top / self.numerator.scale - self.numerator.shift
    }

    /// The difference in SI base units: without the shift of absolute temperatures.
    pub(crate) fn interval_to_si(self, number: f64) -> f64 {
        number * self.numerator.scale
    }

    /// The number in this unit of a difference in SI base units.
    pub(crate) fn interval_of_si(self, value: f64) -> f64 {
        value / self.numerator.scale
    }
}
