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

pub(super) struct Reader<'t> {
    pub(super) tokens: &'t [Spanned],
    pub(super) at: usize,
    pub(super) out: Reading,
}

impl<'t> Reader<'t> {
    pub(super) fn token(&self, ahead: usize) -> Option<&'t Token> {
        self.tokens.get(self.at + ahead).map(|s| &s.token)
    }

    pub(super) fn word(&self, ahead: usize) -> Option<&'t str> {
        match self.token(ahead) {
            Some(Token::Word(w)) => Some(w),
            _ => None,
        }
    }

    pub(super) fn number(&self, ahead: usize) -> Option<(f64, &'t str)> {
        match self.token(ahead) {
            Some(Token::Number { value, text }) => Some((*value, text)),
            _ => None,
        }
    }

    pub(super) fn column(&self) -> usize {
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
                let pair = self.word(1).map(|next| format!("{word} {next}"));
                let choices = lookup::vague(word)
                    .or_else(|| lookup::ambiguous(word))
                    .or_else(|| pair.as_deref().and_then(lookup::ambiguous));
                if let Some(choices) = choices {
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

    pub(super) fn unknown(&self, word: &str) -> UnitError {
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
}

fn unexpected(character: char, column: usize) -> UnitError {
    UnitError::at(Problem::UnexpectedCharacter { character: format!("'{character}'") }, column)
}

pub(super) fn conflict(first: &str, second: &str, column: usize) -> UnitError {
    UnitError::at(Problem::Conflict { first: first.to_owned(), second: second.to_owned() }, column)
}
