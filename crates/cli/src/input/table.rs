//! CSV tables whose columns are found by name and whose every fault has a line and a column.

use crate::error::CliError;
use crate::input::text;
use std::path::Path;

/// A CSV table in memory.
pub(crate) struct Table {
    file: String,
    header: Vec<String>,
    rows: Vec<(u64, csv::StringRecord)>,
}

impl Table {
    /// Reads a table; the header must hold every column of `required` and none outside `required`
    /// and `optional`, so that a misspelt column is not silently ignored.
    pub(crate) fn read(
        path: &Path,
        required: &[&str],
        optional: &[&str],
    ) -> Result<Self, CliError> {
        let text = text::read(path)?;
        Self::parse(&path.display().to_string(), &text, required, optional)
    }

    pub(crate) fn parse(
        file: &str,
        text: &str,
        required: &[&str],
        optional: &[&str],
    ) -> Result<Self, CliError> {
        let first = text.lines().next().unwrap_or_default();
        if !first.contains(',') && first.contains(';') {
            return Err(CliError::input(
                format!("{file}:1"),
                "the columns are separated by semicolons",
                "save the table with commas between columns and a point as decimal mark",
            ));
        }
        let mut reader =
            csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
        let fault = |e: &csv::Error| {
            let line = e.position().map_or(1, csv::Position::line);
            let wrong = match e.kind() {
                csv::ErrorKind::UnequalLengths { expected_len, len, .. } => {
                    format!("this row has {len} fields and the header has {expected_len}")
                }
                other => format!("this is not CSV ({other:?})"),
            };
            CliError::input(
                format!("{file}:{line}"),
                wrong,
                "quote a field that holds a comma, and use a point as decimal mark",
            )
        };
        let header: Vec<String> =
            reader.headers().map_err(|e| fault(&e))?.iter().map(str::to_owned).collect();
        let known = || {
            let all: Vec<&str> = required.iter().chain(optional).copied().collect();
            all.join(", ")
        };
        for (i, name) in header.iter().enumerate() {
            if header.iter().take(i).any(|n| n == name) {
                return Err(CliError::input(
                    format!("{file}:1"),
                    format!("the column `{name}` stands twice"),
                    "keep one",
                ));
            }
            if !required.contains(&name.as_str()) && !optional.contains(&name.as_str()) {
                return Err(CliError::input(
                    format!("{file}:1"),
                    format!("the column `{name}` is not known"),
                    format!("the columns are {}", known()),
                ));
            }
        }
        if let Some(missing) = required.iter().find(|c| !header.iter().any(|h| h == *c)) {
            return Err(CliError::input(
                format!("{file}:1"),
                format!("the column `{missing}` is missing"),
                format!("the columns are {}", known()),
            ));
        }
        let mut rows = Vec::new();
        for record in reader.records() {
            let record = record.map_err(|e| fault(&e))?;
            let line = record.position().map_or(0, csv::Position::line);
            rows.push((line, record));
        }
        if rows.is_empty() {
            return Err(CliError::input(file, "the table has no rows", "give at least one row"));
        }
        Ok(Self { file: file.to_owned(), header, rows })
    }

    pub(crate) fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|(line, record)| Row { table: self, line: *line, record })
    }
}

/// One row.
#[derive(Clone, Copy)]
pub(crate) struct Row<'a> {
    table: &'a Table,
    line: u64,
    record: &'a csv::StringRecord,
}

impl<'a> Row<'a> {
    /// Where the row stands, such as `collection.csv:12`.
    pub(crate) fn place(&self) -> String {
        format!("{}:{}", self.table.file, self.line)
    }

    /// A field; none where the column is missing or the field blank.
    pub(crate) fn get(&self, column: &str) -> Option<&'a str> {
        let i = self.table.header.iter().position(|h| h == column)?;
        self.record.get(i).filter(|s| !s.is_empty())
    }

    /// A field that must not be blank.
    pub(crate) fn text(&self, column: &str) -> Result<&'a str, CliError> {
        self.get(column).ok_or_else(|| self.fault(column, "it is blank", "give a value"))
    }

    /// A number; blank is none.
    pub(crate) fn number(&self, column: &str) -> Result<Option<f64>, CliError> {
        let Some(text) = self.get(column) else { return Ok(None) };
        match text.parse::<f64>() {
            Ok(v) if v.is_finite() => Ok(Some(v)),
            _ if text.contains(',') => Err(self.fault(
                column,
                &format!("{text:?} has a decimal comma"),
                "write the number with a point, such as 1.4",
            )),
            _ => Err(self.fault(
                column,
                &format!("{text:?} is not a number"),
                "write a number such as 21.5, without a unit",
            )),
        }
    }

    /// A number that must not be blank.
    pub(crate) fn needed(&self, column: &str) -> Result<f64, CliError> {
        self.number(column)?.ok_or_else(|| self.fault(column, "it is blank", "give a number"))
    }

    /// One of a list of words; blank is none.
    pub(crate) fn word<T: Copy>(
        &self,
        column: &str,
        words: &[(&str, T)],
    ) -> Result<Option<T>, CliError> {
        let Some(text) = self.get(column) else { return Ok(None) };
        let lower = text.to_lowercase();
        words.iter().find(|(w, _)| *w == lower).map(|(_, v)| Some(*v)).ok_or_else(|| {
            let list: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
            self.fault(
                column,
                &format!("{text:?} is not known"),
                &format!("write one of {}", list.join(", ")),
            )
        })
    }

    pub(crate) fn fault(&self, column: &str, wrong: &str, right: &str) -> CliError {
        CliError::input(format!("{}: column `{column}`", self.place()), wrong, right)
    }
}
