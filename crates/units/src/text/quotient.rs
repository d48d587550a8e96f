//! Units and their quotients: `oz/100 gal`, `mg per litre`, `g m-2`.

use super::lex::Token;
use super::lookup::{self, Named};
use super::reading::{Found, Reader};
use super::unit::Unit;
use crate::dimension::Dimension as D;
use crate::fault;
use crate::table::UnitDef;
use guardcell_error::Error;

/// The longest name of a unit, in words.
const LONGEST_NAME: usize = 3;

impl Reader<'_> {
    /// The longest run of words from here that names a unit.
    pub(super) fn longest_name(&self) -> Option<(Named, usize)> {
        (1..=LONGEST_NAME).rev().find_map(|words| {
            let phrase: Option<Vec<&str>> = (0..words).map(|ahead| self.word(ahead)).collect();
            lookup::unit(&phrase?.join(" ")).map(|named| (named, words))
        })
    }

    pub(super) fn unit(&mut self, named: Named, words: usize) -> Result<(), Error> {
        let column = self.column();
        let first = self.at;
        self.at += words;
        let unit = match named {
            Named::Quotient(q) => Unit::of_word(q),
            Named::Unit(numerator) => self.quotient(numerator)?,
        };
        let text = self.text(first);
        let Some(unit) = unit else {
            return Err(fault::no_such_quotient(&text).at_column(column));
        };
        if matches!(self.token(0), Some(Token::Slash)) || self.word(0) == Some("per") {
            self.at += 2;
            let unit = self.text(first);
            return Err(fault::no_such_quotient(&unit).at_column(column));
        }
        if let Some(old) = self.out.unit.take() {
            // "K 150 ppm": what first looked like a unit is the basis.
            return match lookup::basis(&old.text) {
                Some(basis) if self.out.basis.is_none() => {
                    self.out.basis = Some(Found { is: basis, text: old.text, column: old.column });
                    self.out.unit = Some(Found { is: unit, text, column });
                    Ok(())
                }
                _ => Err(fault::conflict(&old.text, &text).at_column(column)),
            };
        }
        self.out.unit = Some(Found { is: unit, text, column });
        Ok(())
    }

    /// A numerator and what it is divided by, if anything.
    fn quotient(&mut self, numerator: &'static UnitDef) -> Result<Option<Unit>, Error> {
        // mg L-1, mg.L-1: a negative exponent divides.
        if let Some(denominator) = self.inverse() {
            return Ok(match self.inverse_if(numerator, denominator) {
                Some(second) => Unit::photon_flux_density(numerator, denominator, second),
                None => Unit::quotient(numerator, 1.0, denominator),
            });
        }
        if !self.divides() {
            return Ok(Some(Unit::single(numerator)));
        }
        self.at += 1;
        let bracket = self.skip(&Token::Open);
        if matches!(self.word(0), Some("a" | "an" | "each" | "one")) {
            self.at += 1;
        }
        let count = self.count()?;
        let (named, words) = match self.longest_name() {
            Some(found) => found,
            None => return Err(self.no_denominator()),
        };
        let Named::Unit(denominator) = named else { return Ok(None) };
        self.at += words;
        let second = if count == 1.0 && two_divisors(numerator, denominator) {
            self.second_divisor(bracket)
        } else {
            None
        };
        if let Some(second) = second {
            return Ok(Unit::photon_flux_density(numerator, denominator, second));
        }
        self.skip(&Token::Close);
        // "a litre of water"
        if self.word(0) == Some("of") {
            self.at += 1;
        }
        if matches!(self.word(0), Some("water" | "solution")) {
            self.at += 1;
        }
        Ok(Unit::quotient(numerator, count, denominator))
    }

    fn divides(&self) -> bool {
        matches!(self.token(0), Some(Token::Slash))
            || self.word(0).is_some_and(|w| w.eq_ignore_ascii_case("per"))
    }

    fn skip(&mut self, token: &Token) -> bool {
        let found = self.token(0) == Some(token);
        self.at += usize::from(found);
        found
    }

    /// How many of the denominator: the 100 of oz/100 gal.
    fn count(&mut self) -> Result<f64, Error> {
        let Some((value, text)) = self.number(0) else { return Ok(1.0) };
        if value <= 0.0 {
            let why = "a divisor must be above zero";
            return Err(fault::bad_number(text, why).at_column(self.column()));
        }
        self.at += 1;
        self.skip(&Token::Dot);
        Ok(value)
    }

    fn no_denominator(&self) -> Error {
        match self.word(0) {
            Some(word) => match lookup::ambiguous(word) {
                Some(choices) => fault::ambiguous_word(word, choices).at_column(self.column()),
                None => self.unknown(word),
            },
            None => {
                fault::no_unit("a unit after the stroke, such as mg/L").at_column(self.column())
            }
        }
    }

    /// The unit of a negative exponent, such as `L-1` or `.L-1`.
    fn inverse(&mut self) -> Option<&'static UnitDef> {
        let dot = usize::from(matches!(self.token(0), Some(Token::Dot)));
        let unit = self.word(dot).and_then(inverse)?;
        self.at += dot + 1;
        Some(unit)
    }

    /// A second negative exponent, where the first divisor leaves room for one.
    fn inverse_if(&mut self, top: &UnitDef, first: &UnitDef) -> Option<&'static UnitDef> {
        if two_divisors(top, first) { self.inverse() } else { None }
    }

    /// The second divisor of `umol/m2/s`, `umol/m2 s-1` or `umol/(m2.s)`.
    fn second_divisor(&mut self, bracket: bool) -> Option<&'static UnitDef> {
        let start = self.at;
        let unit = if bracket {
            self.skip(&Token::Dot);
            self.second_name().filter(|_| self.skip(&Token::Close))
        } else if self.divides() {
            self.at += 1;
            self.second_name()
        } else {
            self.inverse()
        };
        if unit.is_none() {
            self.at = start;
        }
        unit
    }

    fn second_name(&mut self) -> Option<&'static UnitDef> {
        match self.longest_name()? {
            (Named::Unit(unit), words) => {
                self.at += words;
                Some(unit)
            }
            (Named::Quotient(_), _) => None,
        }
    }

    /// What was written from a token up to here, for messages.
    fn text(&self, first: usize) -> String {
        let mut out = String::new();
        let last = self.at.min(self.tokens.len());
        let mut spaced = false;
        for spanned in self.tokens.get(first..last).unwrap_or_default() {
            match &spanned.token {
                Token::Word(w) => {
                    if spaced {
                        out.push(' ');
                    }
                    out.push_str(w);
                    spaced = true;
                }
                Token::Number { text, .. } => {
                    out.push_str(text);
                    spaced = true;
                }
                Token::Slash => {
                    out.push('/');
                    spaced = false;
                }
                _ => {}
            }
        }
        out
    }
}

/// Whether an amount is divided by an area or a time, so that the other of the two may follow.
fn two_divisors(numerator: &UnitDef, denominator: &UnitDef) -> bool {
    numerator.dimension == D::Amount && matches!(denominator.dimension, D::Area | D::Time)
}

/// `L-1`, `m-2`, `s-1`: the unit that divides.
fn inverse(word: &str) -> Option<&'static UnitDef> {
    let (base, exponent) = word.rsplit_once('-')?;
    let name = match exponent {
        "1" => base.to_owned(),
        "2" | "3" => format!("{base}{exponent}"),
        _ => return None,
    };
    match lookup::unit(&name)? {
        Named::Unit(unit) => Some(unit),
        Named::Quotient(_) => None,
    }
}
