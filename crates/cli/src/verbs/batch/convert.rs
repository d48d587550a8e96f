//! Conversions of a table: the same few units row after row.

use super::cells::{self, Row as _, Tree};
use super::columns;
use super::function::Table;
use guardcell::Error;
use guardcell::units::ConvertRequest;
use guardcell::units::convert::Conversion;
use std::collections::HashMap;
use std::sync::Arc;

/// Pairs of units that are remembered; the columns of a table have a handful.
const MOST: usize = 1024;

/// A column of the answer that depends on the number or on the units only.
#[derive(Clone, Copy)]
enum Quick {
    Value,
    Unit,
    Basis,
    Notes,
}

fn quick(path: &str) -> Option<Quick> {
    match path {
        "value" => Some(Quick::Value),
        "unit" => Some(Quick::Unit),
        "basis" => Some(Quick::Basis),
        "notes" => Some(Quick::Notes),
        _ => None,
    }
}

/// Answers rows, with the columns named.
pub(crate) fn rows(paths: Arc<[String]>) -> Table {
    let quick: Option<Vec<Quick>> = paths.iter().map(|path| quick(path)).collect();
    Box::new(move || {
        let paths = Arc::clone(&paths);
        let mut known =
            Known { quick: quick.clone(), by_units: HashMap::new(), key: String::new() };
        let mut places: Option<Option<(usize, usize)>> = None;
        Box::new(move |tree, cells, out| {
            // The columns stay where they are.
            let places = *places.get_or_insert_with(|| two_texts(tree));
            let texts =
                places.and_then(|(quantity, to)| Some((cells.cell(quantity)?, cells.cell(to)?)));
            if let Some((quantity, to)) = texts {
                if known.write(quantity, to, &paths, out)? {
                    return Ok(());
                }
                return known.first(&ConvertRequest::new(quantity, to), &paths, out);
            }
            known.any(cells::read(tree, cells)?, &paths, out)
        })
    })
}

/// The columns of quantity and target, if the table has no others.
fn two_texts(tree: &Tree) -> Option<(usize, usize)> {
    (tree.len() == 2).then_some((tree.column("quantity")?, tree.column("to")?))
}

/// Conversions already read, by everything in the request but the number.
struct Known {
    quick: Option<Vec<Quick>>,
    by_units: HashMap<String, Kind>,
    key: String,
}

/// What all answers of the same units share.
struct Kind {
    conversion: Conversion,
    text: Vec<u8>,
    /// Where in the text the values are inserted.
    values: Vec<usize>,
}

impl Known {
    /// A request with other columns than the two texts.
    fn any(
        &mut self,
        request: ConvertRequest,
        paths: &[String],
        out: &mut Vec<u8>,
    ) -> Result<(), Error> {
        let mut units = request.clone();
        let number = number_first(&request.quantity).map(|(number, words)| {
            units.quantity = words.to_owned();
            number
        });
        units.to.push('\n');
        self.key = serde_json::to_string(&units).unwrap_or_default();
        match (number, self.by_units.get(&self.key)) {
            (Some(number), Some(kind)) => kind.write(number, self.quick.is_some(), paths, out),
            _ => self.first(&request, paths, out),
        }
    }

    /// Writes the answer where the units are known; says whether they are.
    fn write(
        &mut self,
        quantity: &str,
        to: &str,
        paths: &[String],
        out: &mut Vec<u8>,
    ) -> Result<bool, Error> {
        self.key.clear();
        let Some((number, words)) = number_first(quantity) else { return Ok(false) };
        self.key.push_str(words);
        self.key.push('\n');
        self.key.push_str(to);
        let Some(kind) = self.by_units.get(&self.key) else { return Ok(false) };
        kind.write(number, self.quick.is_some(), paths, out)?;
        Ok(true)
    }

    /// Answers a request and remembers its units under the key that is set.
    fn first(
        &mut self,
        request: &ConvertRequest,
        paths: &[String],
        out: &mut Vec<u8>,
    ) -> Result<(), Error> {
        let number = number_first(&request.quantity).map(|(number, _)| number);
        let conversion = Conversion::new(request)?;
        let read = conversion.number();
        let kind = Kind::new(self.quick.as_deref().unwrap_or_default(), conversion)?;
        kind.write(read, self.quick.is_some(), paths, out)?;
        if number == Some(read) && !self.key.is_empty() {
            if self.by_units.len() >= MOST {
                self.by_units.clear();
            }
            self.by_units.insert(self.key.clone(), kind);
        }
        Ok(())
    }
}

impl Kind {
    fn new(columns: &[Quick], conversion: Conversion) -> Result<Self, Error> {
        let answer = conversion.response(conversion.number())?;
        let (mut text, mut values) = (Vec::new(), Vec::new());
        for column in columns {
            text.push(b',');
            match column {
                Quick::Value => values.push(text.len()),
                Quick::Unit => columns::text(&answer.unit, &mut text),
                Quick::Basis => columns::text(answer.basis.as_deref().unwrap_or(""), &mut text),
                Quick::Notes => columns::text(&answer.notes.join(columns::BETWEEN), &mut text),
            }
        }
        Ok(Self { conversion, text, values })
    }

    fn write(
        &self,
        number: f64,
        quick: bool,
        paths: &[String],
        out: &mut Vec<u8>,
    ) -> Result<(), Error> {
        if !quick {
            let answer = self.conversion.response(number)?;
            return columns::write_all(&answer, paths, out);
        }
        let value = self.conversion.value(number)?;
        let mut from = 0;
        for place in &self.values {
            out.extend_from_slice(self.text.get(from..*place).unwrap_or_default());
            from = *place;
            columns::number(value, out)?;
        }
        out.extend_from_slice(self.text.get(from..).unwrap_or_default());
        Ok(())
    }
}

/// A plain decimal number at the beginning of a text and the words behind it, where these mean the
/// same behind any other number.
fn number_first(text: &str) -> Option<(f64, &str)> {
    let text = text.trim_matches(' ');
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    if !digits.starts_with(|c: char| c.is_ascii_digit()) || digits.ends_with('.') {
        return None;
    }
    let words = rest.trim_start_matches(' ');
    // 5e3 is a number.
    if words.len() == rest.len() && words.starts_with(['e', 'E']) {
        return None;
    }
    let first = words.chars().next()?;
    if !(first.is_alphabetic() || matches!(first, '°' | '%' | '‰')) || words.contains('\n') {
        return None;
    }
    // 500 scale is the scale of a meter, and 1 in 100 an injector ratio.
    let begins =
        |word: &str| words.get(..word.len()).is_some_and(|start| start.eq_ignore_ascii_case(word));
    let ratio = begins("in") && words.bytes().any(|b| b.is_ascii_digit());
    let number = digits.parse().ok()?;
    (!begins("scale") && !ratio).then_some((number, words))
}

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell::units::{ConvertResponse, convert};
    use proptest::prelude::*;

    fn words() -> impl Strategy<Value = String> {
        let known = prop::sample::select(vec![
            "ppm P2O5",
            "ppm N",
            "ppm",
            "mg/L Ca",
            "°dH",
            "mS/cm at 18 °C",
            "mS/cm",
            "CF",
            "ppm meter 500",
            "meter 500 ppm",
            "scale 350 ppm",
            "tsp",
            "g",
            "oz/100 gal",
            "% N",
            "% RH",
            "% w/v",
            "%",
            "‰",
            "°C",
            "F",
            "K difference",
            "in",
            "in 100",
            "1/2 tsp",
            "e3 mg",
            ":100",
            "mmol/L",
            "meq/L",
            "mg/L feed",
            "gal",
            "foo",
            "hPa",
            "lux",
            "umol/m2/s",
            "mg/L CaCO3",
            "mg/L CaCO3 alkalinity",
            "500",
            "NO3-N mg/L",
            "drops",
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

    fn written(answer: &ConvertResponse, paths: &[String]) -> Vec<u8> {
        let mut out = Vec::new();
        columns::write_all(answer, paths, &mut out).unwrap();
        out
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        /// Whatever was converted before, the answer and the error are those of `convert`.
        #[test]
        fn answers_do_not_depend_on_earlier_rows(
            rows in prop::collection::vec(
                (numbers(), words(), words(), "[ ]{0,2}", any::<bool>()), 1..16),
            quick_columns in any::<bool>(),
        ) {
            let paths: Vec<String> = if quick_columns {
                ["value", "unit", "basis", "notes"].map(str::to_owned).into()
            } else {
                ["value", "message", "from.unit"].map(str::to_owned).into()
            };
            let quick = paths.iter().map(|path| quick(path)).collect();
            let mut known = Known { quick, by_units: HashMap::new(), key: String::new() };
            for (number, unit, to, blank, density) in rows {
                let quantity = format!("{number}{blank}{unit}");
                let mut request = ConvertRequest::new(&quantity, &to);
                if density {
                    request = request.with_bulk_density("0.9 g/mL");
                }
                let wanted = convert(&request).map(|a| written(&a, &paths));
                // Twice: read and remembered.
                for _ in 0..2 {
                    let mut out = Vec::new();
                    let got = if density {
                        known.any(request.clone(), &paths, &mut out)
                    } else {
                        match known.write(&quantity, &to, &paths, &mut out) {
                            Ok(false) => known.first(&request, &paths, &mut out),
                            other => other.map(|_| ()),
                        }
                    };
                    prop_assert_eq!(&got.map(|()| out), &wanted, "{:?}", request);
                }
            }
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
