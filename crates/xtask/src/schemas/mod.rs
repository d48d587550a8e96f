//! JSON Schemas of every request and response (`schemas/*.schema.json`) and the description of
//! the HTTP API (`schemas/openapi.json`), from the types.
//!
//! `schemas/examples/<request>.json` holds requests that are right and requests that are wrong,
//! each wrong one with why. They are written by hand; everything else is generated.

mod calls;
pub mod conditions;
mod openapi;
mod plain;
mod ranges;

pub use calls::{CALLS, Call, JOURNAL};

use schemars::generate::SchemaSettings;
use serde::Deserialize;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;

/// A wrong request and why it is wrong.
#[derive(Debug, Deserialize)]
pub struct Bad {
    /// Why it is wrong.
    pub why: String,
    /// The request.
    pub value: Value,
}

/// The examples of one request.
#[derive(Debug, Deserialize)]
pub struct Examples {
    /// Requests that are right.
    pub good: Vec<Value>,
    /// Requests that are wrong.
    pub bad: Vec<Bad>,
}

impl Examples {
    /// The examples of a call.
    ///
    /// # Errors
    /// Where the file cannot be read or has another form.
    pub fn of(call: &Call, root: &Path) -> Result<Self, Box<dyn Error>> {
        let path = root.join("schemas/examples").join(format!("{}.json", call.request));
        let text =
            std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
        serde_json::from_str(&text).map_err(|e| format!("{}: {e}", path.display()).into())
    }
}

/// Every generated file with its content, by path from the root of the repository.
///
/// # Errors
/// Where an example cannot be read or is refused by its own function.
pub fn documents(root: &Path) -> Result<BTreeMap<String, Value>, Box<dyn Error>> {
    let mut out = BTreeMap::new();
    for call in CALLS.iter().chain(JOURNAL) {
        let good = Examples::of(call, root)?.good;
        let mut request = (call.request_schema)(
            &mut SchemaSettings::draft2020_12().for_deserialize().into_generator(),
        )
        .to_value();
        finish(&mut request, call.request, &good);
        out.insert(file(call.request), request);
        let mut response = (call.response_schema)(
            &mut SchemaSettings::draft2020_12().for_serialize().into_generator(),
        )
        .to_value();
        // A round needs a feed, which an advice may go without: the first that is answered.
        let (answers, refused): (Vec<_>, Vec<_>) =
            good.iter().map(|r| (call.answer)(r).map(rounded)).partition(Result::is_ok);
        let Some(Ok(answer)) = answers.into_iter().next() else {
            return Err(format!("no example of {} is answered: {refused:?}", call.request).into());
        };
        finish(&mut response, call.response, &[answer]);
        out.insert(file(call.response), response);
    }
    for (name, schema) in conditions::schemas(root)? {
        out.insert(file(name), schema);
    }
    out.insert(file("problem"), openapi::problem(true));
    out.insert("schemas/openapi.json".into(), openapi::document(root)?);
    Ok(out)
}

/// Writes every generated file.
///
/// # Errors
/// As [`documents`]; also where a file cannot be written.
pub fn write(root: &Path) -> Result<(), Box<dyn Error>> {
    for (path, value) in documents(root)? {
        std::fs::write(root.join(&path), text(&value)?)?;
    }
    Ok(())
}

/// A document as it stands in its file.
///
/// # Errors
/// Never for the documents of this module.
pub fn text(value: &Value) -> Result<String, Box<dyn Error>> {
    Ok(serde_json::to_string_pretty(value)? + "\n")
}

/// The same document without the examples of answers, which hold computed figures: they may
/// differ in the last digit from machine to machine and change with every better constant.
#[must_use]
pub fn without_examples(mut value: Value) -> Value {
    fn strip(value: &mut Value) {
        match value {
            Value::Object(map) => {
                map.remove("examples");
                map.remove("example");
                map.values_mut().for_each(strip);
            }
            Value::Array(items) => items.iter_mut().for_each(strip),
            _ => {}
        }
    }
    strip(&mut value);
    value
}

fn file(name: &str) -> String {
    format!("schemas/{name}.schema.json")
}

/// Adds what the types cannot say: an identifier, ranges, formats, examples.
fn finish(schema: &mut Value, name: &str, examples: &[Value]) {
    let title = schema.get("title").and_then(Value::as_str).unwrap_or_default().to_owned();
    ranges::add(&title, schema);
    if let Some(Value::Object(definitions)) = schema.get_mut("$defs") {
        for (name, definition) in definitions.iter_mut() {
            ranges::add(name, definition);
        }
    }
    if let Value::Object(map) = schema {
        let mut ordered = Map::new();
        for key in ["$schema"] {
            if let Some(v) = map.remove(key) {
                ordered.insert(key.into(), v);
            }
        }
        ordered.insert("$id".into(), json!(format!("urn:guardcell:schema:{name}")));
        ordered.append(map);
        if !examples.is_empty() {
            ordered.insert("examples".into(), json!(examples));
        }
        *map = ordered;
    }
}

/// Numbers of an example to four significant digits, for reading.
fn rounded(value: Value) -> Value {
    match value {
        Value::Number(n) if n.is_f64() => {
            let x = n.as_f64().unwrap_or_default();
            let short: f64 = format!("{x:.3e}").parse().unwrap_or(x);
            json!(short)
        }
        Value::Array(items) => Value::Array(items.into_iter().map(rounded).collect()),
        Value::Object(map) => {
            Value::Object(map.into_iter().map(|(k, v)| (k, rounded(v))).collect())
        }
        other => other,
    }
}
