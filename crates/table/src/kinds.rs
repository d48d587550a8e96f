//! Conversions that are remembered: the same few units row after row.

use guardcell::Error;
use guardcell::units::convert::Conversion;
use guardcell::units::{ConvertRequest, ConvertResponse};
use std::collections::HashMap;

/// Pairs of units that are remembered; the columns of a table have a handful.
const MOST: usize = 1024;

/// What all answers of the same units share.
#[derive(Debug)]
pub struct Kind<T> {
    /// What turns numbers of one unit into numbers of the other.
    pub conversion: Conversion,
    /// What was made of the first answer.
    pub made: T,
}

/// Conversions already read, by everything in the request but the number.
#[derive(Debug)]
pub struct Kinds<T> {
    kinds: Vec<Kind<T>>,
    by_units: HashMap<String, usize>,
    key: String,
    /// The units of the last row: those of the next are mostly the same.
    last: Option<(String, usize)>,
}

impl<T> Default for Kinds<T> {
    fn default() -> Self {
        Self { kinds: Vec::new(), by_units: HashMap::new(), key: String::new(), last: None }
    }
}

impl<T> Kinds<T> {
    /// Hands the conversion of two texts, and the number in the first, to `found`.
    ///
    /// # Errors
    /// Those of [`guardcell::units::convert()`], of `make` and of `found`.
    pub fn texts<R>(
        &mut self,
        quantity: &str,
        to: &str,
        make: impl FnOnce(&ConvertResponse) -> Result<T, Error>,
        found: impl FnOnce(&Kind<T>, f64) -> Result<R, Error>,
    ) -> Result<R, Error> {
        let Some((number, words)) = number_first(quantity) else {
            self.key.clear();
            return self.first(&ConvertRequest::new(quantity, to), make, found);
        };
        match self.known(words, to) {
            Some(kind) => found(kind, number),
            None => self.first(&ConvertRequest::new(quantity, to), make, found),
        }
    }

    /// The same for a number and a unit apart.
    ///
    /// # Errors
    /// As [`Kinds::texts`].
    pub fn number<R>(
        &mut self,
        number: f64,
        unit: &str,
        to: &str,
        make: impl FnOnce(&ConvertResponse) -> Result<T, Error>,
        found: impl FnOnce(&Kind<T>, f64) -> Result<R, Error>,
    ) -> Result<R, Error> {
        if let Some(kind) = self.known(unit, to) {
            return found(kind, number);
        }
        let quantity = format!("{number} {unit}");
        if number_first(&quantity) != Some((number, unit)) {
            self.key.clear();
        }
        self.first(&ConvertRequest::new(quantity, to), make, found)
    }

    /// The same for a request with more than the two texts.
    ///
    /// # Errors
    /// As [`Kinds::texts`].
    pub fn request<R>(
        &mut self,
        request: &ConvertRequest,
        make: impl FnOnce(&ConvertResponse) -> Result<T, Error>,
        found: impl FnOnce(&Kind<T>, f64) -> Result<R, Error>,
    ) -> Result<R, Error> {
        let mut units = request.clone();
        let number = number_first(&request.quantity).map(|(number, words)| {
            units.quantity = words.to_owned();
            number
        });
        units.to.push('\n');
        self.key = serde_json::to_string(&units).unwrap_or_default();
        self.last = None;
        let kind = self.by_units.get(&self.key).and_then(|at| self.kinds.get(*at));
        match (number, kind) {
            (Some(number), Some(kind)) => found(kind, number),
            _ => self.first(request, make, found),
        }
    }

    /// The conversion between two units, if it is known; sets the key to remember it by.
    fn known(&mut self, words: &str, to: &str) -> Option<&Kind<T>> {
        if let Some((last, at)) = &self.last
            && last.len() == words.len() + 1 + to.len()
            && last.starts_with(words)
            && last.ends_with(to)
            && last.as_bytes().get(words.len()) == Some(&b'\n')
        {
            return self.kinds.get(*at);
        }
        self.key.clear();
        self.key.push_str(words);
        self.key.push('\n');
        self.key.push_str(to);
        let at = *self.by_units.get(&self.key)?;
        match &mut self.last {
            Some((last, of)) => {
                last.clone_from(&self.key);
                *of = at;
            }
            none => *none = Some((self.key.clone(), at)),
        }
        self.kinds.get(at)
    }

    /// Reads a request and remembers its units under the key that is set.
    fn first<R>(
        &mut self,
        request: &ConvertRequest,
        make: impl FnOnce(&ConvertResponse) -> Result<T, Error>,
        found: impl FnOnce(&Kind<T>, f64) -> Result<R, Error>,
    ) -> Result<R, Error> {
        let number = number_first(&request.quantity).map(|(number, _)| number);
        let conversion = Conversion::new(request)?;
        let read = conversion.number();
        let made = make(&conversion.response(read)?)?;
        let kind = Kind { conversion, made };
        let answer = found(&kind, read)?;
        if number == Some(read) && !self.key.is_empty() {
            if self.kinds.len() >= MOST {
                self.kinds.clear();
                self.by_units.clear();
                self.last = None;
            }
            self.by_units.insert(self.key.clone(), self.kinds.len());
            self.kinds.push(kind);
        }
        Ok(answer)
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
mod tests;
