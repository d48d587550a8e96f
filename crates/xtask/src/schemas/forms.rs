//! The schemas of the requests of every call in one text, without what explains a field: what a page
//! downloads to explain refusals.

use super::generators::deserialized;
use guardcell::calls::{ALL, Form};
use serde_json::{Map, Value};

/// Where it is, from the root of the repository.
pub const PATH: &str = "crates/guardcell/forms.json";

/// Keywords that judge nothing.
const WORDS: [&str; 6] = ["$schema", "default", "description", "examples", "format", "title"];

/// The text, one call a line.
///
/// # Errors
/// Never for schemas of this project.
pub fn text() -> Result<String, serde_json::Error> {
    let lists = [ALL, guardcell_folder::calls::ALL, guardcell_conditions::calls::ALL];
    let mut lines = Vec::new();
    for call in lists.into_iter().flatten() {
        let mut schema = call.request_schema(&mut deserialized(), Form::Document).to_value();
        bare(&mut schema);
        lines.push(format!("{:?}:{}", call.name(), serde_json::to_string(&schema)?));
    }
    Ok(format!("{{\n{}\n}}\n", lines.join(",\n")))
}

fn bare(schema: &mut Value) {
    let Value::Object(schema) = schema else { return };
    schema.retain(|keyword, _| !WORDS.contains(&&**keyword));
    for (keyword, rule) in schema {
        match (keyword.as_str(), rule) {
            ("properties" | "$defs", Value::Object(named)) => each(named),
            ("anyOf" | "oneOf", Value::Array(forms)) => forms.iter_mut().for_each(bare),
            ("items" | "additionalProperties", rule) => bare(rule),
            _ => {}
        }
    }
}

fn each(named: &mut Map<String, Value>) {
    named.values_mut().for_each(bare);
}
