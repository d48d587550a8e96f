//! Where in the text of a map a fault is.

use guardcell::{Code, Error, pointer};
use toml::de::{DeTable, DeValue};

fn line_and_column(text: &str, byte: usize) -> (u64, u64) {
    let before = text.get(..byte).unwrap_or(text);
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
    (line as u64, column as u64)
}

/// A fault that the reader of TOML found.
pub(super) fn of_toml(place: &str, text: &str, e: &toml::de::Error) -> Error {
    let (line, column) = e.span().map_or((1, 1), |s| line_and_column(text, s.start));
    Error::new(
        Code::MalformedFile,
        e.message().trim_end().replace('\n', ", "),
        "compare it with the maps in demo-data/logger/ or with schemas/conditions-map.schema.json",
    )
    .in_file(place)
    .on_line(line)
    .at_column(column)
}

/// A fault of a value, at the innermost part of its key that the text has.
pub(super) fn of_fault(place: &str, text: &str, fault: Error) -> Error {
    let key: Vec<String> = pointer::tokens(fault.pointer()).collect();
    let byte = DeTable::parse(text).ok().and_then(|table| find(table.get_ref(), &key));
    let (line, column) = line_and_column(text, byte.unwrap_or(0));
    fault.in_file(place).on_line(line).at_column(column)
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
