//! Reading texts into quantities and targets.

use super::quantity::{PpmMeaning, Quantity, Subject, Target};
use super::unit::Unit;
use super::{lookup, read, resolve};
use crate::dimension::Dimension;
use crate::fault;
use core::str::FromStr;
use guardcell_error::Error;

impl Quantity {
    /// Reads what people write: number and unit in any order, fractions, decimal commas,
    /// Unicode signs, UCUM codes.
    ///
    /// # Errors
    /// With the column in the text. A bare ppm is an error whose hint lists its meanings.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::Quantity;
    /// for text in ["150ppm N", "1,4 mS/cm", "°dGH 8", "350 ppm meter 500", "1 1/2 oz/100 gal"] {
    ///     assert!(Quantity::parse(text).is_ok(), "{text}");
    /// }
    /// assert!(Quantity::parse("1,400 mg/L N").is_err());
    /// ```
    pub fn parse(text: &str) -> Result<Self, Error> {
        Self::parse_with(text, None)
    }

    /// The same, with the meaning of a bare ppm that the grower has set.
    ///
    /// # Errors
    /// As [`Quantity::parse`], except that a bare ppm is read when `ppm` is given.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::{PpmMeaning, Quantity};
    /// let q = Quantity::parse_with("300 ppm", Some(PpmMeaning::Feed)).unwrap();
    /// assert_eq!(q.trade().to_string(), "300 mg/L feed");
    /// ```
    pub fn parse_with(text: &str, ppm: Option<PpmMeaning>) -> Result<Self, Error> {
        resolve::quantity(&read::read(text)?, ppm, None)
    }

    pub(crate) fn parse_for(text: &str, expected: Dimension) -> Result<Self, Error> {
        resolve::quantity(&read::read(text)?, None, Some(expected))
    }
}

impl FromStr for Quantity {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        Self::parse(text)
    }
}

impl Target {
    /// Reads a target unit.
    ///
    /// # Errors
    /// As [`Quantity::parse`]; a number other than a temperature or scale is an error. A bare
    /// `ppm` is accepted: the quantity that is converted may say of what.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::Target;
    /// assert_eq!(Target::parse("ppm P").unwrap().unit().code(), "mg/L");
    /// ```
    pub fn parse(text: &str) -> Result<Self, Error> {
        let compact: String = text.chars().filter(|c| !c.is_whitespace()).take(8).collect();
        let injector = match compact.as_str() {
            "1:N" | "1inN" | "1:n" | "1inn" => lookup::by_code("1:N"),
            "1+N" | "1+n" => lookup::by_code("1+N"),
            _ => None,
        };
        if let Some(def) = injector {
            return Ok(Self { unit: Unit::single(def), subject: Subject::Plain });
        }
        let mut reading = read::read(text)?;
        // In a target the only number beside "meter" or ppm is the scale.
        let ppm = reading.unit.as_ref().is_some_and(|u| u.is.dimension() == Dimension::Ppm);
        if (reading.meter.is_some() || ppm) && reading.scale.is_none() {
            reading.scale_from_number();
        }
        if let Some(number) = &reading.number {
            return Err(fault::unwanted_number(&number.text).at_column(number.column));
        }
        resolve::target(&reading)
    }
}
