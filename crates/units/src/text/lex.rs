//! From characters to numbers, words and marks, with their columns.

use super::number::{self, WrittenNumber};
use crate::fault;
use guardcell_error::Error;
use winnow::combinator::{alt, not, opt, peek, repeat};
use winnow::prelude::*;
use winnow::token::{any, one_of, take_till, take_while};

/// Most characters of a quantity. Bounds all work on a text.
pub(crate) const LONGEST: usize = 200;

/// One token of a written quantity.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Token {
    Number {
        value: f64,
        text: String,
    },
    Word(String),
    /// `w/w`, `w/v` or `v/v`.
    Share(char, char),
    Slash,
    Open,
    Close,
    At,
    Colon,
    Plus,
    Minus,
    Dot,
}

/// A token with the column of its first character.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Spanned {
    pub(crate) token: Token,
    pub(crate) column: u64,
}

/// Replaces the many Unicode forms of the same sign by one: micro signs as `u`, raised and
/// lowered digits as digits, ring and ordinal signs as a degree sign.
pub(crate) fn plain(word: &str) -> String {
    let mut out = String::with_capacity(word.len());
    for c in word.chars() {
        match c {
            'µ' | 'μ' => out.push('u'),
            'º' | '˚' => out.push('°'),
            '℃' => out.push_str("°C"),
            '℉' => out.push_str("°F"),
            'ℓ' => out.push('L'),
            '⁻' | '−' | '‐' | '‑' => out.push('-'),
            '⁺' => out.push('+'),
            '²' => out.push('2'),
            '³' => out.push('3'),
            '¹' => out.push('1'),
            '⁰' | '⁴'..='⁹' => push_digit(&mut out, c, '⁰'),
            '₀'..='₉' => push_digit(&mut out, c, '₀'),
            '^' => {}
            _ => out.push(c),
        }
    }
    out
}

fn push_digit(out: &mut String, c: char, zero: char) {
    // Both blocks hold the digits in order, so the difference is 0 to 9.
    if let Some(digit) = char::from_digit(u32::from(c).wrapping_sub(u32::from(zero)), 10) {
        out.push(digit);
    }
}

/// Splits a text into tokens.
pub(crate) fn tokens(text: &str) -> Result<Vec<Spanned>, Error> {
    let length = text.chars().count();
    if length > LONGEST {
        return Err(fault::too_long(length).at_column(LONGEST as u64 + 1));
    }
    let mut rest = text;
    let mut out: Vec<Spanned> = Vec::new();
    loop {
        skip_blanks(&mut rest);
        if rest.is_empty() {
            return Ok(out);
        }
        let column = text.len() - rest.len();
        // `rest` is a suffix of `text`, so this is a character boundary.
        let column = text.get(..column).map_or(0, |read| read.chars().count()) as u64 + 1;
        let after_number = matches!(out.last().map(|s| &s.token), Some(Token::Number { .. }));
        let token = match lexeme(after_number).parse_next(&mut rest) {
            Ok(Lexeme::Number(written)) => {
                let value = written.value().map_err(|e| e.at_column(column))?;
                Token::Number { value, text: written.text }
            }
            Ok(Lexeme::Token(token)) => token,
            Err(_) => return Err(fault::unexpected(rest.chars().next()).at_column(column)),
        };
        out.push(Spanned { token, column });
    }
}

/// Spaces, and the braces and underscores of UCUM annotations, only separate.
fn skip_blanks(rest: &mut &str) {
    let blank = |c: char| {
        matches!(c, ' ' | '\t' | '\n' | '\r' | '{' | '}' | '_' | '\u{feff}')
            || (c.is_whitespace() && !c.is_control())
    };
    *rest = rest.trim_start_matches(blank);
}

enum Lexeme {
    Number(WrittenNumber),
    Token(Token),
}

fn lexeme<'s>(after_number: bool) -> impl Parser<&'s str, Lexeme, winnow::error::ContextError> {
    move |input: &mut &'s str| {
        if after_number {
            alt((
                number::unsigned.map(Lexeme::Number),
                share.map(Lexeme::Token),
                word.map(Lexeme::Token),
                mark.map(Lexeme::Token),
            ))
            .parse_next(input)
        } else {
            alt((
                number::signed.map(Lexeme::Number),
                share.map(Lexeme::Token),
                word.map(Lexeme::Token),
                mark.map(Lexeme::Token),
            ))
            .parse_next(input)
        }
    }
}

fn mark(input: &mut &str) -> winnow::Result<Token> {
    any.verify_map(|c| {
        Some(match c {
            '/' | '⁄' | '∕' | '÷' => Token::Slash,
            '(' => Token::Open,
            ')' => Token::Close,
            '@' => Token::At,
            ':' | '∶' | '=' => Token::Colon,
            '+' => Token::Plus,
            '-' | '−' | '–' | '—' => Token::Minus,
            '.' | ',' | '·' | '⋅' | '•' => Token::Dot,
            _ => return None,
        })
    })
    .parse_next(input)
}

/// `w/w` and its kin, which would otherwise read as a quotient.
fn share(input: &mut &str) -> winnow::Result<Token> {
    let side = || one_of(['w', 'm', 'v', 'W', 'M', 'V']);
    (side(), '/', side(), not(peek_letter))
        .verify_map(|(part, _, whole, ())| {
            let side = |c: char| {
                if c.eq_ignore_ascii_case(&'v') { 'v' } else { 'w' }
            };
            // "m/m" and "m/v" are shares too; capital M alone stays molar.
            (part != 'M' && whole != 'M').then(|| Token::Share(side(part), side(whole)))
        })
        .parse_next(input)
}

fn peek_letter(input: &mut &str) -> winnow::Result<char> {
    peek(any.verify(|c: &char| c.is_alphanumeric())).parse_next(input)
}

fn starts_word(c: char) -> bool {
    c.is_alphabetic() || matches!(c, '°' | '˚' | 'º' | '℃' | '℉')
}

fn word(input: &mut &str) -> winnow::Result<Token> {
    let percent =
        alt((one_of(['%', '٪']).value("%".to_owned()), one_of(['‰', '؉']).value("‰".to_owned())));
    let bracket = || ('[', take_till(0..30, |c| matches!(c, ']' | '[' | ' ')), ']').take();
    let letter = |c: char| starts_word(c);
    let more = |c: char| {
        starts_word(c)
            || c.is_ascii_digit()
            || matches!(c, '⁰'..='⁹' | '²' | '³' | '¹' | '₀'..='₉' | '\'')
    };
    // A hyphen belongs to a word before a letter or digit (NO3-N, L-1), or as a charge (NO3-).
    let hyphen =
        || (one_of(['-', '⁻', '−', '‐', '‑', '^', '⁺', '+']), opt(one_of(['-', '+', '⁻']))).take();
    let first = alt((bracket(), take_while(1.., letter)));
    let tail = repeat::<_, _, (), _, _>(0.., alt((bracket(), take_while(1.., more), hyphen())));
    let plain_word = (first, tail).take().map(|w: &str| plain(w.trim_end_matches('\'')));
    let text = alt((percent, plain_word)).parse_next(input)?;
    // The full stop of an abbreviation (tsp., fl. oz) has no meaning.
    if input.starts_with('.') && !input.starts_with(|c: char| c.is_alphanumeric()) {
        let next = input.chars().nth(1);
        if next.is_none_or(|c| c.is_whitespace() || matches!(c, '/' | ',' | ')')) {
            '.'.parse_next(input)?;
        }
    }
    Ok(Token::Word(text))
}
