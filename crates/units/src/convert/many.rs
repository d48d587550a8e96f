//! Many conversions of the same few kinds.

mod number;
mod seen;

use super::{Asked, Convert, ConvertRequest, DIGITS, Notes, Written, basis, says, to};
use crate::error::UnitError;
use crate::round::{Decimal, decimal, significant};
use crate::text::{PpmMeaning, Quantity, Subject, Unit, check_range};
use number::{number_and_words, number_first};
use seen::Seen;
use std::collections::HashMap;
use std::hash::{BuildHasherDefault, DefaultHasher};

/// Kinds that are remembered; the columns of a table have a handful.
const MOST_KINDS: usize = 1024;

/// Converts many quantities: what their units mean is read once and remembered, so that a row
/// costs little more than its arithmetic. The answers are those of [`convert`](super::convert).
///
/// ```
/// use guardcell_units::convert::{ConvertRequest, Converter};
/// let mut converter = Converter::default();
/// let mut request = ConvertRequest { to: "ppm P".to_owned(), ..ConvertRequest::default() };
/// for (written, wanted) in [("120 ppm P2O5", 52.37144488), ("10 ppm P2O5", 4.364287073)] {
///     request.quantity = written.to_owned();
///     let answer = converter.convert(&request)?;
///     assert_eq!((answer.value(), answer.unit()), (wanted, "mg/L"));
/// }
/// # Ok::<(), guardcell_units::UnitError>(())
/// ```
#[derive(Debug, Default)]
pub struct Converter {
    // Without random keys: the same rows take the same way on every run.
    places: HashMap<String, usize, BuildHasherDefault<DefaultHasher>>,
    kinds: Vec<Kind>,
    key: String,
    /// The last conversion that is not remembered.
    once: Option<Kind>,
    /// How many kinds have been forgotten.
    forgotten: u64,
    seen: Seen,
    request: ConvertRequest,
}

/// Where a kind is.
enum Place {
    Known(usize),
    Once(Box<Kind>),
}

/// What is the same for all conversions that differ in their number only.
#[derive(Debug)]
struct Kind {
    asked: Asked,
    answer: (Unit, Subject),
    unit: String,
    basis: Option<String>,
    notes: Notes,
}

impl Kind {
    fn new(asked: Asked, answer: &Quantity, notes: Notes) -> Self {
        Self {
            asked,
            answer: (answer.unit(), answer.subject()),
            unit: answer.unit().code(),
            basis: basis(answer),
            notes,
        }
    }

    /// The answer for another number, where that is of the same kind.
    fn again(&self, number: f64) -> Option<(Quantity, Quantity)> {
        let read = self.asked.quantity;
        check_range(number, read.unit(), read.subject()).ok()?;
        let quantity = read.with(number, read.unit(), read.subject());
        let answer =
            to(&quantity, &self.asked.target, &self.asked.context, &mut Notes::silent()).ok()?;
        let same = (answer.unit(), answer.subject()) == self.answer;
        (same && answer.number().is_finite()).then_some((quantity, answer))
    }
}

/// One conversion of a [`Converter`]: the number at once, the words when they are asked for.
#[derive(Debug, Clone, Copy)]
pub struct Conversion<'c> {
    kind: &'c Kind,
    number: Option<u64>,
    quantity: Quantity,
    answer: Quantity,
}

impl Conversion<'_> {
    /// The number in [`Conversion::unit`], to ten significant digits, as in [`Convert::value`].
    ///
    /// ```
    /// use guardcell_units::convert::{ConvertRequest, Converter};
    /// let request = ConvertRequest { quantity: "2 kg".into(), to: "g".into(), ..Default::default() };
    /// assert_eq!(Converter::default().convert(&request)?.value(), 2000.0);
    /// # Ok::<(), guardcell_units::UnitError>(())
    /// ```
    #[must_use]
    pub fn value(&self) -> f64 {
        significant(self.answer.number(), DIGITS)
    }

    /// The decimals of [`Conversion::value`] where they are at hand, see [`decimal`].
    ///
    /// ```
    /// use guardcell_units::convert::Converter;
    /// let mut converter = Converter::default();
    /// let decimal = converter.convert_texts("2.5 kg", "g")?.decimal().unwrap();
    /// assert_eq!((decimal.digits, decimal.places), (2_500_000_000, 6));
    /// # Ok::<(), guardcell_units::UnitError>(())
    /// ```
    #[must_use]
    pub fn decimal(&self) -> Option<Decimal> {
        decimal(self.answer.number(), DIGITS)
    }

    /// Which of the kinds that its [`Converter`] remembers it is of: those of the same kind have
    /// the same unit, basis and notes. None where it is not remembered.
    ///
    /// ```
    /// use guardcell_units::convert::Converter;
    /// let mut converter = Converter::default();
    /// let first = converter.convert_texts("2 kg", "g")?.kind();
    /// let other = converter.convert_texts("2 L", "mL")?.kind();
    /// let again = converter.convert_texts("3 kg", "g")?.kind();
    /// assert!(first == again && first != other && first.is_some());
    /// # Ok::<(), guardcell_units::UnitError>(())
    /// ```
    #[must_use]
    pub fn kind(&self) -> Option<u64> {
        self.number
    }

    /// The unit code, as in [`Convert::unit`].
    ///
    /// ```
    /// use guardcell_units::convert::{ConvertRequest, Converter};
    /// let request = ConvertRequest { quantity: "2 kg".into(), to: "g".into(), ..Default::default() };
    /// assert_eq!(Converter::default().convert(&request)?.unit(), "g");
    /// # Ok::<(), guardcell_units::UnitError>(())
    /// ```
    #[must_use]
    pub fn unit(&self) -> &str {
        &self.kind.unit
    }

    /// What it is counted as or read on, as in [`Convert::basis`].
    ///
    /// ```
    /// use guardcell_units::convert::{ConvertRequest, Converter};
    /// let request =
    ///     ConvertRequest { quantity: "9 ppm K2O".into(), to: "ppm K".into(), ..Default::default() };
    /// assert_eq!(Converter::default().convert(&request)?.basis(), Some("K"));
    /// # Ok::<(), guardcell_units::UnitError>(())
    /// ```
    #[must_use]
    pub fn basis(&self) -> Option<&str> {
        self.kind.basis.as_deref()
    }

    /// What was assumed or has to be known, as in [`Convert::notes`].
    ///
    /// ```
    /// use guardcell_units::convert::{ConvertRequest, Converter};
    /// let request =
    ///     ConvertRequest { quantity: "9 ppm K2O".into(), to: "ppm K".into(), ..Default::default() };
    /// assert!(Converter::default().convert(&request)?.notes()[0].contains("1 L weighs 1 kg"));
    /// # Ok::<(), guardcell_units::UnitError>(())
    /// ```
    #[must_use]
    pub fn notes(&self) -> &[String] {
        &self.kind.notes.notes
    }

    /// The whole answer.
    ///
    /// ```
    /// use guardcell_units::convert::{ConvertRequest, Converter, convert};
    /// let request =
    ///     ConvertRequest { quantity: "9 ppm K2O".into(), to: "ppm K".into(), ..Default::default() };
    /// let whole = Converter::default().convert(&request)?.whole();
    /// assert_eq!(whole, convert(&request)?);
    /// # Ok::<(), guardcell_units::UnitError>(())
    /// ```
    #[must_use]
    pub fn whole(&self) -> Convert {
        Convert {
            value: self.value(),
            unit: self.kind.unit.clone(),
            basis: self.kind.basis.clone(),
            kind: self.answer.dimension().name().to_owned(),
            says: says(&self.quantity, &self.answer),
            from: Written {
                value: self.quantity.number(),
                unit: self.quantity.unit().code(),
                basis: basis(&self.quantity),
                kind: self.quantity.dimension().name().to_owned(),
            },
            notes: self.kind.notes.notes.clone(),
            sources: self.kind.notes.sources.clone(),
        }
    }
}

impl Converter {
    /// Converts a quantity.
    ///
    /// # Errors
    /// Those of [`convert`](super::convert).
    ///
    /// ```
    /// use guardcell_units::convert::{ConvertRequest, Converter};
    /// let mut converter = Converter::default();
    /// let request = ConvertRequest { quantity: "3".into(), to: "g".into(), ..Default::default() };
    /// assert!(converter.convert(&request).is_err());
    /// ```
    pub fn convert(&mut self, request: &ConvertRequest) -> Result<Conversion<'_>, UnitError> {
        let (place, quantity, answer) = self.find(request)?;
        Ok(self.conversion(place, quantity, answer))
    }

    /// The place of the kind, what was asked and the answer.
    fn find(&mut self, request: &ConvertRequest) -> Result<(Place, Quantity, Quantity), UnitError> {
        let first = number_first(&request.quantity);
        if let Some((number, words)) = first {
            self.set_key(request, words);
            if let Some(place) = self.places.get(&self.key).copied()
                && let Some((quantity, answer)) =
                    self.kinds.get(place).and_then(|k| k.again(number))
            {
                return Ok((Place::Known(place), quantity, answer));
            }
        }
        let asked = Asked::read(request)?;
        let (answer, notes) = asked.answer(request)?;
        let kind = Kind::new(asked, &answer, notes);
        let same = |number: f64| asked.quantity.number().to_bits() == number.to_bits();
        let place = if first.is_some_and(|(number, _)| same(number)) {
            Place::Known(self.remember(kind))
        } else {
            Place::Once(Box::new(kind))
        };
        Ok((place, asked.quantity, answer))
    }

    /// Converts a quantity by two texts and no more.
    ///
    /// # Errors
    /// Those of [`convert`](super::convert).
    ///
    /// ```
    /// use guardcell_units::convert::Converter;
    /// let mut converter = Converter::default();
    /// assert_eq!(converter.convert_texts("2 kg", "g")?.value(), 2000.0);
    /// assert!(converter.convert_texts("2 kg", "mL").is_err());
    /// # Ok::<(), guardcell_units::UnitError>(())
    /// ```
    pub fn convert_texts(&mut self, quantity: &str, to: &str) -> Result<Conversion<'_>, UnitError> {
        let parts = number_and_words(quantity);
        if let Some((number, words)) = parts
            && let Some(place) = self.seen.place(words, to)
            && let Some((quantity, answer)) = self.kinds.get(place).and_then(|k| k.again(number))
        {
            return Ok(self.conversion(Place::Known(place), quantity, answer));
        }
        let mut request = std::mem::take(&mut self.request);
        quantity.clone_into(&mut request.quantity);
        to.clone_into(&mut request.to);
        let found = self.find(&request);
        self.request = request;
        let (place, quantity, answer) = found?;
        if let (Place::Known(place), Some((_, words))) = (&place, parts) {
            self.seen.put(words, to, *place);
        }
        Ok(self.conversion(place, quantity, answer))
    }

    /// With the kind that is remembered, or with the one of this time.
    fn conversion(&mut self, of: Place, quantity: Quantity, answer: Quantity) -> Conversion<'_> {
        match of {
            Place::Known(place) => Conversion {
                // The place is one that was found or made just now.
                kind: &self.kinds[place],
                number: Some(self.forgotten + place as u64),
                quantity,
                answer,
            },
            Place::Once(kind) => {
                Conversion { kind: self.once.insert(*kind), number: None, quantity, answer }
            }
        }
    }

    /// Remembers a kind under the key that is set, and says where.
    fn remember(&mut self, kind: Kind) -> usize {
        if self.kinds.len() >= MOST_KINDS {
            self.forgotten += self.kinds.len() as u64;
            self.kinds.clear();
            self.places.clear();
            self.seen.clear();
        }
        let place = self.kinds.len();
        self.kinds.push(kind);
        self.places.insert(self.key.clone(), place);
        place
    }

    /// Everything of a request but its number.
    fn set_key(&mut self, request: &ConvertRequest, words: &str) {
        self.key.clear();
        self.key.push_str(words);
        self.key.push('\n');
        self.key.push_str(&request.to);
        let plain = request.bulk_density.is_none()
            && request.ec_compensation.is_none()
            && request.ec_percent_per_k.is_none()
            && request.ppm_means.is_none();
        if plain {
            return;
        }
        let ppm = request.ppm_means.map(|p: PpmMeaning| p as u8);
        let way = request.ec_compensation.map(|w| w as u8);
        let percent = request.ec_percent_per_k.map(f64::to_bits);
        self.key.push_str(&format!("\n{ppm:?} {way:?} {percent:?} {:?}", request.bulk_density));
    }
}

#[cfg(test)]
mod tests;
