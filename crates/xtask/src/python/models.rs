//! A dataclass for every object, a `Literal` for every choice of words.

use super::words::{Place, description, docstring, field, type_of};
use serde_json::{Map, Value};
use std::collections::BTreeSet;
use std::fmt::Write as _;

const HEAD: &str = "\"\"\"The types of requests and answers, one a schema.

Made with `cargo xtask python`; do not edit. Field names end in their unit. What an answer does not
have, and what a request leaves out, is `None`. A name that Python keeps to itself has an underscore at
its end: `from_`, `with_`.
\"\"\"

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, TypeAlias
";

pub(super) fn text(schemas: &Map<String, Value>, wanted: &[String]) -> Result<String, String> {
    let mut out = HEAD.to_owned();
    // Choices are expressions, so that what they name must come before them.
    let mut aliases = String::new();
    for name in wanted {
        let Some(schema) = schemas.get(name) else { continue };
        let made = |e: String| format!("{name}: {e}");
        if let Some(properties) = schema["properties"].as_object() {
            out.push_str(&class(name, schema, properties).map_err(made)?);
        } else if let Some(forms) = schema["oneOf"].as_array() {
            let mut names = Vec::new();
            for form in forms {
                match form["properties"].as_object() {
                    // A form without a name of its own has that of its kind.
                    Some(properties) => {
                        let own =
                            format!("{name}{}", kind(form).ok_or_else(|| made("kind".into()))?);
                        out.push_str(&class(&own, form, properties).map_err(made)?);
                        names.push(own);
                    }
                    None => names.push(type_of(form, Place::Model).map_err(made)?),
                }
            }
            alias(&mut aliases, name, &names.join(" | "), schema);
        } else if is_empty_object(schema) {
            out.push_str(&class(name, schema, &Map::new()).map_err(made)?);
        } else {
            alias(&mut aliases, name, &type_of(schema, Place::Model).map_err(made)?, schema);
        }
    }
    out.push_str("\n\n");
    out.push_str(aliases.trim_start());
    Ok(out)
}

fn is_empty_object(schema: &Value) -> bool {
    schema["type"] == "object" && schema["additionalProperties"] == false
}

/// The kind that a form is marked with, in capitals.
fn kind(form: &Value) -> Option<String> {
    let word = form["properties"]["kind"]["const"].as_str()?;
    let capital = |part: &str| {
        let mut letters = part.chars();
        letters.next().map(|first| first.to_uppercase().chain(letters).collect::<String>())
    };
    Some(word.split('_').filter_map(capital).collect())
}

fn alias(out: &mut String, name: &str, of: &str, schema: &Value) {
    let _ = write!(out, "\n{name}: TypeAlias = {}\n", wrapped(of));
    out.push_str(&docstring(&description(schema), ""));
}

/// Long choices over several lines.
fn wrapped(of: &str) -> String {
    match of.strip_prefix("Literal[").and_then(|rest| rest.strip_suffix(']')) {
        Some(words) if of.len() > 70 => {
            format!("Literal[\n    {},\n]", words.replace(", ", ",\n    "))
        }
        _ if of.len() > 70 => format!("(\n    {}\n)", of.replace(" | ", "\n    | ")),
        _ => of.to_owned(),
    }
}

fn class(name: &str, schema: &Value, properties: &Map<String, Value>) -> Result<String, String> {
    let mut out = format!("\n\n@dataclass(frozen=True, kw_only=True, slots=True)\nclass {name}:\n");
    let text = description(schema);
    if !text.is_empty() {
        out.push_str(&docstring(&text, "    "));
    }
    let required: Vec<&str> =
        schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
    let rest = properties.keys().map(String::as_str).filter(|p| !required.contains(p));
    let order: Vec<&str> = required.iter().copied().chain(rest).collect();
    let mut seen = BTreeSet::new();
    for property in order {
        if !seen.insert(property) {
            continue;
        }
        let inner = &properties[property];
        let of = type_of(inner, Place::Model)?;
        let line = match inner["const"].as_str() {
            Some(word) => format!("{of} = {word:?}"),
            None if required.contains(&property) => of,
            None if of.split(" | ").any(|t| t == "None") => format!("{of} = None"),
            None => format!("{of} | None = None"),
        };
        let _ = writeln!(out, "\n    {}: {line}", field(property));
        let text = description(inner);
        if !text.is_empty() {
            out.push_str(&docstring(&text, "    "));
        }
    }
    Ok(out)
}
