//! The typed part of the Python package, from the list of calls and the schemas of the API.
//!
//! | file in `crates/python/python/guardcell/` | holds |
//! | --- | --- |
//! | `models.py` | a dataclass for every object, a `Literal` for every choice of words |
//! | `calls.py` | a function for every call |

mod api;
mod calls;
mod models;
mod words;

use api::{COMPONENTS, types};
use guardcell::calls::ALL;
use serde_json::{Map, Value};
use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;

const FOLDER: &str = "crates/python/python/guardcell";

/// Every generated file with its content, by path from the root of the repository.
///
/// # Errors
/// If a schema has a form that has no type in Python.
pub fn documents(root: &Path) -> Result<BTreeMap<String, String>, Box<dyn Error>> {
    let api = crate::schemas::api(ALL, root)?;
    let schemas = api["components"]["schemas"].as_object().ok_or("the API has no schemas")?;
    let wanted = reached(&api, schemas);
    Ok(BTreeMap::from([
        (format!("{FOLDER}/models.py"), models::text(schemas, &wanted)?),
        (format!("{FOLDER}/calls.py"), calls::text(&api, schemas)?),
    ]))
}

/// Writes every generated file.
///
/// # Errors
/// As [`documents`]; also if a file cannot be written.
pub fn write(root: &Path) -> Result<(), Box<dyn Error>> {
    for (path, text) in documents(root)? {
        std::fs::write(root.join(path), text)?;
    }
    Ok(())
}

/// The schemas that requests and answers are made of, in the order of their names.
fn reached(api: &Value, schemas: &Map<String, Value>) -> Vec<String> {
    let mut found = std::collections::BTreeSet::new();
    let mut open: Vec<String> = ALL
        .iter()
        .filter_map(|call| types(api, call.path()))
        .flat_map(|(request, answer)| [request.to_owned(), answer.to_owned()])
        .collect();
    while let Some(name) = open.pop() {
        if let Some(schema) = schemas.get(&name)
            && found.insert(name)
        {
            references(schema, &mut open);
        }
    }
    found.into_iter().collect()
}

fn references(schema: &Value, out: &mut Vec<String>) {
    match schema {
        Value::Object(map) => {
            for (key, value) in map {
                match value {
                    Value::String(to) if key == "$ref" => {
                        out.extend(to.strip_prefix(COMPONENTS).map(str::to_owned));
                    }
                    other => references(other, out),
                }
            }
        }
        Value::Array(items) => items.iter().for_each(|item| references(item, out)),
        _ => {}
    }
}
