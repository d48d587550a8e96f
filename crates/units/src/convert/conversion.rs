//! One conversion, and the same for other numbers.

use super::context::Context;
use super::notes::Notes;
use super::request::{ConvertRequest, ConvertResponse, ReadQuantity};
use super::route;
use crate::dimension::Dimension as D;
use crate::fault;
use crate::round::{shortest, significant};
use crate::text::{Quantity, Subject, Target, check_range};
use guardcell_call::Bounded;
use guardcell_error::{Code, Error};

/// Significant digits of an answer: more than any scale or meter gives, and few enough that the
/// rounding of binary numbers never shows.
const DIGITS: u8 = 10;

/// Converts a quantity.
///
/// # Errors
/// When a text cannot be read (with its column and the JSON Pointer of the field), when the kinds
/// do not convert (with the reason and what to do), or when a density or light source is missing.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::{ConvertRequest, convert};
/// let answer = convert(&ConvertRequest::new("120 ppm P2O5", "ppm P"))?;
/// assert!((answer.value - 52.37).abs() < 0.01);
/// assert_eq!((answer.unit.as_str(), answer.basis.as_deref()), ("mg/L", Some("P")));
/// # Ok::<(), guardcell::units::Error>(())
/// ```
pub fn convert(request: &ConvertRequest) -> Result<ConvertResponse, Error> {
    let conversion = Conversion::new(request)?;
    Ok(conversion.respond(&conversion.quantity, &conversion.answer))
}

/// A conversion whose texts have been read, for many numbers of the same unit.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::ConvertRequest;
/// use guardcell::units::convert::Conversion;
/// let degrees = Conversion::new(&ConvertRequest::new("14 °dH", "mg/L CaCO3"))?;
/// let column = [8.0, 14.0].map(|n| degrees.value(n).unwrap());
/// assert!((column[0] - 142.8).abs() < 0.05 && (column[1] - 249.9).abs() < 0.05);
/// # Ok::<(), guardcell::units::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct Conversion {
    quantity: Quantity,
    target: Target,
    context: Context,
    answer: Quantity,
    notes: Notes,
}

impl Conversion {
    /// Reads the texts of a request.
    ///
    /// # Errors
    /// Those of [`convert`].
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::ConvertRequest;
    /// use guardcell::units::convert::Conversion;
    /// assert!(Conversion::new(&ConvertRequest::new("2 kg", "mL")).is_err());
    /// ```
    pub fn new(request: &ConvertRequest) -> Result<Self, Error> {
        // Both refuse long texts before reading them.
        let quantity = Quantity::parse_with(&request.quantity, request.ppm_means)
            .map_err(|e| e.at("/quantity"))?;
        let target = Target::parse(&request.to).map_err(|e| e.at("/to"))?;
        request.check_bounds()?;
        let context = Context::read(request)?;
        let mut notes = Notes::default();
        let answer = answer(&quantity, &target, &context, &mut notes)?;
        notes.about(request, &quantity, &answer);
        Ok(Self { quantity, target, context, answer, notes })
    }

    /// The number of the request.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::ConvertRequest;
    /// use guardcell::units::convert::Conversion;
    /// assert_eq!(Conversion::new(&ConvertRequest::new("1 1/2 kg", "g"))?.number(), 1.5);
    /// # Ok::<(), guardcell::units::Error>(())
    /// ```
    #[must_use]
    pub fn number(&self) -> f64 {
        self.quantity.number()
    }

    /// The answer for another number of the unit of the request, to ten significant digits, in the
    /// unit of [`Conversion::response`].
    ///
    /// # Errors
    /// When the quantity cannot have this number, such as −1 g.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::ConvertRequest;
    /// use guardcell::units::convert::Conversion;
    /// let kilograms = Conversion::new(&ConvertRequest::new("1 kg", "g"))?;
    /// assert_eq!(kilograms.value(2.5)?, 2500.0);
    /// assert!(kilograms.value(-1.0).is_err());
    /// # Ok::<(), guardcell::units::Error>(())
    /// ```
    pub fn value(&self, number: f64) -> Result<f64, Error> {
        Ok(significant(self.at(number)?.1.number(), DIGITS))
    }

    /// The whole answer for another number of the unit of the request.
    ///
    /// # Errors
    /// As [`Conversion::value`].
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::ConvertRequest;
    /// use guardcell::units::convert::Conversion;
    /// let answer = Conversion::new(&ConvertRequest::new("1 kg", "g"))?.response(3.0)?;
    /// assert_eq!(answer.message, "3 kg = 3000 g");
    /// # Ok::<(), guardcell::units::Error>(())
    /// ```
    pub fn response(&self, number: f64) -> Result<ConvertResponse, Error> {
        let (quantity, answer) = self.at(number)?;
        Ok(self.respond(&quantity, &answer))
    }

    fn at(&self, number: f64) -> Result<(Quantity, Quantity), Error> {
        let (unit, subject) = (self.quantity.unit(), self.quantity.subject());
        check_range(number, unit, subject).map_err(|e| e.at("/quantity"))?;
        let quantity = self.quantity.with(number, unit, subject);
        let answer = answer(&quantity, &self.target, &self.context, &mut Notes::silent())?;
        Ok((quantity, answer))
    }

    fn respond(&self, quantity: &Quantity, answer: &Quantity) -> ConvertResponse {
        ConvertResponse {
            value: significant(answer.number(), DIGITS),
            unit: answer.unit().code(),
            basis: basis(answer),
            kind: answer.dimension(),
            message: format!("{} = {}", quantity.rounded(), answer.readable()),
            from: ReadQuantity {
                value: quantity.number(),
                unit: quantity.unit().code(),
                basis: basis(quantity),
                kind: quantity.dimension(),
            },
            notes: self.notes.notes.clone(),
            sources: self.notes.sources.clone(),
        }
    }
}

/// The converted quantity; an error points to the field that has to change.
fn answer(
    quantity: &Quantity,
    target: &Target,
    context: &Context,
    notes: &mut Notes,
) -> Result<Quantity, Error> {
    let answer = route::to(quantity, target, context, notes).map_err(|e| {
        let pointer = match e.code() {
            Code::AmbiguousPpm | Code::NotConvertible => "/to",
            Code::NeedsBulkDensity => "/bulk_density",
            Code::NeedsDensity => "/density",
            Code::NeedsLightSource => "/light_source",
            _ => "/quantity",
        };
        e.at(pointer)
    })?;
    if !answer.number().is_finite() {
        let value = format!("not a number that fits {}", answer.unit().code());
        return Err(fault::out_of_range("the answer", &value, "a smaller quantity").at("/quantity"));
    }
    Ok(answer)
}

/// What the number is counted as or read on.
fn basis(q: &Quantity) -> Option<String> {
    match q.subject() {
        Subject::Plain => match q.dimension() {
            D::Conductivity => Some("at 25 °C".to_owned()),
            _ => None,
        },
        Subject::Hardness(None) => Some("hardness".to_owned()),
        Subject::Alkalinity(None) => Some("alkalinity".to_owned()),
        Subject::Feed => Some("feed".to_owned()),
        Subject::Meter(scale) => Some(format!("meter {scale}")),
        Subject::ReadAt { number, unit } => Some(format!("at {} {}", shortest(number), unit.trade)),
        Subject::Humidity => Some("RH".to_owned()),
        Subject::Difference => Some("difference".to_owned()),
        other => other.basis().map(|b| b.symbol.to_owned()),
    }
}
