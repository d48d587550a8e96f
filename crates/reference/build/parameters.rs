//! Scalar parameter tables (`practice.csv`, `film.csv`, …) → one module of constants each, so that
//! a missing or misspelt parameter, or one read in another unit, does not compile.

use guardcell_data::Table;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

const TABLES: [(&str, Table); 7] = [
    ("practice", guardcell_data::PRACTICE),
    ("film", guardcell_data::FILM),
    ("uptake", guardcell_data::UPTAKE),
    ("clock", guardcell_data::CLOCK),
    ("solution", guardcell_data::SOLUTION),
    ("journal", guardcell_data::JOURNAL),
    ("pathway", guardcell_data::PATHWAY),
];
const COLUMNS: [&str; 8] = ["key", "value", "unit", "low", "high", "basis", "source", "note"];

pub(crate) fn compile(out: &Path, sources: &BTreeMap<String, usize>) -> Result<(), String> {
    let mut text = crate::unit::emit();
    for (module, table) in TABLES {
        text.push_str(&constants(module, table, sources)?);
    }
    crate::write(out, "parameters.rs", &text)
}

/// The module of one table.
fn constants(
    module: &str,
    table: Table,
    sources: &BTreeMap<String, usize>,
) -> Result<String, String> {
    let mut seen = BTreeSet::new();
    let mut body = String::new();
    for (line, row) in crate::read(table, &COLUMNS)? {
        let at = format!("data/{}:{line}", table.file);
        let name = row[0].to_ascii_uppercase().replace(['-', '.'], "_"); // 8 fields: checked by csv
        if !name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_') {
            return Err(format!("{at}: key {:?}; use lower-case words joined by `_`", row[0]));
        }
        if !seen.insert(name.clone()) {
            return Err(format!("{at}: duplicate key {:?}", row[0]));
        }
        body.push_str(&constant(&at, &name, &row, sources)?);
    }
    Ok(format!(
        "/// Parameters of `data/{module}.csv`.\n#[allow(clippy::approx_constant, reason = \"figures \
         are as printed\")]\npub mod {module} {{\n    \
         use super::{{Basis, Parameter, unit}};\n{body}}}\n"
    ))
}

fn constant(
    at: &str,
    name: &str,
    row: &[String],
    sources: &BTreeMap<String, usize>,
) -> Result<String, String> {
    let [key, value, unit, low, high, basis, source, note] = row else {
        return Err(format!("{at}: {} fields; there should be 8", row.len()));
    };
    let number = |what: &str, s: &str| match s.parse::<f64>() {
        Ok(v) if v.is_finite() => Ok(v),
        _ => Err(format!("{at}: {what} {s:?}; it should be a finite number")),
    };
    let optional = |what: &str, s: &str| -> Result<String, String> {
        if s.is_empty() { Ok("None".into()) } else { Ok(format!("Some({:?})", number(what, s)?)) }
    };
    let value = number("value", value)?;
    let (low, high) = (optional("low", low)?, optional("high", high)?);
    let marker = crate::unit::find(unit)
        .ok_or_else(|| format!("{at}: unit {unit:?} is not in crates/reference/build/unit.rs"))?
        .marker;
    let basis = self::basis(basis).ok_or_else(|| format!("{at}: basis {basis:?} is not known"))?;
    let keys = crate::sources::cited(at, source, sources)?;
    if keys.is_empty() && matches!(basis, "Published" | "Standard") {
        return Err(format!("{at}: {key:?} is {basis} and names no source"));
    }
    let doc = if note.is_empty() { key } else { note };
    Ok(format!(
        "    #[doc = {:?}]\n    pub const {name}: Parameter<unit::{marker}> = Parameter {{ key: \
         {key:?}, value: {value:?}, unit: {unit:?}, low: {low}, high: {high}, basis: \
         Basis::{basis}, sources: &{keys:?}, note: {note:?}, marker: core::marker::PhantomData \
         }};\n",
        format!("{doc} Value {value:?}, unit `{unit}`.")
    ))
}

/// The numbers of a table by key, for what the build computes itself.
pub(crate) fn numbers(table: Table) -> Result<impl Fn(&str) -> Option<f64>, String> {
    let rows = crate::read(table, &COLUMNS)?;
    let all: BTreeMap<String, f64> = rows
        .into_iter()
        .filter_map(|(_, row)| Some((row.first()?.clone(), row.get(1)?.parse().ok()?)))
        .collect();
    Ok(move |key: &str| all.get(key).copied())
}

/// The variant of `Basis` that a word of the tables means.
pub(crate) fn basis(word: &str) -> Option<&'static str> {
    Some(match word {
        "published" => "Published",
        "standard" => "Standard",
        "common practice, no source" => "CommonPractice",
        "from memory" => "FromMemory",
        "calibrated" => "Calibrated",
        _ => return None,
    })
}
