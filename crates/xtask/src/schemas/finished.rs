//! What the types cannot say of a schema.

use serde_json::{Map, Value, json};

/// The schema with what the types cannot say: an identifier and examples.
pub(super) fn finished(schema: Value, name: &str, examples: &[Value]) -> Value {
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
