//! A unit as written: one unit, or one over others.

use super::lookup;
use crate::dimension::Dimension;
use crate::round::shortest;
use crate::table::{QuotientWord, UnitDef, quotient_dimension};

/// A unit of the table, or a quotient of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    numerator: &'static UnitDef,
    /// How many of the second unit it is divided by, and which.
    denominator: Option<(f64, &'static UnitDef)>,
    /// The time of a photon flux density, which is divided by an area first.
    per: Option<&'static UnitDef>,
    dimension: Dimension,
}

impl Unit {
    pub(crate) fn single(unit: &'static UnitDef) -> Self {
        Self { numerator: unit, denominator: None, per: None, dimension: unit.dimension }
    }

    pub(crate) fn quotient(
        numerator: &'static UnitDef,
        count: f64,
        denominator: &'static UnitDef,
    ) -> Option<Self> {
        Some(Self {
            numerator,
            denominator: Some((count, denominator)),
            per: None,
            dimension: quotient_dimension(numerator.dimension, denominator.dimension)?,
        })
    }

    /// An amount of photons over an area and a time, given in either order.
    pub(crate) fn photon_flux_density(
        numerator: &'static UnitDef,
        first: &'static UnitDef,
        second: &'static UnitDef,
    ) -> Option<Self> {
        let (area, time) = match (first.dimension, second.dimension) {
            (Dimension::Area, Dimension::Time) => (first, second),
            (Dimension::Time, Dimension::Area) => (second, first),
            _ => return None,
        };
        (numerator.dimension == Dimension::Amount).then_some(Self {
            numerator,
            denominator: Some((1.0, area)),
            per: Some(time),
            dimension: Dimension::PhotonFluxDensity,
        })
    }

    pub(crate) fn of_word(word: &QuotientWord) -> Option<Self> {
        match word.per {
            None => Self::of_codes(word.numerator, word.count, word.denominator),
            Some(per) => Self::photon_flux_density(
                lookup::by_code(word.numerator)?,
                lookup::by_code(word.denominator)?,
                lookup::by_code(per)?,
            ),
        }
    }

    pub(crate) fn of_codes(numerator: &str, count: f64, denominator: &str) -> Option<Self> {
        Self::quotient(lookup::by_code(numerator)?, count, lookup::by_code(denominator)?)
    }

    /// What it measures, before anything is said about the substance.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::dimension::Dimension;
    /// use guardcell::units::text::Target;
    /// assert_eq!(Target::parse("g/m2").unwrap().unit().dimension(), Dimension::ArealMass);
    /// ```
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        self.dimension
    }

    /// The code: UCUM where it has one.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::Target;
    /// let target = Target::parse("oz per 100 gal").unwrap();
    /// assert_eq!(target.unit().code(), "[oz_av]/(100.[gal_us])");
    /// ```
    #[must_use]
    pub fn code(&self) -> String {
        let top = self.numerator.code;
        match (self.denominator, self.per) {
            (None, _) => top.to_owned(),
            (Some((_, d)), Some(per)) => format!("{top}/{}/{}", d.code, per.code),
            (Some((1.0, d)), None) => format!("{top}/{}", d.code),
            (Some((count, d)), None) => format!("{top}/({}.{})", shortest(count), d.code),
        }
    }

    /// As the trade writes it.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::Target;
    /// assert_eq!(Target::parse("[oz_av]/(100.[gal_us])").unwrap().unit().trade(), "oz/100 US gal");
    /// ```
    #[must_use]
    pub fn trade(&self) -> String {
        let top = self.numerator.trade;
        match (self.denominator, self.per) {
            (None, _) => top.to_owned(),
            (Some((_, d)), Some(per)) => format!("{top}/{}/{}", d.trade, per.trade),
            (Some((1.0, d)), None) => format!("{top}/{}", d.trade),
            (Some((count, d)), None) => format!("{top}/{} {}", shortest(count), d.trade),
        }
    }

    /// The definitions and sources behind it, numerator first.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::Target;
    /// let unit = Target::parse("tsp/gal").unwrap().unit();
    /// assert_eq!(unit.definitions().next().unwrap().definition, "1/6 US fluid ounce");
    /// ```
    pub fn definitions(&self) -> impl Iterator<Item = &'static UnitDef> {
        core::iter::once(self.numerator).chain(self.denominator.map(|(_, d)| d)).chain(self.per)
    }

    /// The value in SI base units of the dimension.
    pub(crate) fn to_si(self, number: f64) -> f64 {
        let top = (number + self.numerator.shift) * self.numerator.scale;
        match self.denominator {
            None => top,
            Some(_) => top / self.divisor(),
        }
    }

    /// What the numerator is divided by, in SI base units.
    fn divisor(self) -> f64 {
        self.denominator.map_or(1.0, |(count, d)| count * d.scale)
            * self.per.map_or(1.0, |per| per.scale)
    }

    /// The number in this unit of a value in SI base units.
    pub(crate) fn of_si(self, value: f64) -> f64 {
        let top = match self.denominator {
            None => value,
            Some(_) => value * self.divisor(),
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
