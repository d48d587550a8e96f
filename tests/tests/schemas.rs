//! The files in `schemas/` follow from the types, and the examples hold.

mod support;

use guardcell::calls::AnyCall;
use guardcell_xtask::schemas::{Examples, all, documents};
use jsonschema::Validator;
use serde_json::{Value, json};
use support::root;

fn validator(schema: &Value) -> Validator {
    jsonschema::options().should_validate_formats(true).build(schema).unwrap()
}

fn read(path: &str) -> Value {
    let text = std::fs::read_to_string(root().join(path)).unwrap_or_else(|e| panic!("{path}: {e}"));
    serde_json::from_str(&text).unwrap_or_else(|e| panic!("{path}: {e}"))
}

fn request_schema(call: &AnyCall) -> Value {
    read(&format!("schemas/{}.request.schema.json", call.name()))
}

fn response_schema(call: &AnyCall) -> Value {
    read(&format!("schemas/{}.response.schema.json", call.name()))
}

fn run(call: &AnyCall, request: &Value) -> Result<Value, guardcell::Error> {
    let answer = call.run(request.to_string().as_bytes())?;
    Ok(serde_json::from_slice(&answer).unwrap())
}

#[test]
fn the_generated_files_are_current() {
    for (path, expected) in documents(&root()).unwrap() {
        if let Some(at) = difference(&read(&path), &expected) {
            panic!("{path} is stale at {at:?}: run `cargo xtask schemas`");
        }
    }
}

/// The pointer of the first difference. Computed numbers of example answers may differ in their
/// last digits from machine to machine.
fn difference(a: &Value, b: &Value) -> Option<String> {
    let close = |a: f64, b: f64| (a - b).abs() <= 2e-3 * a.abs().max(b.abs());
    match (a, b) {
        (Value::Number(x), Value::Number(y)) if x.is_f64() || y.is_f64() => {
            (!close(x.as_f64()?, y.as_f64()?)).then(String::new)
        }
        (Value::Object(x), Value::Object(y)) if x.keys().eq(y.keys()) => {
            x.iter().find_map(|(key, v)| difference(v, &y[key]).map(|rest| format!("/{key}{rest}")))
        }
        (Value::Array(x), Value::Array(y)) if x.len() == y.len() => x
            .iter()
            .zip(y)
            .enumerate()
            .find_map(|(i, (v, w))| difference(v, w).map(|rest| format!("/{i}{rest}"))),
        _ => (a != b).then(String::new),
    }
}

#[test]
fn every_schema_has_titles_and_descriptions() {
    for call in all() {
        for (kind, schema) in
            [("request", request_schema(call)), ("response", response_schema(call))]
        {
            let name = format!("{} {kind}", call.name());
            assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
            assert!(schema["title"].is_string() && schema["description"].is_string(), "{name}");
            for (field, property) in schema["properties"].as_object().into_iter().flatten() {
                let described = property["description"].is_string();
                assert!(described, "{name}: {field} has no description");
            }
        }
    }
}

#[test]
fn every_call_is_described() {
    let mut names = std::collections::BTreeSet::new();
    let mut paths = std::collections::BTreeSet::new();
    for call in all() {
        assert!(names.insert(call.name()), "duplicate name {:?}", call.name());
        assert!(paths.insert(call.path()), "duplicate path {:?}", call.path());
        assert!(call.name().bytes().all(|b| b.is_ascii_lowercase() || b == b'_'), "{call:?}");
        assert!(!call.summary().ends_with('.') && !call.summary().contains('\n'), "{call:?}");
        assert!(!call.description().is_empty(), "{call:?}");
    }
}

#[test]
fn good_examples_validate_and_so_do_their_answers() {
    for call in all() {
        let (request, response) =
            (validator(&request_schema(call)), validator(&response_schema(call)));
        for (i, good) in Examples::of(call, &root()).unwrap().good.iter().enumerate() {
            let name = format!("{}, example {i}", call.name());
            if let Err(e) = request.validate(good) {
                panic!("{name}: {e} at {}", e.instance_path());
            }
            let answer = run(call, good).unwrap_or_else(|e| panic!("{name}: {e}"));
            if let Err(e) = response.validate(&answer) {
                panic!("answer of {name}: {e} at {}", e.instance_path());
            }
        }
        let answer = read(&format!("schemas/examples/{}.response.json", call.name()));
        if let Err(e) = response.validate(&answer) {
            panic!("example answer of {}: {e} at {}", call.name(), e.instance_path());
        }
    }
}

#[test]
fn bad_examples_are_refused_by_schema_and_function() {
    for call in all() {
        let request = validator(&request_schema(call));
        for example in Examples::of(call, &root()).unwrap().bad {
            assert!(!request.is_valid(&example.value), "{}: {}", call.name(), example.why);
            let error = run(call, &example.value).unwrap_err();
            assert!(!error.detail().is_empty(), "{}: {}", call.name(), example.why);
        }
    }
}

/// Each call refuses an unknown field, a list and a text, with the pointer of the fault.
#[test]
fn every_call_refuses_other_forms() {
    for call in guardcell::calls::ALL {
        let mut unknown: Value = serde_json::from_str(call.example()).unwrap();
        unknown["no_such_field"] = json!(1);
        let error = run(call, &unknown).unwrap_err();
        let found = (error.code(), error.pointer());
        assert_eq!(found, (guardcell::Code::WrongForm, "/no_such_field"), "{}", call.name());
        for other in [json!([]), json!("text"), json!(null)] {
            let error = run(call, &other).unwrap_err();
            let found = (error.code(), error.pointer());
            assert_eq!(found, (guardcell::Code::WrongForm, ""), "{}", call.name());
        }
    }
}

/// Every number that a schema bounds is accepted at its bounds and refused one step outside, by
/// the function itself and with the pointer of the number.
#[test]
fn every_bound_is_held_by_the_function() {
    let mut tried = 0;
    for call in all() {
        let schema = request_schema(call);
        for good in Examples::of(call, &root()).unwrap().good {
            let mut places = Vec::new();
            bounded(&schema, &schema, &good, String::new(), &mut places);
            for Place { pointer, inside, outside } in places {
                let with = |value: &Value| {
                    let mut request = good.clone();
                    *request.pointer_mut(&pointer).unwrap() = value.clone();
                    run(call, &request)
                };
                // Another rule may refuse the bound here, but not for being out of range there.
                if let Err(e) = with(&inside) {
                    let at_the_bound = e.code() == guardcell::Code::OutOfRange;
                    let here = e.pointer() == pointer;
                    assert!(!(at_the_bound && here), "{}: {inside} at {e}", call.name());
                }
                let error = with(&outside).err().unwrap_or_else(|| {
                    panic!("{} accepts {outside} at {pointer}", call.name());
                });
                assert!(
                    pointer.starts_with(error.pointer()) || error.pointer().starts_with(&pointer),
                    "{}: {outside} at {pointer}, refused as {error}",
                    call.name()
                );
                tried += 1;
            }
        }
    }
    assert!(tried > 100, "only {tried} bounds were tried");
}

/// A bound at a place of an example.
struct Place {
    pointer: String,
    inside: Value,
    outside: Value,
}

/// Collects the bounds of each number of an example.
fn bounded(root: &Value, schema: &Value, value: &Value, pointer: String, out: &mut Vec<Place>) {
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
        Value::Number(_) => numbers(schema, &pointer, out),
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

/// Each bound of a number and the next representable number outside it.
fn numbers(schema: &Value, pointer: &str, out: &mut Vec<Place>) {
    let whole = schema["type"] == "integer" || schema["type"][0] == "integer";
    let mut add = |inside: f64, outside: f64| {
        let number = |x: f64| if whole { json!(x as i64) } else { json!(x) };
        out.push(Place {
            pointer: pointer.to_owned(),
            inside: number(inside),
            outside: number(outside),
        });
    };
    if let Some(low) = schema["minimum"].as_f64() {
        add(low, if whole { low - 1.0 } else { low.next_down() });
    }
    if let Some(low) = schema["exclusiveMinimum"].as_f64() {
        add(low.next_up(), low);
    }
    if let Some(high) = schema["maximum"].as_f64() {
        add(high, if whole { high + 1.0 } else { high.next_up() });
    }
}

/// The maps of the demo data meet the schema of maps, their results meet that of reports, and a map
/// with a slip is refused by schema and reader.
#[test]
fn maps_of_conditions_meet_their_schema() {
    use guardcell_xtask::schemas::conditions::{MAPS, logger, map};
    let schema = |name: &str| read(&format!("schemas/{name}.schema.json"));
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
    let result = logger(&root()).unwrap();
    for (name, value) in [
        ("conditions-report", serde_json::to_value(&result.report).unwrap()),
        ("conditions-read", serde_json::to_value(&result).unwrap()),
    ] {
        if let Err(e) = validator(&schema(name)).validate(&value) {
            panic!("{name}: {e} at {}", e.instance_path());
        }
    }
}

/// The API description is a valid OpenAPI 3.1 document as far as its own references go: each
/// resolves, each operation has a summary, a description and its own id.
#[test]
fn the_api_description_is_consistent() {
    let document = read("schemas/openapi.json");
    assert_eq!(document["openapi"], "3.1.0");
    let mut references = Vec::new();
    collect(&document, &mut references);
    assert!(references.len() > 100);
    for reference in references {
        let target = document.pointer(reference.trim_start_matches('#'));
        assert!(target.is_some(), "{reference} does not resolve");
    }
    let mut ids = std::collections::BTreeSet::new();
    for (path, methods) in document["paths"].as_object().unwrap() {
        for operation in methods.as_object().unwrap().values() {
            for text in ["summary", "description"] {
                assert!(operation[text].is_string(), "{path} has no {text}");
            }
            let id = operation["operationId"].as_str().unwrap();
            assert!(ids.insert(id.to_owned()), "duplicate operation id {id}");
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
