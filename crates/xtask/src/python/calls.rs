//! A function for every call.

use super::words::{Place, description, docstring, field, type_of};
use crate::api_types::types;
use guardcell::calls::{ALL, AnyCall};
use serde_json::{Map, Value};
use std::fmt::Write as _;

const HEAD: &str = "\"\"\"A function for every call.

Made with `cargo xtask python`; do not edit. What is required comes first and may be given by place;
the rest is given by name, and what is `None` is left out. An object may be given as its dataclass of
`guardcell.models` or as a mapping.
\"\"\"

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal

from guardcell import models
from guardcell.wire import ask
";

pub(super) fn text(api: &Value, schemas: &Map<String, Value>) -> Result<String, String> {
    let mut out = HEAD.to_owned();
    let names: Vec<String> = ALL.iter().map(|call| format!("    {:?},\n", call.name())).collect();
    let _ = write!(out, "\n__all__ = [\n{}]\n", names.concat());
    for call in ALL {
        let (request, answer) = types(api, call.path())
            .ok_or_else(|| format!("{} has no types in the API", call.name()))?;
        let schema = schemas.get(request).ok_or_else(|| format!("{request} is missing"))?;
        out.push_str(
            &function(call, schema, answer, schemas)
                .map_err(|e| format!("{}: {e}", call.name()))?,
        );
    }
    if !out.contains("Literal[") {
        out = out.replace("from typing import Any, Literal\n", "from typing import Any\n");
    }
    Ok(out)
}

fn function(
    call: &AnyCall,
    request: &Value,
    answer: &str,
    schemas: &Map<String, Value>,
) -> Result<String, String> {
    let place = Place::Argument(schemas);
    let none = Map::new();
    let properties = request["properties"].as_object().unwrap_or(&none);
    let required: Vec<&str> =
        request["required"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
    let mut out = format!("\n\ndef {}(\n", call.name());
    let mut parameters = String::new();
    let mut given = String::new();
    let mut add = |name: &str, text: &str| {
        let _ = writeln!(parameters, "    :param {}: {}", field(name), indented(text));
        let _ = writeln!(given, "            {name:?}: {},", field(name));
    };
    for name in &required {
        let inner = &properties[*name];
        let _ = writeln!(out, "    {}: {},", field(name), type_of(inner, place)?);
        add(name, &description(inner));
    }
    let mut optional = String::new();
    for (name, inner) in properties.iter().filter(|(name, _)| !required.contains(&name.as_str())) {
        let of = type_of(inner, place)?;
        let of = if of.split(" | ").any(|t| t == "None") { of } else { format!("{of} | None") };
        let _ = writeln!(optional, "    {}: {of} = None,", field(name));
        add(name, &description(inner));
    }
    if !optional.is_empty() {
        out.push_str("    *,\n");
        out.push_str(&optional);
    }
    let _ = writeln!(out, ") -> models.{answer}:");
    let text = format!(
        "{}.\n\n{}\n\n{}:raises guardcell.Error: if the request is refused",
        call.summary(),
        filled(call.description()),
        parameters.replace("\n    ", "\n").trim_start(),
    );
    out.push_str(&docstring(&text, "    "));
    let _ = write!(
        out,
        "    return ask(\n        {:?},\n        {{\n{given}        }},\n        models.{answer},\n    )\n",
        call.name()
    );
    Ok(out)
}

/// The lines after the first of a parameter, further in.
fn indented(text: &str) -> String {
    text.replace('\n', "\n        ")
}

/// A paragraph in lines of at most 96 characters.
fn filled(text: &str) -> String {
    let mut out = String::new();
    let mut width = 0;
    for word in text.replace('\\', "\\\\").split_whitespace() {
        let length = word.chars().count();
        if width > 0 && width + 1 + length > 96 {
            out.push('\n');
            width = 0;
        } else if width > 0 {
            out.push(' ');
            width += 1;
        }
        out.push_str(word);
        width += length;
    }
    out
}
