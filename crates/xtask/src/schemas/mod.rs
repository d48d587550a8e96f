//! JSON Schemas of every request and response, an example answer of every call, and the
//! description of the HTTP API, from the list of calls.
//!
//! | file in `schemas/` | made |
//! | --- | --- |
//! | `NAME.request.schema.json`, `NAME.response.schema.json` | here |
//! | `examples/NAME.response.json`: the answer to the example of the call | here |
//! | `examples/NAME.json`: further requests, and requests that are refused, each with why | by hand |
//! | `openapi.json` | here |

mod calls;
pub mod conditions;
mod openapi;
mod plain;
mod ranges;

pub use calls::JOURNAL;

use guardcell::calls::{ALL, AnyCall, Form};
use schemars::SchemaGenerator;
use schemars::generate::SchemaSettings;
use serde::Deserialize;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;

/// Every call with a schema.
pub fn all() -> impl Iterator<Item = &'static AnyCall> {
    ALL.iter().chain(JOURNAL)
}

/// A request that is refused, and why.
#[derive(Debug, Deserialize)]
pub struct Bad {
    /// Why it is refused.
    pub why: String,
    /// The request.
    pub value: Value,
}

/// The example requests of one call.
#[derive(Debug, Default, Deserialize)]
pub struct Examples {
    /// Requests that are answered; the first is the example of the call.
    pub good: Vec<Value>,
    /// Requests that are refused.
    pub bad: Vec<Bad>,
}

impl Examples {
    /// The examples of a call: its own, and those in `schemas/examples/` if there are any.
    ///
    /// # Errors
    /// If the file has another form or the example of the call is not JSON.
    pub fn of(call: &AnyCall, root: &Path) -> Result<Self, Box<dyn Error>> {
        let path = root.join("schemas/examples").join(format!("{}.json", call.name()));
        let mut examples: Self = if path.exists() {
            let text = std::fs::read_to_string(&path)?;
            serde_json::from_str(&text).map_err(|e| format!("{}: {e}", path.display()))?
        } else {
            Self::default()
        };
        examples.good.insert(0, serde_json::from_str(call.example())?);
        Ok(examples)
    }
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

/// The answer to the example of a call, its numbers shortened.
fn answer(call: &AnyCall) -> Result<Value, Box<dyn Error>> {
    let answer =
        call.run(call.example().as_bytes()).map_err(|e| format!("{}: {e}", call.name()))?;
    Ok(shortened(serde_json::from_slice(&answer)?))
}

fn deserialized() -> SchemaGenerator {
    SchemaSettings::draft2020_12().for_deserialize().into_generator()
}

fn serialized() -> SchemaGenerator {
    SchemaSettings::draft2020_12().for_serialize().into_generator()
}

/// Writes every generated file.
///
/// # Errors
/// As [`documents`]; also if a file cannot be written.
pub fn write(root: &Path) -> Result<(), Box<dyn Error>> {
    for (path, value) in documents(root)? {
        std::fs::write(root.join(&path), text(&value)?)?;
    }
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

/// The schema with what the types cannot say: an identifier and examples.
fn finished(mut schema: Value, name: &str, examples: &[Value]) -> Value {
    let title = schema.get("title").and_then(Value::as_str).unwrap_or_default().to_owned();
    ranges::add(&title, &mut schema);
    if let Some(Value::Object(definitions)) = schema.get_mut("$defs") {
        for (name, definition) in definitions.iter_mut() {
            ranges::add(name, definition);
        }
    }
    let Value::Object(mut map) = schema else { return schema };
    let mut ordered = Map::new();
    if let Some(dialect) = map.remove("$schema") {
        ordered.insert("$schema".into(), dialect);
    }
    ordered.insert("$id".into(), json!(format!("{name}.schema.json")));
    ordered.append(&mut map);
    if !examples.is_empty() {
        ordered.insert("examples".into(), json!(examples));
    }
    Value::Object(ordered)
}

/// The same with numbers of four significant digits, for reading.
fn shortened(value: Value) -> Value {
    match value {
        Value::Number(n) if n.is_f64() => {
            let x = n.as_f64().unwrap_or_default();
            json!(format!("{x:.3e}").parse().unwrap_or(x))
        }
        Value::Array(items) => Value::Array(items.into_iter().map(shortened).collect()),
        Value::Object(map) => {
            Value::Object(map.into_iter().map(|(k, v)| (k, shortened(v))).collect())
        }
        other => other,
    }
}
