//! `schemas/` says what the types say, and the examples in it hold.

mod support;

use guardcell_xtask::schemas::{CALLS, Examples, JOURNAL, documents, text, without_examples};
use jsonschema::Validator;
use serde_json::{Value, json};
use support::root;

fn validator(schema: &Value) -> Validator {
    jsonschema::options().should_validate_formats(true).build(schema).unwrap()
}

fn schema(name: &str) -> Value {
    let path = root().join(format!("schemas/{name}.schema.json"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

#[test]
fn the_generated_files_are_current() {
    for (path, value) in documents(&root()).unwrap() {
        let there = std::fs::read_to_string(root().join(&path)).unwrap_or_default();
        let there: Value = serde_json::from_str(&there).unwrap_or_default();
        assert_eq!(
            text(&without_examples(there)).unwrap(),
            text(&without_examples(value)).unwrap(),
            "{path} is stale: run `cargo xtask schemas`"
        );
    }
}

#[test]
fn every_schema_has_titles_and_descriptions() {
    for call in CALLS.iter().chain(JOURNAL) {
        for name in [call.request, call.response] {
            let schema = schema(name);
            assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
            assert!(schema["title"].is_string() && schema["description"].is_string(), "{name}");
            assert!(schema["examples"][0].is_object(), "{name} has no example");
            for (field, property) in schema["properties"].as_object().unwrap() {
                let described = property["description"].is_string();
                assert!(described, "{name}: {field} has no description");
            }
        }
    }
}

#[test]
fn good_examples_validate_and_so_do_their_answers() {
    for call in CALLS.iter().chain(JOURNAL) {
        let (request, response) =
            (validator(&schema(call.request)), validator(&schema(call.response)));
        for (i, good) in Examples::of(call, &root()).unwrap().good.iter().enumerate() {
            if let Err(e) = request.validate(good) {
                panic!("{} example {i}: {e} at {}", call.request, e.instance_path());
            }
            // A round needs a feed, which an advice may go without.
            if call.path == "/v1/rounds" && good.get("feed").is_none() {
                continue;
            }
            let answer =
                (call.answer)(good).unwrap_or_else(|e| panic!("{} example {i}: {e}", call.request));
            if let Err(e) = response.validate(&answer) {
                panic!("{} of example {i}: {e} at {}", call.response, e.instance_path());
            }
        }
        for example in schema(call.response)["examples"].as_array().unwrap() {
            if let Err(e) = response.validate(example) {
                panic!("{}: {e} at {}", call.response, e.instance_path());
            }
        }
    }
}

#[test]
fn bad_examples_are_refused_by_schema_and_function() {
    for call in CALLS.iter().chain(JOURNAL) {
        let request = validator(&schema(call.request));
        let bad = Examples::of(call, &root()).unwrap().bad;
        assert!(!bad.is_empty(), "{}", call.request);
        for example in bad {
            assert!(!request.is_valid(&example.value), "{}: {}", call.request, example.why);
            assert!((call.answer)(&example.value).is_err(), "{}: {}", call.request, example.why);
        }
    }
}

/// Every number that a schema bounds, at every place where a good example has it, is refused by
/// the function itself just outside its bounds.
#[test]
fn every_range_is_held_by_the_function() {
    let mut tried = 0;
    for call in CALLS.iter().chain(JOURNAL) {
        let schema = schema(call.request);
        for good in Examples::of(call, &root()).unwrap().good {
            if call.path == "/v1/rounds" {
                continue; // the same request as advice
            }
            let mut places = Vec::new();
            bounded(&schema, &schema, &good, String::new(), &mut places);
            for (pointer, outside) in places {
                let mut wrong = good.clone();
                *wrong.pointer_mut(&pointer).unwrap() = outside.clone();
                let answer = (call.answer)(&wrong);
                assert!(answer.is_err(), "{} takes {outside} at {pointer}", call.request);
                tried += 1;
            }
        }
    }
    assert!(tried > 100, "only {tried} ranges were tried");
}

/// Collects values just outside the bounds of each number of an example.
fn bounded(
    root: &Value,
    schema: &Value,
    value: &Value,
    pointer: String,
    out: &mut Vec<(String, Value)>,
) {
    if let Some(reference) = schema["$ref"].as_str() {
        let target = root.pointer(reference.trim_start_matches('#')).unwrap();
        return bounded(root, target, value, pointer, out);
    }
    for key in ["anyOf", "oneOf", "allOf"] {
        for branch in schema[key].as_array().into_iter().flatten() {
            bounded(root, branch, value, pointer.clone(), out);
        }
    }
    match value {
        Value::Number(_) => {
            if let Some(low) = schema["minimum"].as_f64() {
                out.push((pointer.clone(), json!(low - 1.0)));
            }
            if let Some(low) = schema["exclusiveMinimum"].as_f64() {
                out.push((pointer.clone(), json!(low)));
            }
            if let Some(high) = schema["maximum"].as_f64() {
                let whole = schema["type"] == "integer";
                out.push((pointer, if whole { json!(high as i64 + 1) } else { json!(high + 1.0) }));
            }
        }
        Value::Object(fields) => {
            for (name, v) in fields {
                let inner = &schema["properties"][name];
                if !inner.is_null() {
                    bounded(root, inner, v, format!("{pointer}/{name}"), out);
                }
            }
        }
        Value::Array(items) => {
            for (i, v) in items.iter().enumerate() {
                bounded(root, &schema["items"], v, format!("{pointer}/{i}"), out);
            }
        }
        _ => {}
    }
}

/// The maps of the demo data meet the schema of maps, what they give meets that of reports, and a
/// map with a slip of the pen meets it as little as the reader takes it.
#[test]
fn maps_of_conditions_meet_their_schema() {
    use guardcell_xtask::schemas::conditions::{MAPS, logger, map};
    let maps = validator(&schema("conditions-map"));
    for name in MAPS {
        let good = map(name, &root()).unwrap();
        if let Err(e) = maps.validate(&good) {
            panic!("{name}: {e} at {}", e.instance_path());
        }
        for (pointer, wrong) in [
            ("/source", json!("xml")),
            ("/max_age_h", json!(0)),
            ("/duplicates", json!("best")),
            ("/colour", json!("green")),
        ] {
            let mut bad = good.clone();
            bad[pointer.trim_start_matches('/')] = wrong;
            assert!(!maps.is_valid(&bad), "{name} with {pointer}");
            let text = toml::to_string(&bad).unwrap();
            assert!(
                guardcell_conditions::Map::parse(&text, name).is_err(),
                "{name} with {pointer}"
            );
        }
    }
    let read = logger(&root()).unwrap();
    for (name, value) in [
        ("conditions-report", serde_json::to_value(&read.report).unwrap()),
        ("conditions-read", serde_json::to_value(&read).unwrap()),
    ] {
        if let Err(e) = validator(&schema(name)).validate(&value) {
            panic!("{name}: {e} at {}", e.instance_path());
        }
    }
}

/// The API description is a valid OpenAPI 3.1 document as far as its own references go: each
/// resolves, each path has a summary, each operation id is used once.
#[test]
fn the_api_description_hangs_together() {
    let path = root().join("schemas/openapi.json");
    let document: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    assert_eq!(document["openapi"], "3.1.0");
    let mut references = Vec::new();
    collect(&document, &mut references);
    assert!(references.len() > 100);
    for reference in references {
        let target = document.pointer(reference.trim_start_matches('#'));
        assert!(target.is_some(), "{reference} leads nowhere");
    }
    let mut ids = std::collections::BTreeSet::new();
    for (path, methods) in document["paths"].as_object().unwrap() {
        for operation in methods.as_object().unwrap().values() {
            assert!(operation["summary"].is_string(), "{path}");
            if let Some(id) = operation["operationId"].as_str() {
                assert!(ids.insert(id.to_owned()), "{id} stands twice");
            }
        }
    }
}

fn collect<'v>(value: &'v Value, out: &mut Vec<&'v str>) {
    match value {
        Value::Object(map) => {
            if let Some(Value::String(r)) = map.get("$ref") {
                out.push(r);
            }
            map.iter().filter(|(k, _)| *k != "example" && *k != "examples").for_each(|(_, v)| {
                collect(v, out);
            });
        }
        Value::Array(items) => items.iter().for_each(|v| collect(v, out)),
        _ => {}
    }
}
