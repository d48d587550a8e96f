//! The types of calls, as the description of the API has them: other languages get theirs from it.

use guardcell::calls::ALL;
use serde_json::{Map, Value};
use std::collections::BTreeSet;

pub(crate) const COMPONENTS: &str = "#/components/schemas/";

/// The request and the answer of a call, as the API names them.
pub(crate) fn types<'v>(api: &'v Value, path: &str) -> Option<(&'v str, &'v str)> {
    let post = &api["paths"][format!("/v1/{path}")]["post"];
    let name = |body: &'v Value| {
        body["content"]["application/json"]["schema"]["$ref"].as_str()?.strip_prefix(COMPONENTS)
    };
    Some((name(&post["requestBody"])?, name(&post["responses"]["200"])?))
}

/// The schemas that requests and answers are made of, in the order of their names.
pub(crate) fn reached(api: &Value, schemas: &Map<String, Value>) -> Vec<String> {
    let mut found = BTreeSet::new();
    let mut open: Vec<String> = ALL
        .iter()
        .filter_map(|call| types(api, call.path()))
        .flat_map(|(request, answer)| [request.to_owned(), answer.to_owned()])
        .collect();
    while let Some(name) = open.pop() {
        if let Some(schema) = schemas.get(&name)
            && found.insert(name)
        {
            references(schema, &mut open);
        }
    }
    found.into_iter().collect()
}

fn references(schema: &Value, out: &mut Vec<String>) {
    match schema {
        Value::Object(map) => {
            for (key, value) in map {
                match value {
                    Value::String(to) if key == "$ref" => {
                        out.extend(to.strip_prefix(COMPONENTS).map(str::to_owned));
                    }
                    other => references(other, out),
                }
            }
        }
        Value::Array(items) => items.iter().for_each(|item| references(item, out)),
        _ => {}
    }
}
