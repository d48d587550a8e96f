//! Labels from CSV, one a row.

use super::number::parse_number;
use super::{Form, Guaranteed, Label, PercentOf};
use crate::error::{Place, SolutionError};

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

/// Where the figure of an analysis column goes.
fn slot<'a>(g: &'a mut Guaranteed, column: &str) -> Option<&'a mut Option<f64>> {
    Some(match column {
        "n_percent" => &mut g.n_percent,
        "nitrate_n_percent" => &mut g.nitrate_n_percent,
        "ammoniacal_n_percent" => &mut g.ammoniacal_n_percent,
        "urea_n_percent" => &mut g.urea_n_percent,
        "other_n_percent" => &mut g.other_n_percent,
        "p2o5_percent" => &mut g.p2o5_percent,
        "p_percent" => &mut g.p_percent,
        "k2o_percent" => &mut g.k2o_percent,
        "k_percent" => &mut g.k_percent,
        "ca_percent" => &mut g.ca_percent,
        "cao_percent" => &mut g.cao_percent,
        "mg_percent" => &mut g.mg_percent,
        "mgo_percent" => &mut g.mgo_percent,
        "s_percent" => &mut g.s_percent,
        "so3_percent" => &mut g.so3_percent,
        "na_percent" => &mut g.na_percent,
        "na2o_percent" => &mut g.na2o_percent,
        "cl_percent" => &mut g.cl_percent,
        "b_percent" => &mut g.b_percent,
        "co_percent" => &mut g.co_percent,
        "cu_percent" => &mut g.cu_percent,
        "fe_percent" => &mut g.fe_percent,
        "mn_percent" => &mut g.mn_percent,
        "mo_percent" => &mut g.mo_percent,
        "zn_percent" => &mut g.zn_percent,
        "si_percent" => &mut g.si_percent,
        "sio2_percent" => &mut g.sio2_percent,
        _ => return None,
    })
}

pub(super) fn parse(text: &str) -> Result<Vec<Label>, SolutionError> {
    let text = text.trim_start_matches('\u{feff}');
    if text.trim().is_empty() {
        return Err(super::empty());
    }
    let head = text.lines().next().unwrap_or("");
    let delimiter = if head.contains(';') { b';' } else { b',' };
    let mut reader = ::csv::ReaderBuilder::new().delimiter(delimiter).from_reader(text.as_bytes());
    let header: Vec<String> =
        reader.headers().map_err(|e| fault(&e))?.iter().map(|h| h.trim().to_owned()).collect();
    check_header(&header)?;
    let mut labels = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|e| fault(&e))?;
        let line = record.position().map_or(0, |p| usize::try_from(p.line()).unwrap_or(0));
        let mut label = blank();
        for (column, (name, field)) in header.iter().zip(record.iter()).enumerate() {
            let place = Place::Line { line, column: column + 1 };
            set(&mut label, name, field.trim(), place)?;
        }
        label.check().map_err(|e| at_line(e, line, &header))?;
        labels.push(label);
    }
    if labels.is_empty() {
        return Err(SolutionError::missing(
            Place::Line { line: 2, column: 1 },
            "the table has a header and no rows",
            "Add one row for each product",
        ));
    }
    Ok(labels)
}

fn blank() -> Label {
    Label {
        name: String::new(),
        form: Form::Powder,
        percent_of: PercentOf::Mass,
        density_kg_l: None,
        bulk_density_kg_l: None,
        soluble_percent: None,
        guaranteed: Guaranteed::default(),
        derived_from: Vec::new(),
        foliar: None,
        shelf: None,
    }
}

fn check_header(header: &[String]) -> Result<(), SolutionError> {
    let mut probe = Guaranteed::default();
    for (i, h) in header.iter().enumerate() {
        let place = Place::Line { line: 1, column: i + 1 };
        if header.iter().take(i).any(|other| other == h) {
            return Err(SolutionError::syntax(
                place,
                format!("column {h:?} stands twice"),
                "Keep one of them",
            ));
        }
        if !GENERAL.contains(&h.as_str()) && slot(&mut probe, h).is_none() {
            return Err(SolutionError::syntax(
                place,
                format!("column {h:?} is not known"),
                "Columns are name, form, derived_from and figures such as n_percent, \
                 p2o5_percent, k2o_percent, urea_n_percent",
            ));
        }
    }
    if !header.iter().any(|h| h == "name") {
        return Err(SolutionError::missing(
            Place::Line { line: 1, column: 1 },
            "there is no column \"name\"",
            "Add a column with the name of each product",
        ));
    }
    if !header.iter().any(|h| slot(&mut probe, h).is_some()) {
        return Err(SolutionError::missing(
            Place::Line { line: 1, column: 1 },
            "there is no column of the guaranteed analysis",
            "Add columns such as n_percent, p2o5_percent, k2o_percent",
        ));
    }
    Ok(())
}

fn set(label: &mut Label, column: &str, field: &str, place: Place) -> Result<(), SolutionError> {
    let words =
        |what: &str| SolutionError::value(place.clone(), format!("{column} is {field:?}"), what);
    if column == "name" {
        label.name = field.to_owned();
        return Ok(());
    }
    if field.is_empty() {
        return Ok(());
    }
    let number = || {
        parse_number(field)
            .ok_or_else(|| words("It should be a number such as 15.5 (or \"15,5\" in quotes)"))
    };
    match column {
        "form" => {
            label.form = match field {
                "powder" => Form::Powder,
                "liquid" => Form::Liquid,
                _ => return Err(words("It should be powder or liquid")),
            };
        }
        "percent_of" => {
            label.percent_of = match field {
                "mass" => PercentOf::Mass,
                "volume" => PercentOf::Volume,
                _ => return Err(words("It should be mass (w/w) or volume (w/v)")),
            };
        }
        "foliar" => {
            label.foliar = match field {
                "true" | "yes" => Some(true),
                "false" | "no" => Some(false),
                _ => return Err(words("It should be yes or no")),
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
            if let Some(s) = slot(&mut label.guaranteed, column) {
                *s = Some(number()?);
            }
        }
    }
    Ok(())
}

/// Turns the pointer of a failed check into the line and column of its cell.
fn at_line(e: SolutionError, line: usize, header: &[String]) -> SolutionError {
    let pointer = e.place().to_string();
    let column =
        header.iter().position(|h| pointer.contains(&format!("/{h}:"))).map_or(1, |i| i + 1);
    let place = Place::Line { line, column };
    match e {
        SolutionError::Missing { what, remedy, .. } => SolutionError::missing(place, what, remedy),
        SolutionError::Value { what, remedy, .. } => SolutionError::value(place, what, remedy),
        other => other,
    }
}

fn fault(e: &::csv::Error) -> SolutionError {
    let line = e.position().map_or(1, |p| usize::try_from(p.line()).unwrap_or(1));
    SolutionError::syntax(
        Place::Line { line, column: 1 },
        e.to_string(),
        "Every row needs as many fields as the header; quote a field that holds a comma",
    )
}
