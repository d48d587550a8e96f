//! Labels from CSV, one a row.

use super::analysis::Analysis;
use super::check::empty;
use super::guaranteed::Guaranteed;
use super::number::parse_number;
use super::product_label::{Form, Label, PercentOf};
use crate::document::place;
use guardcell_error::{Code, Error, Place, excerpt};

/// The columns that are not figures of the analysis.
const GENERAL: [&str; 9] = [
    "name",
    "form",
    "percent_of",
    "density_kg_l",
    "bulk_density_kg_l",
    "soluble_percent",
    "derived_from",
    "foliar",
    "shelf",
];

pub(super) fn parse(text: &str) -> Result<Vec<Label>, Error> {
    let text = text.trim_start_matches('\u{feff}');
    if text.trim().is_empty() {
        return Err(empty());
    }
    let head = text.lines().next().unwrap_or("");
    let delimiter = if head.contains(';') { b';' } else { b',' };
    let mut reader = ::csv::ReaderBuilder::new().delimiter(delimiter).from_reader(text.as_bytes());
    let header: Vec<String> = reader
        .headers()
        .map_err(|e| fault(&e, text))?
        .iter()
        .map(|h| h.trim().to_owned())
        .collect();
    check_header(&header)?;
    let mut labels = Vec::new();
    let mut lines = Lines { text, byte: 0, line: 1 };
    for record in reader.records() {
        let record = record.map_err(|e| fault(&e, text))?;
        let line = record.position().map_or(1, |p| lines.line_at(p.byte()));
        let mut label = Label::new("", Guaranteed::default());
        for (column, (name, field)) in header.iter().zip(record.iter()).enumerate() {
            set(&mut label, name, field.trim(), place(line, column + 1))?;
        }
        Analysis::of(&label).map_err(|e| at_line(e, line, &header))?;
        labels.push(label);
    }
    if labels.is_empty() {
        return Err(Error::new(
            Code::Missing,
            "the table has a header and no rows",
            "add one row for each product",
        )
        .placed(place(2, 1)));
    }
    Ok(labels)
}

fn check_header(header: &[String]) -> Result<(), Error> {
    let mut probe = Guaranteed::default();
    for (i, h) in header.iter().enumerate() {
        let place = place(1, i + 1);
        if header.iter().take(i).any(|other| other == h) {
            return Err(Error::new(
                Code::MalformedFile,
                format!("duplicate column {:?}", excerpt(h, 60)),
                "keep one of them",
            )
            .placed(place));
        }
        if !GENERAL.contains(&h.as_str()) && probe.field_mut(h).is_none() {
            return Err(Error::new(
                Code::Unknown,
                format!("unknown column {:?}", excerpt(h, 60)),
                "use columns such as name, form, derived_from and figures such as n_percent, \
                 p2o5_percent, k2o_percent, urea_n_percent",
            )
            .placed(place));
        }
    }
    if !header.iter().any(|h| h == "name") {
        return Err(Error::new(
            Code::Missing,
            "column \"name\" is missing",
            "add a column with the name of each product",
        )
        .placed(place(1, 1)));
    }
    if !header.iter().any(|h| probe.field_mut(h).is_some()) {
        return Err(Error::new(
            Code::Missing,
            "no column of the guaranteed analysis",
            "add columns such as n_percent, p2o5_percent, k2o_percent",
        )
        .placed(place(1, 1)));
    }
    Ok(())
}

fn set(label: &mut Label, column: &str, field: &str, place: Place) -> Result<(), Error> {
    let words = |what: &str| {
        Error::new(Code::InvalidText, format!("{column} is {:?}", excerpt(field, 60)), what)
            .placed(place.clone())
    };
    if column == "name" {
        label.name = field.to_owned();
        return Ok(());
    }
    if field.is_empty() {
        return Ok(());
    }
    let number = || {
        parse_number(field)
            .ok_or_else(|| words("give a number such as 15.5 (or \"15,5\" in quotes)"))
    };
    match column {
        "form" => {
            label.form = match field {
                "powder" => Form::Powder,
                "liquid" => Form::Liquid,
                _ => return Err(words("write powder or liquid")),
            };
        }
        "percent_of" => {
            label.percent_of = match field {
                "mass" => PercentOf::Mass,
                "volume" => PercentOf::Volume,
                _ => return Err(words("write mass (w/w) or volume (w/v)")),
            };
        }
        "foliar" => {
            label.foliar = match field {
                "true" | "yes" => Some(true),
                "false" | "no" => Some(false),
                _ => return Err(words("write yes or no")),
            };
        }
        "density_kg_l" => label.density_kg_l = Some(number()?),
        "bulk_density_kg_l" => label.bulk_density_kg_l = Some(number()?),
        "soluble_percent" => label.soluble_percent = Some(number()?),
        "shelf" => label.shelf = Some(field.to_owned()),
        "derived_from" => {
            label.derived_from =
                field.split('|').map(|s| s.trim().to_owned()).filter(|s| !s.is_empty()).collect();
        }
        _ => {
            if let Some(s) = label.guaranteed.field_mut(column) {
                *s = Some(number()?);
            }
        }
    }
    Ok(())
}

/// Turns the pointer of a failed check into the line and column of its cell.
fn at_line(e: Error, line: usize, header: &[String]) -> Error {
    let field = e.field();
    let column = header.iter().position(|h| Some(h) == field.as_ref()).map_or(1, |i| i + 1);
    e.without_pointer().placed(place(line, column))
}

fn fault(e: &::csv::Error, text: &str) -> Error {
    let mut lines = Lines { text, byte: 0, line: 1 };
    let line = e.position().map_or(1, |p| lines.line_at(p.byte()));
    Error::new(
        Code::MalformedFile,
        e.to_string(),
        "give every row as many fields as the header, and quote a field that holds a comma",
    )
    .placed(place(line, 1))
}

/// Counts lines by bytes. The reader's own count is one too low where lines end in CR LF, because
/// it stops before the LF.
struct Lines<'a> {
    text: &'a str,
    byte: usize,
    line: usize,
}

impl Lines<'_> {
    /// The line of the record that starts at or after `byte`; bytes must not fall.
    fn line_at(&mut self, byte: u64) -> usize {
        let bytes = self.text.as_bytes();
        let mut end = usize::try_from(byte).unwrap_or(usize::MAX).min(bytes.len());
        while bytes.get(end).is_some_and(|b| matches!(b, b'\r' | b'\n')) {
            end += 1;
        }
        let passed = bytes.get(self.byte..end).unwrap_or_default();
        self.line += passed.iter().filter(|b| **b == b'\n').count();
        self.byte = end.max(self.byte);
        self.line
    }
}

#[cfg(test)]
mod tests {
    use super::parse;

    #[test]
    fn lines_are_counted_whatever_ends_them() {
        for end in ["\n", "\r\n"] {
            let text = ["name,n_percent", "X,15", "", "Y,abc", ""].join(end);
            let place = parse(&text).unwrap_err().place().cloned().unwrap();
            assert_eq!((place.line, place.column), (Some(4), Some(2)), "{end:?}");
        }
    }
}
