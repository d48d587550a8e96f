//! The typed part of the Python package, from the list of calls and the schemas of the API.
//!
//! | file in `crates/python/python/guardcell/` | holds |
//! | --- | --- |
//! | `models.py` | a dataclass for every object, a `Literal` for every choice of words |
//! | `calls.py` | a function for every call |

mod calls;
mod models;
mod words;

use crate::api_types::reached;
use guardcell::calls::ALL;
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
