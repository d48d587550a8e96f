//! From tokens to a number, a unit and what is said about them, in any order.

use super::lex::{Token, tokens};
use super::lookup::{self, Named};
use super::reading::{Found, Mark, Reader, Reading};
use crate::basis::BasisInfo;
use crate::dimension::Dimension;
use crate::fault;
use crate::injector::InjectorConvention;
use crate::tds_scale::Scale;
use guardcell_error::Error;

/// Reads a text.
pub(super) fn read(text: &str) -> Result<Reading, Error> {
    let tokens = tokens(text)?;
    if tokens.is_empty() {
        return Err(fault::empty().at_column(1));
    }
    let mut reader = Reader {
        tokens: &tokens,
        at: 0,
        out: Reading { end: text.trim_end().chars().count() as u64 + 1, ..Reading::default() },
    };
    while reader.at < tokens.len() {
        reader.item()?;
    }
    Ok(reader.out)
}

impl<'t> Reader<'t> {
    fn item(&mut self) -> Result<(), Error> {
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
            Some(Token::Minus) => Err(match self.number(1) {
                Some((_, text)) if self.out.number.is_some() => fault::second_number(text),
                _ => fault::unexpected(Some('-')),
            }
            .at_column(column)),
            Some(Token::Slash) => Err(fault::unexpected(Some('/')).at_column(column)),
            Some(Token::Plus) => Err(fault::unexpected(Some('+')).at_column(column)),
            // Brackets, colons and stops around words only separate.
            _ => {
                self.at += 1;
                Ok(())
            }
        }
    }

    fn number_item(&mut self) -> Result<(), Error> {
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
            return Err(fault::second_number(text).at_column(self.column()));
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

    fn injector(&mut self, convention: InjectorConvention, first: &str) -> Result<(), Error> {
        let column = self.column();
        let Some((parts, text)) = self.number(2) else {
            return Ok(());
        };
        let whole = format!("{first}:{text}");
        if first != "1" {
            let why = "an injector ratio starts with 1, such as 1:100";
            return Err(fault::bad_number(&whole, why).at_column(column));
        }
        if let Some(number) = &self.out.number {
            return Err(fault::conflict(&number.text, &whole).at_column(column));
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

    fn word_item(&mut self, word: &str) -> Result<(), Error> {
        let lower = word.to_lowercase();
        match lower.as_str() {
            // Words that only join or name what the unit says anyway.
            "as" | "of" | "on" | "the" | "ec" | "reading" | "total" | "level" => {
                self.at += 1;
                return Ok(());
            }
            "ppfd" | "par" if self.unit_is(Dimension::PhotonFluxDensity) => {
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

    fn marked(&mut self, mark: Mark, word: &str) -> Result<(), Error> {
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
        scale || self.unit_is(Dimension::Ppm)
    }

    fn unit_is(&self, dimension: Dimension) -> bool {
        self.out.unit.as_ref().is_some_and(|u| u.is.dimension() == dimension)
    }

    fn meter(&mut self, word: &str) -> Result<(), Error> {
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
    fn temperature_of_reading(&mut self) -> Result<(), Error> {
        let column = self.column();
        self.at += 1;
        let wanted =
            || fault::no_unit("the temperature after \"at\", such as at 18 °C").at_column(column);
        let Some((value, text)) = self.number(0) else {
            return Err(wanted());
        };
        self.at += 1;
        let Some((Named::Unit(unit), words)) = self.longest_name() else {
            return Err(wanted());
        };
        if unit.dimension != Dimension::Temperature {
            return Err(wanted());
        }
        if let Some(first) = &self.out.at {
            return Err(fault::conflict(&first.text, text).at_column(column));
        }
        self.out.at =
            Some(Found { is: (value, unit), text: format!("at {text} {}", unit.trade), column });
        self.at += words;
        Ok(())
    }

    fn unit_or_basis(&mut self, word: &str) -> Result<(), Error> {
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
                    return Err(fault::ambiguous_word(word, choices).at_column(self.column()));
                }
                if let Some(basis) = lookup::basis_in_any_case(word) {
                    return self.basis(basis, word);
                }
                Err(self.unknown(word))
            }
        }
    }

    fn basis(&mut self, basis: &'static BasisInfo, word: &str) -> Result<(), Error> {
        if let Some(first) = &self.out.basis {
            return Err(fault::conflict(&first.text, word).at_column(self.column()));
        }
        self.out.basis = Some(self.found(basis, word));
        self.at += 1;
        Ok(())
    }
}
