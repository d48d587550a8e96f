//! The lines of an unknown table: what separates columns, which line names them, where rows begin.

use crate::probe::words::{self, Kind};
use crate::unit::QuantityName;

/// The lines of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Layout {
    pub(super) delimiter: char,
    /// Lines before the header.
    pub(super) skip_lines: usize,
    /// The names of the columns.
    pub(super) header: Vec<String>,
    /// Lines of units between header and rows.
    pub(super) units: Vec<Vec<String>>,
    /// The rows, each with as many cells as it has.
    pub(super) rows: Vec<Vec<String>>,
}

/// What may separate columns.
const DELIMITERS: [char; 4] = [';', '\t', '|', ','];
/// A header comes within so many lines.
const HEADER_WITHIN: usize = 60;

/// The cells of a line, without the quotes around them.
fn cells(line: &str, delimiter: char) -> Vec<String> {
    let mut out = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            c if c == delimiter && !quoted => out.push(String::new()),
            c => {
                if let Some(cell) = out.last_mut() {
                    cell.push(c);
                }
            }
        }
    }
    out.into_iter().map(|cell| cell.trim().to_owned()).collect()
}

/// How much a line looks like the names of columns: kinds found in cells of their own.
fn worth(line: &[String]) -> usize {
    let kinds: Vec<Kind> = line.iter().map(|cell| words::name(cell).kind).collect();
    let has = |wanted: &dyn Fn(&Kind) -> bool| usize::from(kinds.iter().any(wanted));
    let quantity = |q| move |k: &Kind| *k == Kind::Quantity(q);
    let humid =
        |k: &Kind| matches!(k, Kind::Quantity(QuantityName::Humidity | QuantityName::DewPoint));
    2 * has(&quantity(QuantityName::Temperature)) + 2 * has(&humid) + has(&|k| *k == Kind::Time)
}

/// The layout of a text; none where no line names columns.
pub(super) fn find(text: &str) -> Option<Layout> {
    let lines: Vec<&str> = text.lines().collect();
    let mut best: Option<(usize, usize, char, usize)> = None;
    for delimiter in DELIMITERS {
        for (at, line) in lines.iter().enumerate().take(HEADER_WITHIN) {
            let names = cells(line, delimiter);
            let worth = worth(&names);
            // A line of one cell is prose, and one with numbers a row.
            let numbers = names.iter().filter(|c| c.parse::<f64>().is_ok()).count();
            if names.len() < 2 || worth < 2 || numbers * 2 > names.len() {
                continue;
            }
            if best.is_none_or(|(w, n, _, _)| (worth, names.len()) > (w, n)) {
                best = Some((worth, names.len(), delimiter, at));
            }
        }
    }
    let (_, _, delimiter, at) = best?;
    let header = cells(lines.get(at)?, delimiter);
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut units = Vec::new();
    for line in lines.iter().skip(at + 1) {
        let row = cells(line, delimiter);
        let begun = !rows.is_empty();
        let digit = row.iter().any(|c| c.starts_with(|c: char| c.is_ascii_digit() || c == '-'));
        if !begun && !digit {
            units.push(row);
        } else if !line.trim().is_empty() {
            rows.push(row);
        }
    }
    Some(Layout { delimiter, skip_lines: at, header, units, rows })
}

impl Layout {
    /// The cells of a column.
    pub(super) fn column(&self, i: usize) -> impl Iterator<Item = &str> {
        self.rows.iter().filter_map(move |row| row.get(i)).map(String::as_str)
    }

    /// The column as a map names it: by name where that is one of its own.
    pub(super) fn reference(&self, i: usize) -> Result<&str, usize> {
        let name = self.header.get(i).map_or("", String::as_str);
        let only = self.header.iter().filter(|h| *h == name).count() == 1;
        if only && !name.is_empty() { Ok(name) } else { Err(i + 1) }
    }

    /// The column for people.
    pub(super) fn shown(&self, i: usize) -> String {
        self.reference(i).map_or_else(|n| format!("column {n}"), str::to_owned)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_that_names_most_is_the_header() {
        let text = "Logger 7; temp and humidity\n\n\"Time\";\"T °C\";RH\n;°C;%\n1;2,5;3\n\n4;5;6\n";
        let layout = find(text).unwrap();
        assert_eq!((layout.delimiter, layout.skip_lines), (';', 2));
        assert_eq!(layout.header, ["Time", "T °C", "RH"]);
        assert_eq!(layout.units.len(), 1);
        assert_eq!(layout.rows, [["1", "2,5", "3"], ["4", "5", "6"]]);
        assert_eq!(find("a,b\n1,2\n"), None);
        let quoted = find("Time,Temp,RH\n\"05.06.2026, 05:00\",\"21,5\",80\n").unwrap();
        assert_eq!(quoted.rows[0], ["05.06.2026, 05:00", "21,5", "80"]);
    }
}
