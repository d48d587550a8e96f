//! The errors of this crate, each with what would be right.
//!
//! Columns count characters of the quantity from 1; they are set where the text is read.

use crate::dimension::Dimension;
use guardcell_error::{Code, Error, excerpt};

/// Foreign text in a message: shortened, quoted.
fn quote(text: &str) -> String {
    format!("\"{}\"", excerpt(text, 60))
}

pub(crate) fn empty() -> Error {
    Error::new(Code::Empty, "the text is empty", "give a number and a unit, such as 150 ppm N")
}

pub(crate) fn too_long(length: usize) -> Error {
    Error::new(
        Code::TooLong,
        format!("{length} characters are too many for a quantity"),
        "give one number and one unit, such as 150 ppm N",
    )
}

/// A character that does not occur in quantities; control characters as their code point.
pub(crate) fn unexpected(character: Option<char>) -> Error {
    let shown = match character {
        Some(c) if c.is_control() || c.is_whitespace() => format!("U+{:04X}", u32::from(c)),
        Some(c) => format!("'{}'", guardcell_error::escape_control(&c.to_string())),
        None => "end of the text".to_owned(),
    };
    Error::new(
        Code::UnexpectedCharacter,
        format!("unexpected character {shown}"),
        "give a number and a unit in plain letters, such as 1.4 mS/cm",
    )
}

pub(crate) fn no_number() -> Error {
    Error::new(
        Code::NoNumber,
        "the number is missing",
        "give a number before the unit, such as 150 ppm N",
    )
}

pub(crate) fn bad_number(text: &str, why: &str) -> Error {
    Error::new(
        Code::BadNumber,
        format!("{} cannot be read as a number: {why}", quote(text)),
        "write it as 1400, 1.4, 1,4, 1/4, 1 1/2 or 1.4e3",
    )
}

/// A comma that may group thousands or mark decimals.
pub(crate) fn ambiguous_number(text: &str, grouped: &str, decimal: &str) -> Error {
    Error::new(
        Code::AmbiguousNumber,
        format!("{} may mean {grouped} or {decimal}", quote(text)),
        format!("write {grouped} or {decimal} without a comma"),
    )
}

pub(crate) fn second_number(text: &str) -> Error {
    Error::new(
        Code::SecondNumber,
        format!("a second number, {}, follows the first", excerpt(text, 60)),
        "give one number; convert the ends of a range one by one",
    )
}

pub(crate) fn unwanted_number(text: &str) -> Error {
    Error::new(
        Code::UnwantedNumber,
        format!("the number {} is given where only a unit is expected", excerpt(text, 60)),
        "give the unit alone, such as ppm P or mS/cm at 25 °C",
    )
}

/// `expected` completes "give …".
pub(crate) fn no_unit(expected: &str) -> Error {
    Error::new(Code::NoUnit, "the unit is missing", format!("give {expected}"))
}

pub(crate) fn unknown_word(word: &str, similar: &[&str]) -> Error {
    let hint = if similar.is_empty() {
        "use a unit such as mg/L, mS/cm, tsp/gal or °dH, and a basis such as N or P2O5".to_owned()
    } else {
        format!("did you mean {}?", similar.join(" or "))
    };
    Error::new(
        Code::UnknownWord,
        format!("\"{}\" is not a known unit, basis or keyword", excerpt(word, 30)),
        hint,
    )
}

/// `choices` has one spelling for each meaning.
pub(crate) fn ambiguous_word(word: &str, choices: &[&str]) -> Error {
    Error::new(
        Code::AmbiguousWord,
        format!("{} has more than one meaning", quote(word)),
        format!("write {}", choices.join(" or ")),
    )
}

pub(crate) fn conflict(first: &str, second: &str) -> Error {
    Error::new(
        Code::ConflictingUnits,
        format!("{} and {} do not go together", quote(first), quote(second)),
        "keep one of them",
    )
}

pub(crate) fn no_such_quotient(unit: &str) -> Error {
    Error::new(
        Code::NoSuchQuotient,
        format!("{} is not a known combination of units", quote(unit)),
        "use a quotient such as mg/L, tsp/gal, oz/100 gal, mS/cm, m/s or g/m2",
    )
}

/// `amount` is the number as written, empty for a target unit.
pub(crate) fn ambiguous_ppm(amount: &str) -> Error {
    let n = if amount.is_empty() { String::new() } else { format!("{} ", excerpt(amount, 60)) };
    Error::new(
        Code::AmbiguousPpm,
        format!("{n}ppm does not say of what"),
        format!(
            "write {n}ppm N (or another nutrient: ppm P, ppm P2O5, ppm K …), {n}ppm meter 500, \
             {n}ppm meter 640 or {n}ppm meter 700 (what a meter on that scale shows), or {n}ppm \
             feed (everything dissolved from the feed)"
        ),
    )
}

pub(crate) fn no_basis(amount: &str, examples: &str) -> Error {
    Error::new(
        Code::NoBasis,
        format!("{} does not say of what", excerpt(amount, 60)),
        format!("add the basis, such as {examples}"),
    )
}

pub(crate) fn no_charge(basis: &str) -> Error {
    Error::new(
        Code::NoCharge,
        format!("{basis} is not an ion of one definite charge, so its equivalents are not defined"),
        "give the ion, such as meq/L NO3, or use mg/L or mmol/L",
    )
}

/// A quantity of another kind than expected.
pub(crate) fn wrong_dimension(found: &str, is: Dimension, expected: Dimension) -> Error {
    Error::new(
        Code::WrongDimension,
        format!("{found} is {}, but {} is expected", is.with_article(), expected.with_article()),
        format!("write it like {}", expected.example()),
    )
}

/// Two quantities that do not convert into each other.
pub(crate) fn not_convertible(from: &str, to: &str, why: &str, hint: &str) -> Error {
    Error::new(Code::NotConvertible, format!("{from} does not convert to {to}: {why}"), hint)
}

/// A volume of powder to a mass, or the reverse.
pub(crate) fn needs_bulk_density(from: &str, to: &str) -> Error {
    let liquid = if from.contains(" oz") || to.starts_with("oz") {
        "; if a liquid ounce is meant, write fl oz"
    } else {
        ""
    };
    Error::new(
        Code::NeedsBulkDensity,
        format!(
            "{from} to {to} needs the bulk density of the powder, which differs from product to \
             product"
        ),
        format!(
            "weigh it: tare a cup, add ten level spoonfuls of the dry powder, poured and struck \
             off without pressing, and divide the grams by ten; give that as the bulk density, \
             such as 4.6 g/tsp or 0.93 g/mL{liquid}"
        ),
    )
}

/// A share by mass to a mass per volume, or the reverse.
pub(crate) fn needs_density(from: &str, to: &str) -> Error {
    Error::new(
        Code::NeedsDensity,
        format!("{from} to {to} needs the density of the liquid"),
        "give the density of the liquid, such as 1.24 kg/L (on the label or safety data sheet, \
         or the weight of one litre)",
    )
}

/// Light in lux to a photon flux, or the reverse.
pub(crate) fn needs_light_source(from: &str, to: &str) -> Error {
    Error::new(
        Code::NeedsLightSource,
        format!("{from} to {to} depends on the spectrum of the light"),
        "give the light source, such as sunlight or high_pressure_sodium",
    )
}

/// `range` completes "give …".
pub(crate) fn out_of_range(quantity: &str, value: &str, range: &str) -> Error {
    Error::new(Code::OutOfRange, format!("{quantity} is {value}"), format!("give {range}"))
}
