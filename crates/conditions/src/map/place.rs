//! Where in the text of a map a fault stands.

use crate::error::{ConditionsError, Fault};
use toml::de::{DeTable, DeValue};

fn line_and_column(text: &str, byte: usize) -> (usize, usize) {
    let before = text.get(..byte).unwrap_or(text);
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
    (line, column)
}

/// A fault that the reader of TOML found.
pub(super) fn of_toml(place: &str, text: &str, e: &toml::de::Error) -> ConditionsError {
    let (line, column) = e.span().map_or((1, 1), |s| line_and_column(text, s.start));
    ConditionsError::Map {
        place: place.to_owned(),
        line,
        column,
        key: String::new(),
        wrong: e.message().trim_end().replace('\n', ", "),
        right: "compare it with the maps in demo-data/logger/ or with \
                schemas/conditions-map.schema.json"
            .into(),
    }
}

/// A fault of a value, at the innermost part of its key that stands in the text.
pub(super) fn of_fault(place: &str, text: &str, fault: Fault) -> ConditionsError {
    let byte = DeTable::parse(text).ok().and_then(|table| find(table.get_ref(), &fault.key));
    let (line, column) = line_and_column(text, byte.unwrap_or(0));
    ConditionsError::Map {
        place: place.to_owned(),
        line,
        column,
        key: fault.dotted(),
        wrong: fault.wrong,
        right: fault.right,
    }
}

fn find(table: &DeTable<'_>, key: &[String]) -> Option<usize> {
    let mut parts = key.iter();
    let mut value = table.get(parts.next()?.as_str())?;
    for part in parts {
        let inner = match value.get_ref() {
            DeValue::Table(t) => t.get(part.as_str()),
            DeValue::Array(a) => part.parse::<usize>().ok().and_then(|i| a.get(i)),
            _ => None,
        };
        match inner {
            Some(inner) => value = inner,
            None => break,
        }
    }
    Some(value.span().start)
}
