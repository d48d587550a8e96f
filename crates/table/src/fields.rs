//! What a JSON Schema says about the fields of a type.

use serde_json::Value;

/// The names of the fields.
pub(crate) fn properties(schema: &Value) -> Vec<String> {
    let fields = schema.get("properties").and_then(Value::as_object);
    fields.map(|f| f.keys().cloned().collect()).unwrap_or_default()
}

/// The names of the fields that have to be given.
pub(crate) fn missing(schema: &Value) -> Vec<String> {
    let names = schema.get("required").and_then(Value::as_array);
    names.into_iter().flatten().filter_map(|n| n.as_str().map(str::to_owned)).collect()
}

/// Whether a value of this schema may hold something under a path such as `windows.0.start`.
#[must_use]
pub fn has_path(schema: &Value, path: &str) -> bool {
    let parts: Vec<&str> = path.split('.').collect();
    leads(schema, schema, &parts, 0)
}

fn leads(root: &Value, at: &Value, parts: &[&str], depth: u8) -> bool {
    // A schema may lead back to itself; no answer is nested that deep.
    if depth > 32 {
        return false;
    }
    let down = |next: &Value, parts: &[&str]| leads(root, next, parts, depth + 1);
    if let Some(name) = at.get("$ref").and_then(Value::as_str) {
        let found = name.strip_prefix('#').and_then(|pointer| root.pointer(pointer));
        return found.is_some_and(|next| down(next, parts));
    }
    let several = ["anyOf", "oneOf", "allOf"];
    let mut forms = several.iter().filter_map(|k| at.get(*k)?.as_array()).flatten();
    if forms.any(|form| down(form, parts)) {
        return true;
    }
    let Some((first, rest)) = parts.split_first() else { return true };
    if let Some(next) = at.get("properties").and_then(|p| p.get(*first)) {
        return down(next, rest);
    }
    if let Some(next) = at.get("items") {
        return first.parse::<usize>().is_ok() && down(next, rest);
    }
    match at.get("additionalProperties") {
        Some(Value::Bool(false)) | None => false,
        Some(Value::Bool(true)) => true,
        Some(next) => down(next, rest),
    }
}
