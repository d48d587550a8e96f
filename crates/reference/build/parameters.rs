//! Scalar parameter tables (`data/practice.csv`, `film.csv`, `clock.csv`, `solution.csv`, `journal.csv`) → one
//! module of constants each, so that a missing or misspelt parameter does not compile.

use guardcell_data::Table;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;

const TABLES: [(&str, Table); 6] = [
    ("practice", guardcell_data::PRACTICE),
    ("film", guardcell_data::FILM),
    ("uptake", guardcell_data::UPTAKE),
    ("clock", guardcell_data::CLOCK),
    ("solution", guardcell_data::SOLUTION),
    ("journal", guardcell_data::JOURNAL),
];
const COLUMNS: [&str; 8] = ["key", "value", "unit", "low", "high", "basis", "source", "note"];

pub(crate) fn compile(out: &Path, sources: &BTreeMap<String, usize>) -> Result<(), String> {
    let mut text = String::new();
    for (module, table) in TABLES {
        let mut seen = BTreeSet::new();
        let mut all = String::new();
        let mut body = String::new();
        for (line, row) in crate::read(table, &COLUMNS)? {
            let at = format!("data/{}:{line}", table.file);
            let [key, value, unit, low, high, basis, source, note] = &row[..] else {
                return Err(format!("{at}: {} fields; there should be 8", row.len()));
            };
            if !seen.insert(key.clone()) {
                return Err(format!("{at}: key {key:?} stands twice"));
            }
            let number = |what: &str, s: &str| -> Result<f64, String> {
                match s.parse::<f64>() {
                    Ok(v) if v.is_finite() => Ok(v),
                    _ => Err(format!("{at}: {what} {s:?}; it should be a finite number")),
                }
            };
            let optional = |what: &str, s: &str| -> Result<String, String> {
                if s.is_empty() {
                    Ok("None".into())
                } else {
                    Ok(format!("Some({:?})", number(what, s)?))
                }
            };
            let value = number("value", value)?;
            let (low, high) = (optional("low", low)?, optional("high", high)?);
            let basis =
                self::basis(basis).ok_or_else(|| format!("{at}: basis {basis:?} is not known"))?;
            let keys = crate::sources::cited(&at, source, sources)?;
            if keys.is_empty() && matches!(basis, "Published" | "Standard") {
                return Err(format!("{at}: {key:?} is {basis} and names no source"));
            }
            let name = key.to_ascii_uppercase().replace(['-', '.'], "_");
            if !name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_') {
                return Err(format!("{at}: key {key:?}; use lower-case words joined by `_`"));
            }
            let doc = if note.is_empty() { key } else { note };
            write!(
                body,
                "    #[doc = {:?}]\n    pub const {name}: Parameter = Parameter {{ key: {key:?}, \
                 value: {value:?}, unit: {unit:?}, low: {low}, high: {high}, \
                 basis: Basis::{basis}, sources: &{keys:?}, note: {note:?} }};\n",
                format!("{doc} Value {value:?}, unit `{unit}`.")
            )
            .map_err(|e| e.to_string())?;
            write!(all, "&{name}, ").map_err(|e| e.to_string())?;
        }
        write!(
            text,
            "/// Parameters of `data/{module}.csv`.\npub mod {module} {{\n    \
             #[allow(unused_imports)]\n    use super::{{Basis, Parameter}};\n{body}    \
             /// Every parameter of the table.\n    pub static ALL: &[&Parameter] = &[{all}];\n}}\n"
        )
        .map_err(|e| e.to_string())?;
    }
    crate::write(out, "parameters.rs", &text)
}

/// The variant of `Basis` that a table's word stands for.
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
