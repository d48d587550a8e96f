//! JSON Schemas of every request and response, an example answer of every call, and the
//! description of the HTTP API, from the list of calls.
//!
//! | file in `schemas/` | made |
//! | --- | --- |
//! | `NAME.request.schema.json`, `NAME.response.schema.json` | here |
//! | `examples/NAME.response.json`: the answer to the example of the call | here |
//! | `examples/NAME.json`: further requests, and requests that are refused, each with why | by hand |
//! | `openapi.json` | here |
//! | `crates/guardcell/forms.json`: the requests of every call, to explain refusals from | here |

pub mod conditions;
mod devices;
mod examples;
mod finished;
pub mod forms;
mod generators;
mod openapi;
mod plain;

pub use examples::{Bad, Examples};

use examples::answer;
use finished::finished;
use generators::{deserialized, serialized};
use guardcell::calls::{ALL, AnyCall, Form};
use serde_json::Value;
use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;

/// Every call with a schema.
pub fn all() -> impl Iterator<Item = &'static AnyCall> {
    ALL.iter()
}

/// Every generated file with its content, by path from the root of the repository.
///
/// # Errors
/// If an example cannot be read or is refused by its own call.
pub fn documents(root: &Path) -> Result<BTreeMap<String, Value>, Box<dyn Error>> {
    let mut out = BTreeMap::new();
    for call in all() {
        let name = call.name();
        let request = call.request_schema(&mut deserialized(), Form::Document).to_value();
        let examples = Examples::of(call, root)?.good;
        let request_name = format!("{name}.request");
        out.insert(file(&request_name), finished(request, &request_name, &examples));
        let response = call.response_schema(&mut serialized(), Form::Document).to_value();
        let response_name = format!("{name}.response");
        out.insert(file(&response_name), finished(response, &response_name, &[]));
        out.insert(format!("schemas/examples/{name}.response.json"), answer(call)?);
    }
    for (name, schema) in conditions::schemas(root)? {
        out.insert(file(name), schema);
    }
    out.insert(file("problem"), openapi::problem(true));
    out.insert("schemas/openapi.json".into(), openapi::document(ALL, root)?);
    Ok(out)
}

/// The description of an API with these calls.
///
/// # Errors
/// As [`documents`].
pub fn api(calls: &[AnyCall], root: &Path) -> Result<Value, Box<dyn Error>> {
    openapi::document(calls, root)
}

/// Writes every generated file.
///
/// # Errors
/// As [`documents`]; also if a file cannot be written.
pub fn write(root: &Path) -> Result<(), Box<dyn Error>> {
    for (path, value) in documents(root)? {
        std::fs::write(root.join(&path), text(&value)?)?;
    }
    std::fs::write(root.join(forms::PATH), forms::text()?)?;
    Ok(())
}

/// A document as the text of its file.
///
/// # Errors
/// Never for the documents of this module.
pub fn text(value: &Value) -> Result<String, Box<dyn Error>> {
    Ok(serde_json::to_string_pretty(value)? + "\n")
}

fn file(name: &str) -> String {
    format!("schemas/{name}.schema.json")
}
