//! Python as it is written: names, types, documentation.

use crate::api_types::COMPONENTS;
use serde_json::{Map, Value};

/// Words that no field of a dataclass can have as its name.
const KEYWORDS: [&str; 6] = ["class", "from", "global", "in", "is", "with"];

/// The name of a field; the wire has no underscore at the end.
pub(super) fn field(name: &str) -> String {
    if KEYWORDS.contains(&name) { format!("{name}_") } else { name.to_owned() }
}

/// Where a type is written.
#[derive(Clone, Copy)]
pub(super) enum Place<'v> {
    /// Among the dataclasses.
    Model,
    /// As the argument of a function, which takes mappings and any sequence as well; with the
    /// schemas that say what is an object.
    Argument(&'v Map<String, Value>),
}

/// The type of a schema.
pub(super) fn type_of(schema: &Value, place: Place<'_>) -> Result<String, String> {
    if let Some(to) = schema["$ref"].as_str() {
        let name = to.strip_prefix(COMPONENTS).ok_or_else(|| format!("{to} is elsewhere"))?;
        return Ok(match place {
            Place::Model => name.to_owned(),
            Place::Argument(schemas) if schemas.get(name).is_some_and(|s| s["enum"].is_array()) => {
                format!("models.{name}")
            }
            Place::Argument(_) => format!("models.{name} | Mapping[str, Any]"),
        });
    }
    if let Some(word) = schema["const"].as_str() {
        return Ok(format!("Literal[{}]", quoted(word)));
    }
    if let Some(words) = schema["enum"].as_array() {
        let words: Vec<String> = words.iter().filter_map(Value::as_str).map(quoted).collect();
        return Ok(format!("Literal[{}]", words.join(", ")));
    }
    for key in ["anyOf", "oneOf"] {
        if let Some(forms) = schema[key].as_array() {
            let forms: Result<Vec<String>, String> =
                forms.iter().map(|form| type_of(form, place)).collect();
            return Ok(forms?.join(" | "));
        }
    }
    let kinds: Vec<&str> = match &schema["type"] {
        Value::String(kind) => vec![kind],
        Value::Array(kinds) => kinds.iter().filter_map(Value::as_str).collect(),
        _ => return Err(format!("no type: {schema}")),
    };
    let types: Result<Vec<String>, String> =
        kinds.iter().map(|kind| plain(kind, schema, place)).collect();
    Ok(types?.join(" | "))
}

fn plain(kind: &str, schema: &Value, place: Place<'_>) -> Result<String, String> {
    Ok(match kind {
        "string" => "str".into(),
        "number" => "float".into(),
        "integer" => "int".into(),
        "boolean" => "bool".into(),
        "null" => "None".into(),
        "array" => match schema["prefixItems"].as_array() {
            Some(items) => {
                let items: Result<Vec<String>, String> =
                    items.iter().map(|item| type_of(item, place)).collect();
                format!("tuple[{}]", items?.join(", "))
            }
            None => {
                let item = type_of(&schema["items"], place)?;
                let list = if matches!(place, Place::Model) { "list" } else { "Sequence" };
                format!("{list}[{item}]")
            }
        },
        "object" => match &schema["additionalProperties"] {
            Value::Bool(true) => "dict[str, Any]".into(),
            inner @ Value::Object(_) => format!("dict[str, {}]", type_of(inner, place)?),
            _ => return Err(format!("an object without a name: {schema}")),
        },
        other => return Err(format!("the type {other}")),
    })
}

/// A string literal.
pub(super) fn quoted(text: &str) -> String {
    format!("{text:?}")
}

/// The text of a description, without examples in Rust, as lines of a docstring.
pub(super) fn description(schema: &Value) -> String {
    let text = schema["description"].as_str().unwrap_or("");
    let text = text.split("```").next().unwrap_or("").trim();
    text.replace('\\', "\\\\").replace("\"\"\"", "'''")
}

/// A docstring with this indentation.
pub(super) fn docstring(text: &str, indent: &str) -> String {
    let lines: Vec<String> = text
        .lines()
        .enumerate()
        .map(|(i, line)| match line.trim_end() {
            "" => String::new(),
            line if i == 0 => line.to_owned(),
            line => format!("{indent}{line}"),
        })
        .collect();
    let end = if lines.len() > 1 { format!("\n{indent}") } else { String::new() };
    // A quote before the closing quotes would join them.
    let gap =
        if lines.last().is_some_and(|l| l.ends_with('"')) && end.is_empty() { " " } else { "" };
    format!("{indent}\"\"\"{}{gap}{end}\"\"\"\n", lines.join("\n"))
}
