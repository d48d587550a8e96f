//! Each row against its JSON Schema (`schemas/data-*.schema.json`).

use super::DataError;
use super::table::{Package, Row, Table, text};
use serde_json::{Map, Number, Value};
use std::path::Path;

/// Which schema describes the rows of which tables.
const SCHEMAS: [(&str, &[&str]); 6] = [
    ("genera", &["genera.csv"]),
    ("observations", &["observations.csv"]),
    ("judgements", &["judgements.csv"]),
    ("names", &["names.csv"]),
    ("sources", &["sources.csv"]),
    (
        "parameter",
        &[
            "practice.csv",
            "film.csv",
            "clock.csv",
            "solution.csv",
            "uptake.csv",
            "journal.csv",
            "pathway.csv",
        ],
    ),
];

pub(crate) fn faults(package: &Package, schemas: &Path) -> Result<Vec<String>, DataError> {
    let mut faults = Vec::new();
    for (name, files) in SCHEMAS {
        let path = schemas.join(format!("data-{name}.schema.json"));
        let content = |what: String| DataError::Content { path: path.display().to_string(), what };
        let schema: Value =
            serde_json::from_str(&text(&path)?).map_err(|e| content(e.to_string()))?;
        let validator =
            jsonschema::draft202012::new(&schema).map_err(|e| content(e.to_string()))?;
        for table in package.tables.iter().filter(|t| files.contains(&t.file.as_str())) {
            for row in &table.rows {
                let instance = instance(table, row);
                for error in validator.iter_errors(&instance) {
                    faults.push(format!(
                        "data/{}:{}: {} {error}",
                        table.file,
                        row.line,
                        error.instance_path()
                    ));
                }
            }
        }
    }
    Ok(faults)
}

/// A row as JSON: numbers as numbers, a blank cell as an absent property.
fn instance(table: &Table, row: &Row) -> Value {
    let mut object = Map::new();
    for field in &table.fields {
        let cell = row.get(&field.name);
        if cell.is_empty() {
            continue;
        }
        let number = match field.kind.as_str() {
            "integer" => cell.parse::<i64>().ok().map(Number::from),
            "number" => cell.parse::<f64>().ok().and_then(Number::from_f64),
            _ => None,
        };
        object.insert(
            field.name.clone(),
            number.map_or_else(|| Value::String(cell.to_owned()), Value::Number),
        );
    }
    Value::Object(object)
}
