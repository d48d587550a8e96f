//! Schemas in the form that client generators prefer: a choice of words is one `enum`, and every
//! form of a choice has its own name. What is accepted stays the same.

use serde_json::{Map, Value, json};

/// Rewrites the components of an API description.
pub(super) fn make(schemas: &mut Map<String, Value>) {
    for schema in schemas.values_mut() {
        words(schema);
    }
    let names: Vec<String> = schemas.keys().cloned().collect();
    for name in names {
        let mut named = Vec::new();
        if let Some(Value::Array(forms)) = schemas.get_mut(&name).and_then(|s| s.get_mut("oneOf")) {
            for form in forms {
                name_form(&name, form, &mut named);
            }
        }
        for (name, schema) in named {
            schemas.insert(name, schema);
        }
    }
}

/// A choice of constant words, each with its description, as one `enum` whose description lists
/// them.
fn words(schema: &mut Value) {
    match schema {
        Value::Object(map) => {
            map.iter_mut()
                .filter(|(key, _)| !matches!(key.as_str(), "example" | "examples"))
                .for_each(|(_, inner)| words(inner));
            let Some(Value::Array(choices)) = map.get("oneOf") else { return };
            let mut all = Vec::new();
            let mut text = map.get("description").and_then(Value::as_str).unwrap_or("").to_owned();
            for choice in choices {
                let names: Vec<&str> = match (&choice["const"], &choice["enum"]) {
                    (Value::String(word), _) => vec![word],
                    (_, Value::Array(words)) => words.iter().filter_map(Value::as_str).collect(),
                    _ => return,
                };
                let why = choice["description"].as_str().unwrap_or("");
                for word in names {
                    text.push_str(&match why {
                        "" => format!("\n- `{word}`"),
                        why => format!("\n- `{word}`: {}", why.replace('\n', " ")),
                    });
                    all.push(json!(word));
                }
            }
            map.remove("oneOf");
            map.insert("type".into(), json!("string"));
            map.insert("enum".into(), Value::Array(all));
            map.insert("description".into(), json!(text));
        }
        Value::Array(items) => items.iter_mut().for_each(words),
        _ => {}
    }
}

/// Puts a form of a choice, and the object in it, among the named schemas.
fn name_form(choice: &str, form: &mut Value, named: &mut Vec<(String, Value)>) {
    // A word beside other forms: as an `enum` it is read as one form of several.
    if let Some(map) = form.as_object_mut()
        && let Some(word) = map.remove("const")
    {
        map.insert("enum".into(), json!([word]));
    }
    let Some(Value::Object(fields)) = form.get_mut("properties") else { return };
    if fields.len() != 1 {
        return;
    }
    let Some((field, inner)) = fields.iter_mut().next() else { return };
    let name = format!("{choice}{}", pascal(field));
    if inner.get("properties").is_some() {
        let inner_name = format!("{name}Value");
        let reference = json!({ "$ref": format!("#/components/schemas/{inner_name}") });
        named.push((inner_name, std::mem::replace(inner, reference)));
    }
    let reference = json!({ "$ref": format!("#/components/schemas/{name}") });
    named.push((name, std::mem::replace(form, reference)));
}

/// `alkalinity_mg_l` as `AlkalinityMgL`.
fn pascal(field: &str) -> String {
    let mut out = String::new();
    for word in field.split('_') {
        let mut letters = word.chars();
        out.extend(letters.next().map(|c| c.to_ascii_uppercase()));
        out.push_str(letters.as_str());
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn made(value: Value) -> Map<String, Value> {
        let Value::Object(mut schemas) = value else { unreachable!("an object is given") };
        make(&mut schemas);
        schemas
    }

    #[test]
    fn words_become_one_enum() {
        let schemas = made(json!({ "Leaf": { "description": "A leaf.", "oneOf": [
            { "const": "thin", "type": "string", "description": "Below\nhalf." },
            { "enum": ["thick", "terete"], "type": "string" }
        ] } }));
        assert_eq!(
            schemas["Leaf"],
            json!({ "type": "string", "enum": ["thin", "thick", "terete"],
                "description": "A leaf.\n- `thin`: Below half.\n- `thick`\n- `terete`" })
        );
    }

    #[test]
    fn forms_get_names() {
        let number = json!({ "type": "number" });
        let schemas = made(json!({ "Target": { "oneOf": [
            { "const": "none", "type": "string" },
            { "type": "object", "required": ["feed_strength"], "properties": {
                "feed_strength": { "type": "object", "properties": { "mg_l": number } } } }
        ] } }));
        assert_eq!(schemas["Target"]["oneOf"][0], json!({ "enum": ["none"], "type": "string" }));
        assert_eq!(
            schemas["Target"]["oneOf"][1]["$ref"],
            "#/components/schemas/TargetFeedStrength"
        );
        assert_eq!(
            schemas["TargetFeedStrength"]["properties"]["feed_strength"]["$ref"],
            "#/components/schemas/TargetFeedStrengthValue"
        );
        assert_eq!(schemas["TargetFeedStrengthValue"]["properties"]["mg_l"], number);
    }
}
