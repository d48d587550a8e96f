//! CSV tables whose columns are found by name and whose every fault has a line and a column.

use crate::fault::bad_file;
use guardcell::{Error, Lines, Place, excerpt, pointer};

/// A CSV table in memory.
pub(crate) struct Table {
    file: String,
    /// Columns are separated by semicolons, as where a comma marks decimals.
    semicolons: bool,
    header: Vec<String>,
    rows: Vec<(u64, csv::StringRecord)>,
}

impl Table {
    /// Reads a table, with commas or semicolons between its columns; the header must hold every column of `required` and none outside `required`
    /// and `optional`, so that a misspelt column is not silently ignored.
    pub(crate) fn parse(
        name: &str,
        text: &str,
        required: &[&str],
        optional: &[&str],
    ) -> Result<Self, Error> {
        let first = text.lines().next().unwrap_or_default();
        let semicolons = !first.contains(',') && first.contains(';');
        let delimiter = if semicolons { b';' } else { b',' };
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(delimiter)
            .trim(csv::Trim::All)
            .from_reader(text.as_bytes());
        let fault = |e: &csv::Error| {
            let line = Lines::new(text).of_record(e.position().map_or(0, csv::Position::byte));
            let detail = match e.kind() {
                csv::ErrorKind::UnequalLengths { expected_len, len, .. } => {
                    format!("this row has {len} fields and the header has {expected_len}")
                }
                other => format!("this is not CSV ({other:?})"),
            };
            bad_file(name, detail, "quote a field that contains what separates the columns")
                .on_line(line)
        };
        let header: Vec<String> =
            reader.headers().map_err(|e| fault(&e))?.iter().map(str::to_owned).collect();
        let known = || {
            let all: Vec<&str> = required.iter().chain(optional).copied().collect();
            all.join(", ")
        };
        let in_header = |detail: String, hint: String| bad_file(name, detail, hint).on_line(1);
        for (i, column) in header.iter().enumerate() {
            let shown = excerpt(column, 60);
            if header.iter().take(i).any(|n| n == column) {
                return Err(in_header(format!("duplicate column `{shown}`"), "keep one".into()));
            }
            if !required.contains(&column.as_str()) && !optional.contains(&column.as_str()) {
                let hint = format!("use only {}", known());
                return Err(in_header(format!("unknown column `{shown}`"), hint));
            }
        }
        if let Some(missing) = required.iter().find(|c| !header.iter().any(|h| h == *c)) {
            let hint = format!("the columns are {}", known());
            return Err(in_header(format!("the column `{missing}` is missing"), hint));
        }
        let mut rows = Vec::new();
        let mut lines = Lines::new(text);
        for record in reader.records() {
            let record = record.map_err(|e| fault(&e))?;
            let line = lines.of_record(record.position().map_or(0, csv::Position::byte));
            rows.push((line, record));
        }
        if rows.is_empty() {
            return Err(bad_file(name, "the table has no rows", "give at least one row"));
        }
        Ok(Self { file: name.to_owned(), semicolons, header, rows })
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
    /// The file and line of the row.
    pub(crate) fn place(&self) -> Place {
        Place::default().in_file(&self.table.file).at_line(self.line)
    }

    /// A field; none where the column is missing or the field blank.
    pub(crate) fn get(&self, column: &str) -> Option<&'a str> {
        let i = self.table.header.iter().position(|h| h == column)?;
        self.record.get(i).filter(|s| !s.is_empty())
    }

    /// A field that must not be blank.
    pub(crate) fn text(&self, column: &str) -> Result<&'a str, Error> {
        self.get(column).ok_or_else(|| self.fault(column, "it is empty", "give a value"))
    }

    /// A number; empty is `None`.
    pub(crate) fn number(&self, column: &str) -> Result<Option<f64>, Error> {
        let Some(text) = self.get(column) else { return Ok(None) };
        let with_point = self.table.semicolons.then(|| text.replace(',', "."));
        match with_point.as_deref().unwrap_or(text).parse::<f64>() {
            Ok(v) if v.is_finite() => Ok(Some(v)),
            _ if text.contains(',') && !self.table.semicolons => Err(self.fault(
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
    pub(crate) fn needed(&self, column: &str) -> Result<f64, Error> {
        self.number(column)?.ok_or_else(|| self.fault(column, "it is empty", "give a number"))
    }

    /// One of some values by its word; empty is `None`.
    pub(crate) fn word<T: Copy>(
        &self,
        column: &str,
        all: &[T],
        word: impl Fn(T) -> &'static str,
    ) -> Result<Option<T>, Error> {
        let Some(text) = self.get(column) else { return Ok(None) };
        let lower = text.to_lowercase();
        all.iter().copied().find(|v| word(*v) == lower).map(Some).ok_or_else(|| {
            let list: Vec<&str> = all.iter().map(|v| word(*v)).collect();
            self.fault(
                column,
                &format!("{text:?} is not known"),
                &format!("write one of {}", list.join(", ")),
            )
        })
    }

    pub(crate) fn fault(&self, column: &str, wrong: &str, right: &str) -> Error {
        bad_file(&self.table.file, wrong, right).on_line(self.line).at(pointer::key("", column))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_counted_alike_for_all_line_ends() {
        for end in ["\n", "\r\n"] {
            let text = ["a,b", "1,2", "", "\"3", "3\",4", "5,6"].join(end);
            let table = Table::parse("t.csv", &text, &["a", "b"], &[]).unwrap();
            let lines: Vec<_> = table.rows().map(|row| row.place().line).collect();
            assert_eq!(lines, [Some(2), Some(4), Some(6)], "{end:?}");
            let short = ["a,b", "1,2", "3"].join(end);
            let error = Table::parse("t.csv", &short, &["a", "b"], &[]).err().unwrap();
            assert_eq!(error.place().and_then(|p| p.line), Some(3), "{end:?}");
        }
    }

    #[test]
    fn semicolons_go_with_decimal_commas() {
        let table = Table::parse("t.csv", "a;b\n1,5;x, y\n2.5;\n1.234,5;z\n", &["a", "b"], &[]);
        let table = table.unwrap();
        let rows: Vec<_> = table.rows().collect();
        assert_eq!(rows[0].number("a").unwrap(), Some(1.5));
        assert_eq!(rows[0].get("b"), Some("x, y"));
        assert_eq!(rows[1].number("a").unwrap(), Some(2.5));
        assert!(rows[2].number("a").unwrap_err().detail().contains("not a number"));
        // With commas between columns a decimal comma is a fault, as it may have cut a number.
        let table = Table::parse("t.csv", "a\n\"1,5\"\n", &["a"], &[]).unwrap();
        assert!(table.rows().next().unwrap().number("a").unwrap_err().detail().contains("comma"));
    }

    #[test]
    fn a_fault_has_file_line_and_column() {
        let table = Table::parse("t.csv", "a\n1\nwarm\n", &["a"], &[]).unwrap();
        let error = table.rows().nth(1).unwrap().number("a").unwrap_err();
        assert_eq!(
            error.to_string(),
            "t.csv:3: /a: \"warm\" is not a number; write a number such as 21.5, without a unit"
        );
    }
}
