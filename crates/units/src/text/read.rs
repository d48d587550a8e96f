//! From tokens to a number, a unit and what is said about them, in any order.

use super::lex::{Spanned, Token, tokens};
use super::lookup::{self, Named};
use super::unit::Unit;
use crate::basis::BasisInfo;
use crate::dimension::Dimension;
use crate::error::{Problem, UnitError, printable};
use crate::injector::InjectorConvention;
use crate::table::UnitDef;
use crate::tds_scale::Scale;

/// Something read, with what was written and where.
#[derive(Clone, Debug)]
pub(super) struct Found<T> {
    pub(super) is: T,
    pub(super) text: String,
    pub(super) column: usize,
}

/// Words that say what a quantity is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    Hardness,
    Alkalinity,
    Feed,
    Humidity,
    Difference,
    /// `w/w`, `w/v`, `v/v`.
    Share(char, char),
}

/// Everything a text says, not yet checked for sense.
#[derive(Clone, Debug, Default)]
pub(super) struct Reading {
    pub(super) number: Option<Found<f64>>,
    pub(super) unit: Option<Found<Unit>>,
    pub(super) basis: Option<Found<&'static BasisInfo>>,
    pub(super) marks: Vec<Found<Mark>>,
    pub(super) meter: Option<Found<()>>,
    pub(super) scale: Option<Found<Scale>>,
    pub(super) at: Option<Found<(f64, &'static UnitDef)>>,
    pub(super) injector: Option<Found<InjectorConvention>>,
    /// The column after the last token, for what is missing.
    pub(super) end: usize,
}

impl Reading {
    /// Takes the number for the scale, where it names one.
    pub(super) fn scale_from_number(&mut self) {
        if let Some(number) = &self.number
            && let Some(scale) = Scale::named(&number.text)
        {
            self.scale =
                Some(Found { is: scale, text: number.text.clone(), column: number.column });
            self.number = None;
        }
    }
}

/// Reads a text.
pub(super) fn read(text: &str) -> Result<Reading, UnitError> {
    let tokens = tokens(text)?;
    if tokens.is_empty() {
        return Err(UnitError::at(Problem::Empty, 1));
    }
    let mut reader = Reader {
        tokens: &tokens,
        at: 0,
        out: Reading { end: text.trim_end().chars().count() + 1, ..Reading::default() },
    };
    while reader.at < tokens.len() {
        reader.item()?;
    }
    Ok(reader.out)
}

struct Reader<'t> {
    tokens: &'t [Spanned],
    at: usize,
    out: Reading,
}

/// The longest name of a unit, in words.
const LONGEST_NAME: usize = 3;

impl<'t> Reader<'t> {
    fn token(&self, ahead: usize) -> Option<&'t Token> {
        self.tokens.get(self.at + ahead).map(|s| &s.token)
    }

    fn word(&self, ahead: usize) -> Option<&'t str> {
        match self.token(ahead) {
            Some(Token::Word(w)) => Some(w),
            _ => None,
        }
    }

    fn number(&self, ahead: usize) -> Option<(f64, &'t str)> {
        match self.token(ahead) {
            Some(Token::Number { value, text }) => Some((*value, text)),
            _ => None,
        }
    }

    fn column(&self) -> usize {
        self.tokens.get(self.at).map_or(self.out.end, |s| s.column)
    }

    fn found<T>(&self, is: T, text: &str) -> Found<T> {
        Found { is, text: text.to_owned(), column: self.column() }
    }

    fn item(&mut self) -> Result<(), UnitError> {
        let column = self.column();
        match self.token(0) {
            Some(Token::Number { .. }) => self.number_item(),
            Some(Token::Word(word)) => self.word_item(word),
            Some(Token::At) => self.temperature_of_reading(),
            Some(Token::Share(part, whole)) => {
                let mark = Mark::Share(*part, *whole);
                self.mark(mark, &format!("{part}/{whole}"));
                Ok(())
            }
            Some(Token::Minus) => Err(UnitError::at(
                match self.number(1) {
                    Some((_, text)) => Problem::SecondNumber { text: text.to_owned() },
                    None => Problem::UnexpectedCharacter { character: "'-'".to_owned() },
                },
                column,
            )),
            Some(Token::Slash) => Err(unexpected('/', column)),
            Some(Token::Plus) => Err(unexpected('+', column)),
            // Brackets, colons and stops around words only separate.
            _ => {
                self.at += 1;
                Ok(())
            }
        }
    }

    fn number_item(&mut self) -> Result<(), UnitError> {
        let Some((value, text)) = self.number(0) else {
            return Ok(());
        };
        if let Some(convention) = self.injector_ratio(value) {
            return self.injector(convention, text);
        }
        let scale = Scale::named(text);
        let names_scale = self.word(1).is_some_and(|w| w.eq_ignore_ascii_case("scale"));
        let wants_scale = self.out.meter.is_some() && self.out.scale.is_none();
        if let (Some(scale), true) =
            (scale, names_scale || (wants_scale && self.out.number.is_some()))
        {
            self.out.scale = Some(self.found(scale, text));
            self.at += if names_scale { 2 } else { 1 };
            return Ok(());
        }
        if self.out.number.is_some() {
            return Err(UnitError::at(
                Problem::SecondNumber { text: text.to_owned() },
                self.column(),
            ));
        }
        self.out.number = Some(self.found(value, text));
        self.at += 1;
        Ok(())
    }

    /// `1:100`, `1 in 100` or `1 + 100`.
    fn injector_ratio(&self, first: f64) -> Option<InjectorConvention> {
        self.number(2)?;
        let convention = match self.token(1)? {
            Token::Colon => InjectorConvention::InTotal,
            Token::Word(w) if w == "in" && first == 1.0 => InjectorConvention::InTotal,
            Token::Plus => InjectorConvention::ToWater,
            _ => return None,
        };
        Some(convention)
    }

    fn injector(&mut self, convention: InjectorConvention, first: &str) -> Result<(), UnitError> {
        let column = self.column();
        let Some((parts, text)) = self.number(2) else {
            return Ok(());
        };
        let whole = format!("{first}:{text}");
        if first != "1" {
            return Err(UnitError::at(
                Problem::BadNumber {
                    text: whole,
                    why: "an injector ratio starts with 1, such as 1:100",
                },
                column,
            ));
        }
        if let Some(number) = &self.out.number {
            return Err(conflict(&number.text, &whole, column));
        }
        self.out.number = Some(self.found(parts, text));
        self.out.injector = Some(self.found(convention, &whole));
        self.at += 3;
        Ok(())
    }

    fn mark(&mut self, mark: Mark, text: &str) {
        let found = self.found(mark, text);
        self.out.marks.push(found);
        self.at += 1;
    }

    fn word_item(&mut self, word: &str) -> Result<(), UnitError> {
        let lower = word.to_lowercase();
        match lower.as_str() {
            // Words that only join or name what the unit says anyway.
            "as" | "of" | "on" | "the" | "ec" | "reading" | "total" | "level" => {
                self.at += 1;
                return Ok(());
            }
            "at" => return self.temperature_of_reading(),
            "tds" => return self.meter(word),
            "meter" | "scale" if self.is_meter() => return self.meter(word),
            "hardness" | "gh" => return self.marked(Mark::Hardness, word),
            "alkalinity" | "kh" => return self.marked(Mark::Alkalinity, word),
            "feed" | "salts" | "salt" => return self.marked(Mark::Feed, word),
            "rh" | "humidity" => return self.marked(Mark::Humidity, word),
            "relative" if self.word(1).is_some() => {
                self.at += 1;
                return Ok(());
            }
            "difference" | "interval" | "delta" | "δ" => {
                return self.marked(Mark::Difference, word);
            }
            _ => {}
        }
        self.unit_or_basis(word)
    }

    fn marked(&mut self, mark: Mark, word: &str) -> Result<(), UnitError> {
        if !self.out.marks.iter().any(|m| m.is == mark) {
            self.mark(mark, word);
        } else {
            self.at += 1;
        }
        Ok(())
    }

    /// `meter` is also the American metre: it means an instrument beside ppm or before a scale.
    fn is_meter(&self) -> bool {
        let scale = self.number(1).is_some_and(|(_, text)| Scale::named(text).is_some());
        let ppm = self.out.unit.as_ref().is_some_and(|u| u.is.dimension() == Dimension::Ppm);
        scale || ppm
    }

    fn meter(&mut self, word: &str) -> Result<(), UnitError> {
        self.out.meter.get_or_insert(Found {
            is: (),
            text: word.to_owned(),
            column: self.tokens.get(self.at).map_or(1, |s| s.column),
        });
        self.at += 1;
        while matches!(self.token(0), Some(Token::Open | Token::Colon)) {
            self.at += 1;
        }
        // A scale that follows directly, unless the number is the reading itself.
        if let Some((_, text)) = self.number(0)
            && let Some(scale) = Scale::named(text)
            && self.out.scale.is_none()
            && (self.out.number.is_some() || self.number(1).is_some() || self.has_later_number())
        {
            self.out.scale = Some(self.found(scale, text));
            self.at += 1;
        }
        Ok(())
    }

    fn has_later_number(&self) -> bool {
        (1..self.tokens.len()).any(|ahead| self.number(ahead).is_some())
    }

    /// `at 18 °C`.
    fn temperature_of_reading(&mut self) -> Result<(), UnitError> {
        let column = self.column();
        self.at += 1;
        let wanted = || {
            UnitError::at(
                Problem::NoUnit {
                    expected: "the temperature after \"at\", such as at 18 °C".to_owned(),
                },
                column,
            )
        };
        let Some((value, text)) = self.number(0) else {
            return Err(wanted());
        };
        self.at += 1;
        let place = self.column();
        let Some((Named::Unit(unit), words)) = self.longest_name() else {
            return Err(wanted());
        };
        if unit.dimension != Dimension::Temperature {
            return Err(wanted().or_at(place));
        }
        if let Some(first) = &self.out.at {
            return Err(conflict(&first.text, text, column));
        }
        self.out.at =
            Some(Found { is: (value, unit), text: format!("at {text} {}", unit.trade), column });
        self.at += words;
        Ok(())
    }

    fn unit_or_basis(&mut self, word: &str) -> Result<(), UnitError> {
        let exact = lookup::basis(word);
        let name = self.longest_name();
        let have_unit = self.out.unit.is_some();
        match (exact, name) {
            (Some(basis), None) => self.basis(basis, word),
            (Some(basis), Some((_, 1))) if have_unit => self.basis(basis, word),
            (_, Some((named, words))) => self.unit(named, words),
            (None, None) => {
                // NO3 - N, written with spaces, is left to the hyphenated names.
                if let Some(choices) = lookup::vague(word).or_else(|| lookup::ambiguous(word)) {
                    return Err(UnitError::at(
                        Problem::AmbiguousWord { word: word.to_owned(), choices },
                        self.column(),
                    ));
                }
                if let Some(basis) = lookup::basis_in_any_case(word) {
                    return self.basis(basis, word);
                }
                Err(self.unknown(word))
            }
        }
    }

    fn unknown(&self, word: &str) -> UnitError {
        UnitError::at(
            Problem::UnknownWord { word: printable(word, 30), similar: lookup::similar(word) },
            self.column(),
        )
    }

    fn basis(&mut self, basis: &'static BasisInfo, word: &str) -> Result<(), UnitError> {
        if let Some(first) = &self.out.basis {
            return Err(conflict(&first.text, word, self.column()));
        }
        self.out.basis = Some(self.found(basis, word));
        self.at += 1;
        Ok(())
    }

    /// The longest run of words from here that names a unit.
    fn longest_name(&self) -> Option<(Named, usize)> {
        (1..=LONGEST_NAME).rev().find_map(|words| {
            let phrase: Option<Vec<&str>> = (0..words).map(|ahead| self.word(ahead)).collect();
            lookup::unit(&phrase?.join(" ")).map(|named| (named, words))
        })
    }

    fn unit(&mut self, named: Named, words: usize) -> Result<(), UnitError> {
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

fn unexpected(character: char, column: usize) -> UnitError {
    UnitError::at(Problem::UnexpectedCharacter { character: format!("'{character}'") }, column)
}

pub(super) fn conflict(first: &str, second: &str, column: usize) -> UnitError {
    UnitError::at(Problem::Conflict { first: first.to_owned(), second: second.to_owned() }, column)
}
