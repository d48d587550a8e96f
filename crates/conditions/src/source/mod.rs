//! The sources.

pub(crate) mod csv;
pub(crate) mod join;
pub(crate) mod json;
#[cfg(all(feature = "mqtt", not(target_family = "wasm")))]
pub(crate) mod mqtt;
pub(crate) mod number;
#[cfg(not(target_family = "wasm"))]
pub(crate) mod sensorthings;
pub(crate) mod text;

use crate::assemble::Gathered;
use crate::moment::{Clock, Settled};
use crate::report::{Effect, IssueCode};
use crate::row::{Cell, RowPlace};
use jiff::Timestamp;
use std::collections::BTreeMap;

/// The moment of a row, or none with the reason noted; `readings` is how many the row would make.
pub(crate) fn moment(
    settled: Option<Settled>,
    words: &str,
    place: &RowPlace,
    readings: usize,
    gathered: &mut Gathered,
) -> Option<Timestamp> {
    let issues = &mut gathered.issues;
    match settled? {
        Settled::Moment(t) => return Some(t),
        Settled::Chosen(t) => {
            issues.add(IssueCode::AmbiguousTime, Effect::Adjusted, None, place, || {
                format!(
                    "clocks were put back and {words:?} came twice; it was taken as {t} (`ambiguous` \
                     in the map decides)"
                )
            });
            return Some(t);
        }
        Settled::Shifted(t) => {
            issues.add(IssueCode::NonexistentTime, Effect::Adjusted, None, place, || {
                format!("clocks were put forward and {words:?} never was; it was taken as {t}")
            });
            return Some(t);
        }
        Settled::Ambiguous => {
            issues.drop_row(IssueCode::AmbiguousTime, place, readings, || {
                format!("clocks were put back and {words:?} came twice")
            });
        }
        Settled::Nonexistent => {
            issues.drop_row(IssueCode::NonexistentTime, place, readings, || {
                format!(
                    "clocks were put forward and {words:?} never was; if the clock of the logger \
                     is not put forward, state an offset such as -01:00 as `zone`"
                )
            });
        }
    }
    None
}

/// Reads the time of a row, or notes why it cannot be read.
pub(crate) fn time_of(
    clock: &Clock,
    words: &str,
    place: &RowPlace,
    readings: usize,
    gathered: &mut Gathered,
) -> Option<crate::moment::Written> {
    match clock.read(words) {
        Ok(written) => Some(written),
        Err(why) => {
            gathered.issues.drop_row(IssueCode::BadTime, place, readings, || {
                format!("the time {words:?} {why}")
            });
            None
        }
    }
}

/// The area that a word stands for; an error where it stands for none.
pub(crate) fn area_of(
    word: &str,
    areas: Option<&BTreeMap<String, String>>,
) -> Result<String, String> {
    let word = word.trim();
    match areas {
        _ if word.is_empty() => Err("the area is missing".into()),
        None => Ok(word.to_owned()),
        Some(table) => table
            .get(word)
            .cloned()
            .ok_or_else(|| format!("{word:?} is not a word of `areas` in the map")),
    }
}

/// Whether a word stands for a missing value: the same text, or the same number.
pub(crate) fn is_sentinel(word: &str, missing: &[String]) -> bool {
    missing.iter().any(|m| {
        m.trim() == word
            || matches!((m.trim().parse::<f64>(), word.parse::<f64>()), (Ok(a), Ok(b)) if a == b)
    })
}

/// A number, kept short for messages.
pub(crate) fn not_a_number(word: &str) -> Cell {
    Cell::NotANumber(word.chars().take(40).collect())
}
