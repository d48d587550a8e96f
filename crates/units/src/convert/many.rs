//! Many conversions of the same few kinds.

use super::{Asked, Convert, ConvertRequest, DIGITS, Notes, Written, basis, says, to};
use crate::error::UnitError;
use crate::round::significant;
use crate::text::{PpmMeaning, Quantity, Subject, Unit, check_range};
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
        let Some((number, words)) = number_first(&request.quantity) else {
            return self.anew(request);
        };
        self.set_key(request, words);
        let known = self.places.get(&self.key).copied().and_then(|place| {
            let (quantity, answer) = self.kinds.get(place)?.again(number)?;
            Some((place, quantity, answer))
        });
        let (place, quantity, answer) = match known {
            Some(known) => known,
            None => {
                let asked = Asked::read(request)?;
                let (answer, notes) = asked.answer(request)?;
                let kind = Kind::new(asked, &answer, notes);
                if asked.quantity.number().to_bits() != number.to_bits() {
                    return Ok(self.keep_once(kind, answer));
                }
                (self.remember(kind), asked.quantity, answer)
            }
        };
        // The place is one that was found or made just now.
        Ok(Conversion { kind: &self.kinds[place], quantity, answer })
    }

    /// Remembers a kind under the key that is set, and says where.
    fn remember(&mut self, kind: Kind) -> usize {
        if self.kinds.len() >= MOST_KINDS {
            self.kinds.clear();
            self.places.clear();
        }
        let place = self.kinds.len();
        self.kinds.push(kind);
        self.places.insert(self.key.clone(), place);
        place
    }

    fn anew(&mut self, request: &ConvertRequest) -> Result<Conversion<'_>, UnitError> {
        let asked = Asked::read(request)?;
        let (answer, notes) = asked.answer(request)?;
        Ok(self.keep_once(Kind::new(asked, &answer, notes), answer))
    }

    fn keep_once(&mut self, kind: Kind, answer: Quantity) -> Conversion<'_> {
        let quantity = kind.asked.quantity;
        Conversion { kind: self.once.insert(kind), quantity, answer }
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

/// A plain decimal number at the beginning of a text and the words behind it, where these mean the
/// same behind any other number.
fn number_first(text: &str) -> Option<(f64, &str)> {
    let text = text.trim_matches(' ');
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.')?;
    let (number, rest) = text.split_at(end);
    let words = rest.trim_start_matches(' ');
    let whole = number.split('.').next().unwrap_or_default();
    let points = number.bytes().filter(|b| *b == b'.').count();
    if whole.is_empty() || points > 1 || number.ends_with('.') {
        return None;
    }
    let first = words.chars().next()?;
    if !(first.is_alphabetic() || matches!(first, '°' | '%')) || words.contains('\n') {
        return None;
    }
    // 5e3 is a number; 500 scale is the scale of a meter, and 1 in 100 an injector ratio.
    let exponent = words.len() == rest.len() && matches!(first, 'e' | 'E');
    let begins =
        |word: &str| words.get(..word.len()).is_some_and(|start| start.eq_ignore_ascii_case(word));
    let ratio = begins("in") && words.bytes().any(|b| b.is_ascii_digit());
    if exponent || begins("scale") || ratio {
        return None;
    }
    Some((number.parse().ok()?, words))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::convert::{EcCompensation, convert};
    use proptest::prelude::*;

    fn words() -> impl Strategy<Value = String> {
        let known = prop::sample::select(vec![
            "ppm P2O5",
            "ppm N",
            "ppm",
            "ppm K",
            "mg/L Ca",
            "°dH",
            "mS/cm at 18 °C",
            "mS/cm",
            "ppm meter 500",
            "meter 500 ppm",
            "ppm 500 scale",
            "scale",
            "scale 350 ppm",
            "tsp",
            "g",
            "kg",
            "lb",
            "oz/100 gal",
            "tsp/gal",
            "% N",
            "% RH",
            "% w/v",
            "%",
            "°C",
            "F",
            "K difference",
            "in",
            "in 100",
            "in 100 parts",
            "1/2 tsp",
            "e3 mg",
            "E2 g",
            ":100",
            "mmol/L",
            "meq/L",
            "mg/L",
            "mg/L feed",
            "gal",
            "us gal",
            "foo",
            "C",
            "hPa",
            "psi",
            "mg/L CaCO3",
            "mg/L CaCO3 alkalinity",
            "meq/L hardness",
            "500",
            "NO3-N mg/L",
        ]);
        prop_oneof![9 => known.prop_map(str::to_owned), 1 => "[a-zA-Z0-9%°/.: ]{0,8}"]
    }

    fn numbers() -> impl Strategy<Value = String> {
        prop_oneof![
            3 => (0_u32..100_000).prop_map(|n| format!("{}", f64::from(n) / 100.0)),
            1 => prop::sample::select(vec![
                "1", "0", "100", "101", "500", "700", "-5", "1.", ".5", "1,5", "1 1/2", "½",
                "1e3", "007", "1.2.3", "99999999999999999999999999", "1 000", "+3", "36",
            ]).prop_map(str::to_owned),
        ]
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        /// Whatever was converted before, the answer and the error are those of `convert`.
        #[test]
        fn as_convert_says(
            rows in prop::collection::vec(
                (numbers(), words(), words(), "[ ]{0,2}", any::<Option<bool>>()), 1..16),
        ) {
            let mut converter = Converter::default();
            for (number, unit, to, blank, more) in rows {
                let request = ConvertRequest {
                    quantity: format!("{number}{blank}{unit}"),
                    to,
                    bulk_density: (more == Some(true)).then(|| "0.9 g/mL".to_owned()),
                    ec_compensation: (more == Some(false)).then_some(EcCompensation::NaturalWater),
                    ppm_means: more.map(|m| if m { PpmMeaning::N } else { PpmMeaning::Meter500 }),
                    ..ConvertRequest::default()
                };
                // Twice: read and remembered.
                for _ in 0..2 {
                    let many = converter.convert(&request).map(|c| c.whole());
                    prop_assert_eq!(&many, &convert(&request), "{:?}", request);
                }
            }
        }
    }

    #[test]
    fn what_is_remembered_is_bounded() {
        let mut converter = Converter::default();
        for n in 1..1200 {
            let request = ConvertRequest {
                quantity: "5 mg/L N".to_owned(),
                to: format!("oz/{n} gal N"),
                ..ConvertRequest::default()
            };
            assert!(converter.convert(&request).is_ok());
            assert!(converter.kinds.len() <= MOST_KINDS);
        }
    }

    #[test]
    fn texts_that_start_with_a_plain_number() {
        assert_eq!(number_first(" 1.5 mg/L N "), Some((1.5, "mg/L N")));
        assert_eq!(number_first("15mL"), Some((15.0, "mL")));
        for other in ["1e3 mg", "1/2 tsp", "1:100", "1 in 100", "500 scale", "5", "", "1,5 L"] {
            assert_eq!(number_first(other), None, "{other}");
        }
    }
}
