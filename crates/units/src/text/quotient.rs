//! Units and their quotients: `oz/100 gal`, `mg per litre`, `g m-2`.

use super::lex::Token;
use super::lookup::{self, Named};
use super::read::{Found, Reader, conflict};
use super::unit::Unit;
use crate::error::{Problem, UnitError};
use crate::table::UnitDef;

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

    pub(super) fn unit(&mut self, named: Named, words: usize) -> Result<(), UnitError> {
        let column = self.column();
        let first = self.at;
        self.at += words;
        let unit = match named {
            Named::Quotient(q) => Unit::of_codes(q.numerator, q.count, q.denominator),
            Named::Unit(numerator) => self.quotient(numerator)?,
        };
        let text = self.text(first);
        let Some(unit) = unit else {
            return Err(UnitError::at(Problem::NoSuchQuotient { unit: text }, column));
        };
        if matches!(self.token(0), Some(Token::Slash)) || self.word(0) == Some("per") {
            self.at += 2;
            let unit = self.text(first);
            return Err(UnitError::at(Problem::NoSuchQuotient { unit }, column));
        }
        if let Some(old) = self.out.unit.take() {
            // "K 150 ppm": what first looked like a unit is the basis.
            return match lookup::basis(&old.text) {
                Some(basis) if self.out.basis.is_none() => {
                    self.out.basis = Some(Found { is: basis, text: old.text, column: old.column });
                    self.out.unit = Some(Found { is: unit, text, column });
                    Ok(())
                }
                _ => Err(conflict(&old.text, &text, column)),
            };
        }
        self.out.unit = Some(Found { is: unit, text, column });
        Ok(())
    }

    /// A numerator and what it is divided by, if anything.
    fn quotient(&mut self, numerator: &'static UnitDef) -> Result<Option<Unit>, UnitError> {
        // mg L-1, mg.L-1: a negative exponent divides.
        let dot = usize::from(matches!(self.token(0), Some(Token::Dot)));
        if let Some(denominator) = self.word(dot).and_then(inverse) {
            self.at += dot + 1;
            return Ok(Unit::quotient(numerator, 1.0, denominator));
        }
        let divides = matches!(self.token(0), Some(Token::Slash))
            || self.word(0).is_some_and(|w| w.eq_ignore_ascii_case("per"));
        if !divides {
            return Ok(Some(Unit::single(numerator)));
        }
        self.at += 1;
        if matches!(self.token(0), Some(Token::Open)) {
            self.at += 1;
        }
        if matches!(self.word(0), Some("a" | "an" | "each" | "one")) {
            self.at += 1;
        }
        let mut count = 1.0;
        if let Some((value, text)) = self.number(0) {
            if value <= 0.0 {
                return Err(UnitError::at(
                    Problem::BadNumber {
                        text: text.to_owned(),
                        why: "what a quantity is divided by has to be above zero",
                    },
                    self.column(),
                ));
            }
            count = value;
            self.at += 1;
            if matches!(self.token(0), Some(Token::Dot)) {
                self.at += 1;
            }
        }
        match self.longest_name() {
            Some((Named::Unit(denominator), words)) => {
                self.at += words;
                if matches!(self.token(0), Some(Token::Close)) {
                    self.at += 1;
                }
                // "a litre of water"
                if self.word(0) == Some("of") {
                    self.at += 1;
                }
                if matches!(self.word(0), Some("water" | "solution")) {
                    self.at += 1;
                }
                Ok(Unit::quotient(numerator, count, denominator))
            }
            Some((Named::Quotient(_), _)) => Ok(None),
            None => match self.word(0) {
                Some(word) => match lookup::ambiguous(word) {
                    Some(choices) => Err(UnitError::at(
                        Problem::AmbiguousWord { word: word.to_owned(), choices },
                        self.column(),
                    )),
                    None => Err(self.unknown(word)),
                },
                None => Err(UnitError::at(
                    Problem::NoUnit {
                        expected: "a unit after the stroke, such as mg/L".to_owned(),
                    },
                    self.column(),
                )),
            },
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
