//! The tables as `data/datapackage.json` describes them (Frictionless tabular data package).

use super::DataError;
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

#[derive(Deserialize)]
struct Descriptor {
    resources: Vec<Resource>,
}

#[derive(Deserialize)]
struct Resource {
    path: String,
    schema: TableSchema,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct TableSchema {
    fields: Vec<Field>,
    #[serde(default)]
    primary_key: Option<String>,
    #[serde(default)]
    foreign_keys: Vec<ForeignKey>,
}

/// A column whose values are those of a column of another table.
#[derive(Deserialize)]
struct ForeignKey {
    fields: String,
    reference: Reference,
}

#[derive(Deserialize)]
struct Reference {
    resource: String,
    fields: String,
}

/// One column.
#[derive(Deserialize)]
pub(crate) struct Field {
    pub(crate) name: String,
    #[serde(rename = "type")]
    pub(crate) kind: String,
    #[serde(default)]
    description: String,
    #[serde(default)]
    constraints: Constraints,
}

#[derive(Default, Deserialize)]
struct Constraints {
    #[serde(default)]
    required: bool,
    #[serde(rename = "enum")]
    words: Option<Vec<String>>,
    minimum: Option<f64>,
    maximum: Option<f64>,
}

/// One table with its rows.
pub(crate) struct Table {
    /// The file name, such as `genera.csv`.
    pub(crate) file: String,
    pub(crate) fields: Vec<Field>,
    primary_key: Option<String>,
    foreign_keys: Vec<ForeignKey>,
    header: Vec<String>,
    pub(crate) rows: Vec<Row>,
}

/// One row with its line number.
pub(crate) struct Row {
    pub(crate) line: u64,
    pub(crate) cells: BTreeMap<String, String>,
}

impl Row {
    pub(crate) fn get(&self, column: &str) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }
}

/// All tables.
pub(crate) struct Package {
    pub(crate) tables: Vec<Table>,
    not_described: Vec<String>,
}

impl Package {
    pub(crate) fn read(dir: &Path) -> Result<Self, DataError> {
        let path = dir.join("datapackage.json");
        let text = text(&path)?;
        let descriptor: Descriptor = serde_json::from_str(&text).map_err(|e| {
            DataError::Content { path: path.display().to_string(), what: e.to_string() }
        })?;
        let mut tables = Vec::new();
        for resource in descriptor.resources {
            tables.push(table(dir, resource)?);
        }
        let described: BTreeSet<&str> = tables.iter().map(|t| t.file.as_str()).collect();
        let listing = std::fs::read_dir(dir)
            .map_err(|source| DataError::File { path: dir.display().to_string(), source })?;
        let not_described = listing
            .filter_map(Result::ok)
            .filter_map(|e| e.file_name().into_string().ok())
            .filter(|name| name.ends_with(".csv") && !described.contains(name.as_str()))
            .collect();
        Ok(Self { tables, not_described })
    }

    /// The table of this file; empty if there is none.
    pub(crate) fn rows(&self, file: &str) -> &[Row] {
        self.tables.iter().find(|t| t.file == file).map_or(&[], |t| &t.rows)
    }

    /// Cells that should be a key of another table and are not.
    fn strangers(&self, t: &Table) -> Vec<String> {
        let mut faults = Vec::new();
        for key in &t.foreign_keys {
            let (file, column) =
                (format!("{}.csv", key.reference.resource), key.reference.fields.as_str());
            let known: BTreeSet<&str> = self.rows(&file).iter().map(|r| r.get(column)).collect();
            for row in &t.rows {
                let cell = row.get(&key.fields);
                if !cell.is_empty() && !known.contains(cell) {
                    faults.push(format!(
                        "data/{}:{}: {} {cell:?} is not in data/{file}",
                        t.file, row.line, key.fields
                    ));
                }
            }
        }
        faults
    }

    /// Header, descriptions, types, ranges, words, keys.
    pub(crate) fn faults(&self) -> Vec<String> {
        let mut faults: Vec<String> = self
            .not_described
            .iter()
            .map(|f| format!("data/{f}: is not described in data/datapackage.json"))
            .collect();
        let works: BTreeSet<&str> = self.rows("sources.csv").iter().map(|r| r.get("key")).collect();
        for t in &self.tables {
            let described: Vec<&str> = t.fields.iter().map(|f| f.name.as_str()).collect();
            if t.header != described {
                faults.push(format!(
                    "data/{}:1: the columns are {:?}, the descriptor says {described:?}",
                    t.file, t.header
                ));
                continue;
            }
            faults.extend(t.fields.iter().filter(|f| f.description.is_empty()).map(|f| {
                format!("data/{}:1: {} has no description in the descriptor", t.file, f.name)
            }));
            faults.extend(self.strangers(t));
            let mut keys = BTreeMap::new();
            for row in &t.rows {
                let at = format!("data/{}:{}", t.file, row.line);
                for f in &t.fields {
                    faults.extend(
                        f.fault(row.get(&f.name)).map(|w| format!("{at}: {}: {w}", f.name)),
                    );
                }
                if let Some(key) = &t.primary_key
                    && let Some(line) = keys.insert(row.get(key), row.line)
                {
                    faults.push(format!(
                        "{at}: duplicate {key} {:?}, also on line {line}",
                        row.get(key)
                    ));
                }
                for column in ["source", "sources", "read_in", "placement_source"] {
                    for key in row.get(column).split_whitespace() {
                        if !works.contains(key) {
                            faults
                                .push(format!("{at}: {column} {key:?} is not in data/sources.csv"));
                        }
                    }
                }
            }
        }
        faults
    }
}

impl Field {
    fn fault(&self, cell: &str) -> Option<String> {
        let c = &self.constraints;
        if cell.is_empty() {
            return c.required.then(|| "is blank and should not be".into());
        }
        if let Some(words) = &c.words
            && !words.iter().any(|w| w == cell)
        {
            return Some(format!("{cell:?} should be one of {words:?}"));
        }
        if !matches!(self.kind.as_str(), "number" | "integer") {
            return None;
        }
        let Some(value) = cell.parse::<f64>().ok().filter(|v| v.is_finite()) else {
            return Some(format!("{cell:?} should be a number"));
        };
        if self.kind == "integer" && value.fract() != 0.0 {
            return Some(format!("{cell} should be a whole number"));
        }
        if c.minimum.is_some_and(|m| value < m) || c.maximum.is_some_and(|m| value > m) {
            return Some(format!(
                "{cell} should lie between {} and {}",
                c.minimum.unwrap_or(f64::NEG_INFINITY),
                c.maximum.unwrap_or(f64::INFINITY)
            ));
        }
        None
    }
}

pub(crate) fn text(path: &Path) -> Result<String, DataError> {
    std::fs::read_to_string(path)
        .map_err(|source| DataError::File { path: path.display().to_string(), source })
}

fn table(dir: &Path, resource: Resource) -> Result<Table, DataError> {
    let path = dir.join(&resource.path);
    let content = |e: csv::Error| DataError::Content {
        path: path.display().to_string(),
        what: e.to_string(),
    };
    let mut reader = csv::Reader::from_path(&path).map_err(content)?;
    let header: Vec<String> =
        reader.headers().map_err(content)?.iter().map(str::to_owned).collect();
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(content)?;
        rows.push(Row {
            line: record.position().map_or(0, csv::Position::line),
            cells: header.iter().cloned().zip(record.iter().map(|c| c.trim().to_owned())).collect(),
        });
    }
    Ok(Table {
        file: resource.path,
        fields: resource.schema.fields,
        primary_key: resource.schema.primary_key,
        foreign_keys: resource.schema.foreign_keys,
        header,
        rows,
    })
}
