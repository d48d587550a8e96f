//! What a text says, and the cursor that collects it.

use super::lex::{Spanned, Token};
use super::lookup;
use super::unit::Unit;
use crate::basis::BasisInfo;
use crate::fault;
use crate::injector::InjectorConvention;
use crate::table::UnitDef;
use crate::tds_scale::Scale;
use guardcell_error::Error;

/// Something read, with what was written and where.
#[derive(Clone, Debug)]
pub(super) struct Found<T> {
    pub(super) is: T,
    pub(super) text: String,
    pub(super) column: u64,
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
    pub(super) end: u64,
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

/// A cursor over the tokens of a text.
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

    pub(super) fn column(&self) -> u64 {
        self.tokens.get(self.at).map_or(self.out.end, |s| s.column)
    }

    pub(super) fn found<T>(&self, is: T, text: &str) -> Found<T> {
        Found { is, text: text.to_owned(), column: self.column() }
    }

    /// An unknown word, with names of similar spelling.
    pub(super) fn unknown(&self, word: &str) -> Error {
        fault::unknown_word(word, &lookup::similar(word)).at_column(self.column())
    }
}
