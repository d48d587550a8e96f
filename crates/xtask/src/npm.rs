//! The package for npm: the engine with a function and the types of every call.
//!
//! | file in `crates/wasm/npm/` | holds |
//! | --- | --- |
//! | `types.d.ts` | an interface for every object, a union for every choice, and `Calls`; made here |
//! | the rest | written by hand |

use crate::api_types::{COMPONENTS, reached, types};
use guardcell::calls::ALL;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::error::Error;
use std::fmt::Write as _;
use std::path::Path;

const FOLDER: &str = "crates/wasm/npm";
const ENGINE: [&str; 2] = ["engine.js", "engine_bg.wasm"];
const WRITTEN: [&str; 4] = ["index.mjs", "index.d.ts", "types.d.ts", "README.md"];

const HEAD: &str = "// The types of requests and answers, one a schema, and of every call.
//
// Made with `cargo xtask npm`; do not edit. Field names end in their unit.
";

/// Every generated file with its content, by path from the root of the repository.
///
/// # Errors
/// If a schema has a form that has no type in TypeScript.
pub fn documents(root: &Path) -> Result<BTreeMap<String, String>, Box<dyn Error>> {
    let api = crate::schemas::api(ALL, root)?;
    let schemas = api["components"]["schemas"].as_object().ok_or("the API has no schemas")?;
    let mut out = HEAD.to_owned();
    for name in reached(&api, schemas) {
        let Some(schema) = schemas.get(&name) else { continue };
        out.push('\n');
        comment(&mut out, schema, "");
        let of = type_of(schema, "").map_err(|e| format!("{name}: {e}"))?;
        match schema["properties"].is_object() {
            true => writeln!(out, "export interface {name} {of}")?,
            false => writeln!(out, "export type {name} = {of};")?,
        }
    }
    out.push_str("\n/** Every call by its name, with the types of its request and answer. */\n");
    out.push_str("export interface Calls {\n");
    for call in ALL {
        let (request, answer) = types(&api, call.path())
            .ok_or_else(|| format!("{} has no types in the API", call.name()))?;
        writeln!(out, "  /** {}. */", call.summary())?;
        writeln!(out, "  {}: {{ request: {request}; response: {answer} }};", call.name())?;
    }
    out.push_str("}\n");
    Ok(BTreeMap::from([(format!("{FOLDER}/types.d.ts"), out)]))
}

/// Writes every generated file; with an engine also the folder of the package, ready for `npm pack`.
///
/// # Errors
/// As [`documents`]; also if a file cannot be read or written.
pub fn write(root: &Path, package: Option<(&Path, &Path)>) -> Result<(), Box<dyn Error>> {
    for (path, text) in documents(root)? {
        std::fs::write(root.join(path), text)?;
    }
    let Some((engine, output)) = package else { return Ok(()) };
    std::fs::create_dir_all(output)?;
    for name in ENGINE {
        let from = engine.join(name);
        std::fs::copy(&from, output.join(name)).map_err(|e| format!("{}: {e}", from.display()))?;
    }
    for name in WRITTEN {
        std::fs::copy(root.join(FOLDER).join(name), output.join(name))?;
    }
    for name in ["LICENSE-APACHE", "LICENSE-MIT"] {
        std::fs::copy(root.join(name), output.join(name))?;
    }
    let files: Vec<&str> = ENGINE.into_iter().chain(WRITTEN).collect();
    let manifest = json!({
        "name": "guardcell",
        "version": env!("CARGO_PKG_VERSION"),
        "description": "Feeding plants through the leaf: when, how strong, and why",
        "license": "(MIT OR Apache-2.0)",
        "type": "module",
        "engines": { "node": ">=20" },
        "exports": {
            ".": { "types": "./index.d.ts", "default": "./index.mjs" },
            "./engine_bg.wasm": "./engine_bg.wasm"
        },
        "types": "./index.d.ts",
        "sideEffects": false,
        "files": files
    });
    std::fs::write(output.join("package.json"), format!("{manifest:#}\n"))?;
    Ok(())
}

/// The type of a schema; the lines of an object are further in than `indent`.
fn type_of(schema: &Value, indent: &str) -> Result<String, String> {
    if let Some(to) = schema["$ref"].as_str() {
        let name = to.strip_prefix(COMPONENTS).ok_or_else(|| format!("{to} is elsewhere"))?;
        return Ok(name.to_owned());
    }
    if let Some(properties) = schema["properties"].as_object() {
        return object(schema, properties, indent);
    }
    if schema["const"].is_string() {
        return Ok(schema["const"].to_string());
    }
    if let Some(words) = schema["enum"].as_array() {
        let words: Vec<String> = words.iter().map(Value::to_string).collect();
        return Ok(words.join(" | "));
    }
    for key in ["anyOf", "oneOf"] {
        if let Some(forms) = schema[key].as_array() {
            let forms: Result<Vec<String>, String> =
                forms.iter().map(|form| type_of(form, indent)).collect();
            return Ok(forms?.join(" | "));
        }
    }
    let kinds: Vec<&str> = match &schema["type"] {
        Value::String(kind) => vec![kind],
        Value::Array(kinds) => kinds.iter().filter_map(Value::as_str).collect(),
        _ => return Err(format!("no type: {schema}")),
    };
    let types: Result<Vec<String>, String> =
        kinds.iter().map(|kind| plain(kind, schema, indent)).collect();
    Ok(types?.join(" | "))
}

fn plain(kind: &str, schema: &Value, indent: &str) -> Result<String, String> {
    Ok(match kind {
        "number" | "integer" => "number".into(),
        "string" | "boolean" | "null" => kind.into(),
        "array" => match schema["prefixItems"].as_array() {
            Some(items) => {
                let items: Result<Vec<String>, String> =
                    items.iter().map(|item| type_of(item, indent)).collect();
                format!("[{}]", items?.join(", "))
            }
            None => format!("Array<{}>", type_of(&schema["items"], indent)?),
        },
        "object" => match &schema["additionalProperties"] {
            Value::Bool(true) => "Record<string, unknown>".into(),
            Value::Bool(false) => "Record<string, never>".into(),
            inner @ Value::Object(_) => format!("Record<string, {}>", type_of(inner, indent)?),
            _ => return Err(format!("an object without fields: {schema}")),
        },
        other => return Err(format!("the type {other}")),
    })
}

fn object(schema: &Value, properties: &Map<String, Value>, indent: &str) -> Result<String, String> {
    let required = schema["required"].as_array();
    let required = |name: &str| required.is_some_and(|all| all.iter().any(|r| r == name));
    let inside = format!("{indent}  ");
    let mut out = String::from("{\n");
    for (name, inner) in properties {
        comment(&mut out, inner, &inside);
        let of = type_of(inner, &inside).map_err(|e| format!("{name}: {e}"))?;
        let mark = if required(name) { "" } else { "?" };
        let _ = writeln!(out, "{inside}{name}{mark}: {of};");
    }
    out.push_str(indent);
    out.push('}');
    Ok(out)
}

/// The description of a schema, without examples in Rust.
fn comment(out: &mut String, schema: &Value, indent: &str) {
    let text = schema["description"].as_str().unwrap_or("");
    let text = text.split("```").next().unwrap_or("").trim().replace("*/", "* /");
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    match lines.as_slice() {
        [] => {}
        [one] => {
            let _ = writeln!(out, "{indent}/** {one} */");
        }
        many => {
            let _ = writeln!(out, "{indent}/**");
            for line in many {
                let _ = writeln!(out, "{}", format!("{indent} * {line}").trim_end());
            }
            let _ = writeln!(out, "{indent} */");
        }
    }
}
