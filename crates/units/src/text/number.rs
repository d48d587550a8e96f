//! Numbers as people write them: 1400, 1.4, 1,4, 1/4, 1 1/2, 1½, 1.4e3, 1 400 with thin spaces.

use crate::fault;
use guardcell_error::Error;
use winnow::ascii::digit1;
use winnow::combinator::{alt, not, opt, peek, preceded, repeat, terminated};
use winnow::prelude::*;
use winnow::token::{any, one_of, take_while};

/// A number as written, not yet evaluated.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct WrittenNumber {
    negative: bool,
    pub(super) text: String,
    form: Form,
}

#[derive(Clone, Debug, PartialEq)]
enum Form {
    /// A whole part, a numerator and a denominator.
    Fraction(String, String, String),
    Vulgar(String, char),
    Decimal(String, String),
}

/// A number with an optional sign.
pub(super) fn signed(input: &mut &str) -> winnow::Result<WrittenNumber> {
    let sign = opt(terminated(
        one_of(['+', '-', '−', '–']),
        peek(alt((
            any.verify(|c: &char| c.is_ascii_digit() || vulgar(*c).is_some()).void(),
            ('.', digits).void(),
        ))),
    ));
    (sign, unsigned)
        .map(|(sign, mut read)| {
            if let Some(sign) = sign {
                read.negative = sign != '+';
                read.text.insert(0, if sign == '+' { '+' } else { '-' });
            }
            read
        })
        .parse_next(input)
}

/// A number without a sign.
pub(super) fn unsigned(input: &mut &str) -> winnow::Result<WrittenNumber> {
    let form = alt((mixed, fraction, mixed_vulgar, decimal));
    form.with_taken()
        .map(|(form, text): (Form, &str)| WrittenNumber {
            negative: false,
            text: text.to_owned(),
            form,
        })
        .parse_next(input)
}

fn digits<'s>(input: &mut &'s str) -> winnow::Result<&'s str> {
    digit1.parse_next(input)
}

fn slash(input: &mut &str) -> winnow::Result<char> {
    one_of(['/', '⁄', '∕']).parse_next(input)
}

/// A denominator ends where no digit, point or comma goes on.
fn end_of_digits(input: &mut &str) -> winnow::Result<()> {
    not((one_of(['.', ',']), digits)).parse_next(input)
}

fn mixed(input: &mut &str) -> winnow::Result<Form> {
    let blanks = take_while(1..=3, |c: char| {
        c == ' ' || c == '\u{a0}' || c == '\u{2009}' || c == '\u{202f}'
    });
    (digits, blanks, digits, slash, digits, end_of_digits)
        .map(|(w, _, n, _, d, ())| Form::Fraction(w.to_owned(), n.to_owned(), d.to_owned()))
        .parse_next(input)
}

fn fraction(input: &mut &str) -> winnow::Result<Form> {
    (digits, slash, digits, end_of_digits)
        .map(|(n, _, d, ())| Form::Fraction(String::new(), n.to_owned(), d.to_owned()))
        .parse_next(input)
}

fn mixed_vulgar(input: &mut &str) -> winnow::Result<Form> {
    (opt(terminated(digits, opt(' '))), any.verify(|c: &char| vulgar(*c).is_some()))
        .map(|(w, c)| Form::Vulgar(w.unwrap_or_default().to_owned(), c))
        .parse_next(input)
}

fn decimal(input: &mut &str) -> winnow::Result<Form> {
    let thin = || one_of(['\u{2009}', '\u{202f}', '\u{a0}']);
    let three = || take_while(3..=3, |c: char| c.is_ascii_digit());
    let group = || preceded(thin(), terminated(three(), not(digits)));
    let grouped = (
        take_while(1..=3, |c: char| c.is_ascii_digit()),
        repeat::<_, _, (), _, _>(1.., group()),
        opt((one_of(['.', ',']), digits)),
    )
        .take();
    let separated = || (one_of(['.', ',']), digits);
    let plain = (digits, repeat::<_, _, (), _, _>(0.., separated())).take();
    let bare = separated().take();
    let exponent = opt(preceded(one_of(['e', 'E']), (opt(one_of(['+', '-', '−'])), digits).take()));
    (alt((grouped, plain, bare)), exponent)
        .map(|(digits, exponent): (&str, Option<&str>)| {
            Form::Decimal(digits.to_owned(), exponent.unwrap_or_default().replace('−', "-"))
        })
        .parse_next(input)
}

/// The value of a vulgar fraction character.
fn vulgar(c: char) -> Option<f64> {
    Some(match c {
        '½' => 1.0 / 2.0,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '¼' => 1.0 / 4.0,
        '¾' => 3.0 / 4.0,
        '⅕' => 1.0 / 5.0,
        '⅖' => 2.0 / 5.0,
        '⅗' => 3.0 / 5.0,
        '⅘' => 4.0 / 5.0,
        '⅙' => 1.0 / 6.0,
        '⅚' => 5.0 / 6.0,
        '⅛' => 1.0 / 8.0,
        '⅜' => 3.0 / 8.0,
        '⅝' => 5.0 / 8.0,
        '⅞' => 7.0 / 8.0,
        '⅒' => 1.0 / 10.0,
        _ => return None,
    })
}

impl WrittenNumber {
    /// The value.
    pub(super) fn value(&self) -> Result<f64, Error> {
        let bad = |why| fault::bad_number(&self.text, why);
        let read = |digits: &str| digits.parse::<f64>().map_err(|_| bad("digits expected"));
        let magnitude = match &self.form {
            Form::Fraction(whole, numerator, denominator) => {
                let whole = if whole.is_empty() { 0.0 } else { read(whole)? };
                let denominator = read(denominator)?;
                if denominator == 0.0 {
                    return Err(bad("it divides by zero"));
                }
                whole + read(numerator)? / denominator
            }
            Form::Vulgar(whole, part) => {
                let whole = if whole.is_empty() { 0.0 } else { read(whole)? };
                whole + vulgar(*part).unwrap_or_default()
            }
            Form::Decimal(digits, exponent) => {
                let digits = self.decimal_point(digits)?;
                if exponent.is_empty() {
                    read(&digits)?
                } else {
                    read(&format!("{digits}e{exponent}"))?
                }
            }
        };
        if !magnitude.is_finite() {
            return Err(bad("it is too large"));
        }
        Ok(if self.negative { -magnitude } else { magnitude })
    }

    /// The digits with a decimal point only: grouping signs removed, a decimal comma replaced.
    fn decimal_point(&self, digits: &str) -> Result<String, Error> {
        let bad = |why| fault::bad_number(&self.text, why);
        let digits: String =
            digits.chars().filter(|c| c.is_ascii_digit() || matches!(c, '.' | ',')).collect();
        let groups_of_three = |text: &str, sign: char| {
            let mut groups = text.split(sign);
            let first = groups.next().unwrap_or_default();
            (1..=3).contains(&first.len())
                && !first.starts_with('0')
                && groups.all(|g| g.len() == 3)
        };
        let (points, commas) = (digits.matches('.').count(), digits.matches(',').count());
        match (points, commas) {
            (0, 0) | (1, 0) => Ok(digits),
            (0, 1) => {
                let whole = digits.replace(',', "");
                let point = digits.replace(',', ".");
                if groups_of_three(&digits, ',') {
                    let decimal = point.trim_end_matches('0').trim_end_matches('.');
                    return Err(fault::ambiguous_number(&self.text, &whole, decimal));
                }
                Ok(point)
            }
            (_, 0) if groups_of_three(&digits, '.') => Ok(digits.replace('.', "")),
            (0, _) if groups_of_three(&digits, ',') => Ok(digits.replace(',', "")),
            (_, 0) => Err(bad("it has more than one decimal point")),
            (0, _) => Err(bad("it has more than one decimal comma")),
            (_, _) => {
                // Both signs: the last one marks the decimals, the other groups thousands.
                let last = digits.rfind(['.', ',']).unwrap_or_default();
                let (whole, part) = digits.split_at(last);
                let decimal = part.chars().next().unwrap_or('.');
                let group = if decimal == '.' { ',' } else { '.' };
                if whole.contains(decimal) || !groups_of_three(whole, group) {
                    return Err(bad("its points and commas do not fit together"));
                }
                Ok(format!("{}{}", whole.replace(group, ""), part.replace(',', ".")))
            }
        }
    }
}
