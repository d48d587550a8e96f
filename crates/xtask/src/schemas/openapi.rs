//! The description of the HTTP API, OpenAPI 3.1, from the same schemas.

use super::devices;
use super::examples::{Examples, answer};
use super::plain;
use guardcell::calls::{AnyCall, Catalogue, Form, Genus, Group, STREAM, Search};
use guardcell::reference::Leaf;
use schemars::SchemaGenerator;
use schemars::generate::SchemaSettings;
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;
use std::error::Error;
use std::path::Path;

/// Generators for requests and responses, whose definitions are the components of the document.
struct Generators {
    requests: SchemaGenerator,
    responses: SchemaGenerator,
}

/// The whole document.
pub(super) fn document(calls: &[AnyCall], root: &Path) -> Result<Value, Box<dyn Error>> {
    let settings = || {
        SchemaSettings::draft2020_12().with(|s| {
            s.definitions_path = "/components/schemas".into();
            s.meta_schema = None;
        })
    };
    let mut generators = Generators {
        requests: settings().for_deserialize().into_generator(),
        responses: settings().for_serialize().into_generator(),
    };
    let mut paths = Map::new();
    for call in calls {
        let examples = Examples::of(call, root)?.good;
        let operation = calculation(call, &examples, &mut generators)?;
        paths.insert(format!("/v1/{}", call.path()), json!({ "post": operation }));
        paths.insert(format!("/v1/{}{STREAM}", call.path()), stream(call, examples.first())?);
    }
    look_ups(&mut paths, &mut generators)?;
    watching(&mut paths);
    of_devices(&mut paths, &mut generators);
    let schemas = components(generators, &mut paths);
    Ok(json!({
        "openapi": "3.1.0",
        "info": {
            "title": "guardcell",
            "version": env!("CARGO_PKG_VERSION"),
            "summary": "Feeding plants through the leaf: when, how strong, and why",
            "description": "Every call is a pure function: the same request always gives the same \
                answer, nothing is stored, and the server reads no clock: times come in with the \
                request. Field names end in their unit (UCUM-like). Refusals are problem details \
                (RFC 9457) with a JSON Pointer to the fault; `/problems` documents their types. \
                Where a server offers a grower's folder, paired devices read it and exchange entries \
                of its journal with it; these paths need a token. \
                The product's own label, local rules and licensed practice come before anything \
                answered here.",
            "license": { "name": "MIT OR Apache-2.0", "identifier": "MIT OR Apache-2.0" }
        },
        "servers": [{ "url": "/", "description": "This server" }],
        "security": [],
        "tags": tags(),
        "paths": paths,
        "components": {
            "schemas": schemas,
            "responses": refusals(),
            "securitySchemes": devices::security()
        }
    }))
}

/// The definitions of requests and responses. A type that differs between them, since a field with a
/// default may be omitted only in requests, is called `…Output` in responses; the answer of a call
/// keeps its name there, and is called `…Input` where a request takes it back.
fn components(generators: Generators, paths: &mut Map<String, Value>) -> Map<String, Value> {
    let Generators { mut requests, mut responses } = generators;
    let schemas = requests.take_definitions(true);
    let mut responses = Value::Object(responses.take_definitions(true));
    // A definition differs as well if it refers to one that does.
    let mut differing = BTreeSet::new();
    loop {
        let before = differing.len();
        for (name, schema) in responses.as_object().into_iter().flatten() {
            let refers = schemas.contains_key(name) && refers_to(schema, &differing);
            if refers || schemas.get(name).is_some_and(|other| other != schema) {
                differing.insert(name.clone());
            }
        }
        if differing.len() == before {
            break;
        }
    }
    let answers = answers_of_calls(paths);
    let (taken_back, given): (BTreeSet<_>, BTreeSet<_>) =
        differing.into_iter().partition(|name| answers.contains(name));
    let mut requests = Value::Object(schemas);
    rename(&mut requests, &taken_back, "Input");
    rename(&mut responses, &given, "Output");
    let operations = paths.values_mut().filter_map(Value::as_object_mut).flatten();
    for (_, operation) in operations {
        if let Some(body) = operation.get_mut("requestBody") {
            rename(body, &taken_back, "Input");
        }
        rename(&mut operation["responses"], &given, "Output");
    }
    let mut schemas = named(requests, &taken_back, "Input");
    schemas.extend(named(responses, &given, "Output"));
    plain::make(&mut schemas);
    schemas.insert("Problem".into(), problem(false));
    schemas.insert("AnswerLine".into(), answer_line());
    schemas
}

const COMPONENTS: &str = "#/components/schemas/";

/// The names of what calls answer as a whole.
fn answers_of_calls(paths: &Map<String, Value>) -> BTreeSet<String> {
    let schema = "/responses/200/content/application~1json/schema/$ref";
    let operations = paths.values().filter_map(Value::as_object).flatten();
    operations
        .filter_map(|(_, operation)| operation.pointer(schema)?.as_str()?.strip_prefix(COMPONENTS))
        .map(Into::into)
        .collect()
}

/// The definitions, those of `names` with the suffix.
fn named(definitions: Value, names: &BTreeSet<String>, suffix: &str) -> Map<String, Value> {
    let Value::Object(definitions) = definitions else { return Map::new() };
    definitions
        .into_iter()
        .map(|(name, schema)| {
            let name = if names.contains(&name) { format!("{name}{suffix}") } else { name };
            (name, schema)
        })
        .collect()
}

fn refers_to(schema: &Value, names: &BTreeSet<String>) -> bool {
    match schema {
        Value::Object(map) => map.iter().any(|(key, value)| match value {
            Value::String(to) if key == "$ref" => {
                to.strip_prefix(COMPONENTS).is_some_and(|name| names.contains(name))
            }
            other => refers_to(other, names),
        }),
        Value::Array(items) => items.iter().any(|item| refers_to(item, names)),
        _ => false,
    }
}

/// Points the references to these names at those with the suffix.
fn rename(schema: &mut Value, names: &BTreeSet<String>, suffix: &str) {
    match schema {
        Value::Object(map) => {
            for (key, value) in map.iter_mut() {
                match value {
                    Value::String(to) if key == "$ref" => {
                        if to.strip_prefix(COMPONENTS).is_some_and(|name| names.contains(name)) {
                            to.push_str(suffix);
                        }
                    }
                    other => rename(other, names, suffix),
                }
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| rename(item, names, suffix)),
        _ => {}
    }
}

fn tags() -> Value {
    let tag = |name: &str, description: &str| json!({ "name": name, "description": description });
    let mut tags: Vec<Value> = [
        (Group::Advice, "Advice on plants and rounds"),
        (Group::Solution, "Water, labels and solutions"),
        (Group::Model, "The parts of the model on their own"),
        (Group::Taxa, "Reference data on plant names"),
        (Group::Journal, "What was done and seen, and what follows from it"),
    ]
    .iter()
    .map(|(group, description)| tag(group.as_str(), description))
    .collect();
    tags.push(tag(devices::TAG.0, devices::TAG.1));
    tags.push(tag("server", "Monitoring and documentation of the server"));
    Value::Array(tags)
}

fn calculation(
    call: &AnyCall,
    examples: &[Value],
    generators: &mut Generators,
) -> Result<Value, Box<dyn Error>> {
    let named: Map<String, Value> = examples
        .iter()
        .enumerate()
        .map(|(i, e)| (format!("example{}", i + 1), json!({ "value": e })))
        .collect();
    let mut content = json!({ "application/json": {
        "schema": call.response_schema(&mut generators.responses, Form::Reference),
        "examples": { "example1": { "value": answer(call)? } }
    } });
    if call.path().starts_with("charts/") {
        content["image/svg+xml"] = json!({ "schema": {
            "type": "string", "description": "The picture, if Accept asks for it" } });
    }
    Ok(json!({
        "operationId": call.name(),
        "tags": [call.group().as_str()],
        "summary": call.summary(),
        "description": call.description(),
        "requestBody": { "required": true, "content": { "application/json": {
            "schema": call.request_schema(&mut generators.requests, Form::Reference),
            "examples": named
        } } },
        "responses": with_refusals(
            json!({ "200": { "description": "The answer", "content": content } }),
            &["400", "408", "413", "415", "421", "422", "500", "503"],
        )
    }))
}

/// The calls that can also be asked by `GET`, and cached.
fn look_ups(
    paths: &mut Map<String, Value>,
    generators: &mut Generators,
) -> Result<(), Box<dyn Error>> {
    let name = json!({ "type": "string", "minLength": 1, "maxLength": 200 });
    let leaf = generators.requests.subschema_for::<Leaf>().to_value();
    let genus = AnyCall::new::<Genus>();
    let search = AnyCall::new::<Search>();
    let catalogue = AnyCall::new::<Catalogue>();
    let limited = ["400", "404", "421", "422", "500", "503"].as_slice();
    let mut add = |path: &str, id: &str, call: &AnyCall, parameters: Value, refusals: &[&str]| {
        let schema = call.response_schema(&mut generators.responses, Form::Reference).to_value();
        let example = answer(call)?;
        // One path may answer two methods.
        let methods = paths.entry(path).or_insert_with(|| json!({}));
        methods["get"] = json!({
            "operationId": id,
            "tags": [call.group().as_str()],
            "summary": call.summary(),
            "description": format!("The same as `POST /v1/{}`, cacheable.", call.path()),
            "parameters": parameters,
            "responses": cacheable(json!({ "schema": schema, "example": example }), refusals)
        });
        Ok::<_, Box<dyn Error>>(())
    };
    let by_name = json!([
        { "name": "query", "in": "path", "required": true,
          "description": "The name of the plant as on its label, percent-encoded: a genus, \
            species, hybrid genus, old name or abbreviation",
          "schema": name, "example": "Cattleya labiata" },
        { "name": "leaf", "in": "query", "required": false,
          "description": "The leaf of the plant, used if the name does not settle the question",
          "schema": leaf }
    ]);
    add("/v1/taxa/{query}", "look_up_taxon", &genus, by_name, limited)?;
    let by_beginning = json!([
        { "name": "query", "in": "query", "required": true,
          "description": "The beginning of a name", "schema": name, "example": "Dendro" },
        { "name": "limit", "in": "query", "required": false,
          "description": "The most matches returned; default 12",
          "schema": { "type": "integer", "minimum": 1, "maximum": 50 } }
    ]);
    add("/v1/taxa/search", "look_up_names", &search, by_beginning, limited)?;
    add("/v1/catalogue", "get_catalogue", &catalogue, json!([]), &["421", "500", "503"])?;
    let mut responses = cacheable(json!({}), &["421", "503"]);
    responses["200"]["content"] = json!({ "text/csv; charset=utf-8": {
        "schema": { "type": "string" } } });
    paths.insert(
        "/v1/measurements".into(),
        json!({ "get": {
            "operationId": "measurements",
            "tags": [Group::Taxa.as_str()],
            "summary": "The trait table as Darwin Core measurements (CSV)",
            "description": "One measured or stated trait of one taxon a row, each with its source.",
            "responses": responses
        } }),
    );
    Ok(())
}

/// The responses of a path whose answer may be cached.
fn cacheable(media: Value, refusals: &[&str]) -> Value {
    with_refusals(
        json!({
            "200": {
                "description": "The answer; it changes only with the version of the program",
                "headers": {
                    "ETag": { "schema": { "type": "string" } },
                    "Cache-Control": { "schema": { "type": "string" } }
                },
                "content": { "application/json": media }
            },
            "304": { "description": "The caller has this answer (If-None-Match)" }
        }),
        refusals,
    )
}

/// The path of a call for many requests.
fn stream(call: &AnyCall, example: Option<&Value>) -> Result<Value, Box<dyn Error>> {
    let line = example.map(serde_json::to_string).transpose()?.unwrap_or_default();
    Ok(json!({ "post": {
        "operationId": format!("{}_stream", call.name()),
        "tags": [call.group().as_str()],
        "summary": format!("{}, for any number of requests, one per line", call.summary()),
        "description": format!("NDJSON in, NDJSON out: each line of the body is a request of `{}`, \
            and each line of the answer is an AnswerLine, in the same order. Blank lines are skipped. \
            A line that cannot be answered gives a problem and the stream goes on. The server reads \
            no faster than its answers are read, so read while you send.", call.name()),
        "requestBody": { "required": true, "content": { "application/x-ndjson": {
            "schema": { "type": "string",
                "description": format!("Lines, each a request of `{}` as JSON", call.name()) },
            "example": line + "\n"
        } } },
        "responses": with_refusals(
            json!({ "200": {
                "description": "Lines, each an AnswerLine as JSON",
                "content": { "application/x-ndjson": { "schema": { "type": "string" } } }
            } }),
            &["415", "421", "500", "503"],
        )
    } }))
}

/// The paths that watch and document the server.
fn watching(paths: &mut Map<String, Value>) {
    let mut add = |path: &str, id: &str, summary: &str, media: &str, refusals: &[&str]| {
        let responses = json!({ "200": {
            "description": "As text",
            "content": { media: { "schema": { "type": "string" } } }
        } });
        let operation = json!({
            "operationId": id, "tags": ["server"], "summary": summary, "description": summary,
            "responses": with_refusals(responses, refusals)
        });
        paths.insert(path.into(), json!({ "get": operation }));
    };
    let plain = "text/plain; charset=utf-8";
    let metrics = "application/openmetrics-text; version=1.0.0; charset=utf-8";
    add("/healthz", "healthz", "Whether the server runs", plain, &["421"]);
    add("/readyz", "readyz", "Whether it accepts new requests", plain, &["421", "503"]);
    add("/metrics", "metrics", "Its counters, for Prometheus", metrics, &["421"]);
    let html = "text/html; charset=utf-8";
    add("/problems", "problems", "What each type of problem means", html, &["421", "503"]);
    paths.insert(
        "/openapi.json".into(),
        json!({ "get": {
            "operationId": "openapi",
            "tags": ["server"],
            "summary": "This document",
            "description": "This document",
            "responses": cacheable(json!({ "schema": { "type": "object" } }), &["421", "503"])
        } }),
    );
}

/// The paths of paired devices.
fn of_devices(paths: &mut Map<String, Value>, generators: &mut Generators) {
    let Generators { requests, responses } = generators;
    for mut operation in devices::operations(requests, responses) {
        let answers = operation.value["responses"].take();
        operation.value["responses"] = with_refusals(answers, operation.refusals);
        let methods = paths.entry(operation.path).or_insert_with(|| json!({}));
        methods[operation.method] = operation.value;
    }
}

const REFUSALS: &[(&str, &str)] = &[
    ("400", "The body is not JSON, or nested too deeply"),
    ("401", "The request has no token of a paired device"),
    ("403", "The pairing code does not work, or the request comes from a page of another site"),
    ("404", "Nothing exists at this path, or this server offers no folder"),
    ("408", "The body did not arrive in time"),
    ("413", "The body is too large"),
    ("415", "The body has a media type that this path does not accept"),
    ("421", "The request names a host that this server does not serve"),
    (
        "422",
        "The request does not match its schema, a value is out of range or contradicts another, or \
         a target cannot be reached",
    ),
    ("429", "More requests, wrong codes or wrong tokens than the server accepts in this time"),
    ("500", "A fault of guardcell itself"),
    ("503", "The server is busy, or the calculation took too long"),
];

fn with_refusals(mut responses: Value, codes: &[&str]) -> Value {
    if let Value::Object(map) = &mut responses {
        for code in codes {
            let name = format!("#/components/responses/Problem{code}");
            map.insert((*code).to_owned(), json!({ "$ref": name }));
        }
    }
    responses
}

fn refusals() -> Value {
    let all: Map<String, Value> = REFUSALS
        .iter()
        .map(|(code, description)| {
            let mut response = json!({
                "description": description,
                "content": { "application/problem+json": {
                    "schema": { "$ref": "#/components/schemas/Problem" }
                } }
            });
            if matches!(*code, "429" | "503") {
                response["headers"] = json!({ "Retry-After": {
                    "description": "Seconds to wait", "schema": { "type": "integer" }
                } });
            }
            (format!("Problem{code}"), response)
        })
        .collect();
    Value::Object(all)
}

/// The schema of problem details, on its own or within the document.
pub(super) fn problem(alone: bool) -> Value {
    let mut schema = Map::new();
    if alone {
        schema.insert("$schema".into(), json!("https://json-schema.org/draft/2020-12/schema"));
        schema.insert("$id".into(), json!("problem.schema.json"));
    }
    let codes: Vec<&str> = guardcell::Code::ALL.iter().map(|code| code.as_str()).collect();
    let body = json!({
        "title": "Problem",
        "description": "Why a request was refused (RFC 9457), where, and what would be right.",
        "type": "object",
        "required": ["type", "title", "status", "detail", "code", "pointer", "hint"],
        "properties": {
            "type": { "type": "string", "format": "uri-reference", "pattern": "^/problems#[a-z0-9-]+$",
                "description": "The kind of problem: a reference to its entry in `/problems`." },
            "title": { "type": "string", "description": "The kind in words." },
            "status": { "type": "integer", "minimum": 400, "maximum": 599,
                "description": "The HTTP status." },
            "detail": { "type": "string", "description": "What is wrong." },
            "instance": { "type": "string", "format": "uri-reference",
                "description": "The request that was refused; ends in its X-Request-Id." },
            "code": { "type": "string", "enum": codes, "description": "The kind for programs." },
            "pointer": { "type": "string", "format": "json-pointer",
                "description": "JSON Pointer (RFC 6901) to the fault in the request; empty for the request as a whole." },
            "hint": { "type": "string", "description": "What would be right." },
            "field": { "type": "string", "description": "The name of the field at fault." },
            "place": { "type": "object", "description": "Where in the body, for text that is not JSON.",
                "properties": {
                    "line": { "type": "integer", "minimum": 1, "description": "The line, from 1." },
                    "column": { "type": "integer", "minimum": 1,
                        "description": "The column in characters, from 1." }
                } }
        },
        "examples": [{
            "type": "/problems#out-of-range",
            "title": "Value out of range",
            "status": 422,
            "detail": "140 % is out of range",
            "instance": "/requests/0f3a9c1b2d4e5f60-1c",
            "code": "out-of-range",
            "pointer": "/readings/0/rh_percent",
            "hint": "give 0 to 100 %",
            "field": "rh_percent"
        }]
    });
    if let Value::Object(body) = body {
        schema.extend(body);
    }
    Value::Object(schema)
}

fn answer_line() -> Value {
    json!({
        "title": "AnswerLine",
        "description": "One line of a stream of answers: the answer of the call, or the problem with \
            that line.",
        "type": "object",
        "required": ["line"],
        "properties": {
            "line": { "type": "integer", "minimum": 1, "description": "The line of the request, from 1." },
            "answer": { "type": "object", "description": "As the call answers one request." },
            "problem": { "$ref": "#/components/schemas/Problem" }
        },
        "oneOf": [{ "required": ["answer"] }, { "required": ["problem"] }],
        "additionalProperties": false
    })
}
