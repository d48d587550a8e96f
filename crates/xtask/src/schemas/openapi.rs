//! The description of the HTTP API, OpenAPI 3.1, from the same schemas.

use super::calls::{CALLS, Call};
use super::{Examples, plain, ranges};
use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, SchemaGenerator};
use serde_json::{Map, Value, json};
use std::error::Error;
use std::path::Path;

/// The whole document.
pub(super) fn document(root: &Path) -> Result<Value, Box<dyn Error>> {
    let settings = || {
        SchemaSettings::draft2020_12().with(|s| {
            s.definitions_path = "/components/schemas".into();
            s.meta_schema = None;
        })
    };
    let mut requests = settings().for_deserialize().into_generator();
    let mut responses = settings().for_serialize().into_generator();
    let mut paths = Map::new();
    for call in CALLS {
        let examples = Examples::of(call, root)?.good;
        let (path, method, operation) = if let Some(path) = call.path.strip_prefix("GET ") {
            (path, "get", look_up(call, &mut requests, &mut responses))
        } else {
            (call.path, "post", calculation(call, &examples, &mut requests, &mut responses))
        };
        // One path may answer two methods.
        let methods = paths.entry(path).or_insert_with(|| json!({}));
        if let Some(methods) = methods.as_object_mut() {
            methods.insert(method.to_owned(), operation);
        }
    }
    catalogue(&mut paths, &mut responses);
    stream(&mut paths, root)?;
    watching(&mut paths);
    let mut schemas = requests.take_definitions(true);
    for (name, schema) in responses.take_definitions(true) {
        match schemas.get(&name) {
            Some(there) if *there != schema => {
                return Err(format!("{name} differs between requests and responses").into());
            }
            _ => schemas.insert(name, schema),
        };
    }
    for (name, schema) in &mut schemas {
        ranges::add(name, schema);
    }
    plain::make(&mut schemas);
    schemas.insert("Problem".into(), problem(false));
    schemas.insert("AdviceLine".into(), advice_line());
    Ok(json!({
        "openapi": "3.1.0",
        "info": {
            "title": "guardcell",
            "version": env!("CARGO_PKG_VERSION"),
            "summary": "Feeding plants through the leaf: when, how strong, and why",
            "description": "Every path is a pure function: the same request always gives the same \
                answer, nothing is stored, and the server reads no clock: times come in with the \
                request. Units stand at the end of field names (UCUM-like). Refusals are problem \
                details (RFC 9457) with a JSON Pointer to the fault. The product's own label, local \
                rules and licensed practice come before anything answered here.",
            "license": { "name": "MIT OR Apache-2.0", "identifier": "MIT OR Apache-2.0" }
        },
        "servers": [{ "url": "/", "description": "This server" }],
        "tags": [
            { "name": "advice", "description": "Advice on plants and rounds" },
            { "name": "solution", "description": "Water, labels and solutions" },
            { "name": "model", "description": "The parts of the model on their own" },
            { "name": "taxa", "description": "Reference data on plant names" },
            { "name": "server", "description": "Watching the server" }
        ],
        "paths": paths,
        "components": { "schemas": schemas, "responses": refusals() }
    }))
}

fn operation_id(call: &Call) -> String {
    let words = call.path.trim_start_matches("GET ").trim_start_matches("/v1/");
    match words {
        "taxa/{name}" => "taxon".into(),
        "taxa" if call.path.starts_with('/') => "taxon_by_body".into(),
        other => other.replace('/', "_"),
    }
}

fn tag(path: &str) -> &'static str {
    match path.trim_start_matches("GET ").trim_start_matches("/v1/") {
        "advice" | "rounds" | "rescues" | "charts/strength" | "charts/day" => "advice",
        "recipes" | "waters" | "solutions" | "meters" | "acids" | "tanks" => "solution",
        "air" | "films" | "days" | "conversions" => "model",
        _ => "taxa",
    }
}

fn calculation(
    call: &Call,
    examples: &[Value],
    requests: &mut SchemaGenerator,
    responses: &mut SchemaGenerator,
) -> Value {
    let named: Map<String, Value> = examples
        .iter()
        .enumerate()
        .map(|(i, e)| (format!("example{}", i + 1), json!({ "value": e })))
        .collect();
    let mut content =
        json!({ "application/json": { "schema": (call.response_reference)(responses) } });
    if call.path.starts_with("/v1/charts/") {
        content["image/svg+xml"] = json!({ "schema": {
            "type": "string", "description": "The picture, where Accept asks for it" } });
    }
    json!({
        "operationId": operation_id(call),
        "tags": [tag(call.path)],
        "summary": call.summary,
        "requestBody": { "required": true, "content": { "application/json": {
            "schema": (call.request_reference)(requests), "examples": named
        } } },
        "responses": with_refusals(
            json!({ "200": {
                "description": "The answer",
                "content": content
            } }),
            &["400", "408", "413", "415", "421", "422", "500", "503"],
        )
    })
}

fn look_up(call: &Call, requests: &mut SchemaGenerator, responses: &mut SchemaGenerator) -> Value {
    let parameters = if call.path.contains("{name}") {
        json!([
            { "name": "name", "in": "path", "required": true,
              "description": "The name of the plant as on its label, percent-encoded: a genus, \
                species, hybrid genus, old name or abbreviation",
              "schema": { "type": "string", "minLength": 1, "maxLength": 200 },
              "example": "Cattleya labiata" },
            { "name": "leaf", "in": "query", "required": false,
              "description": "The leaf of the plant in hand, used where the name does not settle the question",
              "schema": requests.subschema_for::<guardcell::reference::Leaf>() }
        ])
    } else {
        json!([
            { "name": "query", "in": "query", "required": true,
              "description": "The beginning of a name",
              "schema": { "type": "string", "minLength": 1, "maxLength": 200 },
              "example": "Dendro" },
            { "name": "limit", "in": "query", "required": false,
              "description": "The most matches wanted; 12 where left out",
              "schema": { "type": "integer", "minimum": 1, "maximum": 50 } }
        ])
    };
    json!({
        "operationId": operation_id(call),
        "tags": [tag(call.path)],
        "summary": call.summary,
        "parameters": parameters,
        "responses": kept((call.response_reference)(responses).to_value(), &["400", "404", "421", "422", "500", "503"])
    })
}

/// The responses of a path whose answer may be kept.
fn kept(schema: Value, refusals: &[&str]) -> Value {
    with_refusals(
        json!({
            "200": {
                "description": "The answer; it changes with the version of the program only",
                "headers": {
                    "ETag": { "schema": { "type": "string" } },
                    "Cache-Control": { "schema": { "type": "string" } }
                },
                "content": { "application/json": { "schema": schema } }
            },
            "304": { "description": "The caller has it already (If-None-Match)" }
        }),
        refusals,
    )
}

fn catalogue(paths: &mut Map<String, Value>, responses: &mut SchemaGenerator) {
    let schema = reference::<guardcell::reference::CatalogueResponse>(responses);
    paths.insert(
        "/v1/catalogue".into(),
        json!({ "get": {
        "operationId": "catalogue",
        "tags": ["taxa"],
        "summary": "Every name of the tables, for a look-up without a connection",
        "responses": kept(schema, &["421", "503"])
    } }),
    );
    let mut responses = kept(json!({}), &["421", "503"]);
    responses["200"]["content"] = json!({ "text/csv; charset=utf-8": {
        "schema": { "type": "string" } } });
    paths.insert(
        "/v1/measurements".into(),
        json!({ "get": {
        "operationId": "measurements",
        "tags": ["taxa"],
        "summary": "The trait table as Darwin Core measurements (CSV)",
        "responses": responses
    } }),
    );
}

fn reference<T: JsonSchema>(generator: &mut SchemaGenerator) -> Value {
    generator.subschema_for::<T>().to_value()
}

fn stream(paths: &mut Map<String, Value>, root: &Path) -> Result<(), Box<dyn Error>> {
    let call =
        CALLS.iter().find(|c| c.path == "/v1/advice").ok_or("there is no call /v1/advice")?;
    let first = Examples::of(call, root)?.good.into_iter().next().unwrap_or_default();
    paths.insert("/v1/advice/stream".into(), json!({ "post": {
        "operationId": "advice_stream",
        "tags": ["advice"],
        "summary": "Advice for any number of requests, one a line",
        "description": "NDJSON in, NDJSON out: each line of the body is an AdviceRequest, and each \
            line of the answer is an AdviceLine, in the same order. Blank lines are skipped. A line \
            that cannot be answered gives a problem and the stream goes on. The server reads no \
            faster than its answers are taken, so read while you send.",
        "requestBody": { "required": true, "content": { "application/x-ndjson": {
            "schema": { "type": "string", "description": "Lines, each an AdviceRequest as JSON" },
            "example": serde_json::to_string(&first)? + "\n"
        } } },
        "responses": with_refusals(
            json!({ "200": {
                "description": "Lines, each an AdviceLine as JSON",
                "content": { "application/x-ndjson": { "schema": { "type": "string" } } }
            } }),
            &["415", "421", "500", "503"],
        )
    } }));
    Ok(())
}

fn watching(paths: &mut Map<String, Value>) {
    let text = |id: &str, summary: &str, media: &str, refusals: &[&str]| {
        json!({ "get": {
            "operationId": id,
            "tags": ["server"],
            "summary": summary,
            "responses": with_refusals(
                json!({ "200": {
                    "description": "As text",
                    "content": { media: { "schema": { "type": "string" } } }
                } }),
                refusals,
            )
        } })
    };
    let plain = "text/plain; charset=utf-8";
    let metrics = "application/openmetrics-text; version=1.0.0; charset=utf-8";
    paths.insert("/healthz".into(), text("healthz", "Whether the server runs", plain, &["421"]));
    paths.insert(
        "/readyz".into(),
        text("readyz", "Whether it takes new requests", plain, &["421", "503"]),
    );
    paths.insert(
        "/metrics".into(),
        text("metrics", "What it counts, for Prometheus", metrics, &["421"]),
    );
    paths.insert(
        "/openapi.json".into(),
        json!({ "get": {
        "operationId": "openapi",
        "tags": ["server"],
        "summary": "This document",
        "responses": kept(json!({ "type": "object" }), &["421", "503"])
    } }),
    );
}

const REFUSALS: &[(&str, &str)] = &[
    ("400", "The body is not JSON, or nested too deeply"),
    ("404", "There is nothing at this path"),
    ("408", "The body did not arrive in time"),
    ("413", "The body is too large"),
    ("415", "The body has a media type that is not read here"),
    ("421", "The request is for another host"),
    (
        "422",
        "The request has not the form of its schema, a value cannot be, or what is asked cannot be reached",
    ),
    ("500", "A fault of the server"),
    ("503", "Too much is in work, or the calculation took too long"),
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
        .map(|(code, says)| {
            let mut response = json!({
                "description": says,
                "content": { "application/problem+json": {
                    "schema": { "$ref": "#/components/schemas/Problem" }
                } }
            });
            if *code == "503" {
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
        schema.insert("$id".into(), json!("urn:guardcell:schema:problem"));
    }
    let body = json!({
        "title": "Problem",
        "description": "Why a request was refused (RFC 9457), where, and what would be right.",
        "type": "object",
        "required": ["type", "title", "status", "detail", "wrong", "right"],
        "properties": {
            "type": { "type": "string", "format": "uri", "pattern": "^urn:guardcell:problem:[a-z-]+$",
                "description": "The kind of problem." },
            "title": { "type": "string", "description": "The kind in words." },
            "status": { "type": "integer", "minimum": 400, "maximum": 599,
                "description": "The HTTP status." },
            "detail": { "type": "string", "description": "What was wrong and what would be right." },
            "instance": { "type": "string", "format": "uri",
                "description": "This occurrence: the request it belongs to, as in X-Request-Id." },
            "pointer": { "type": "string", "format": "json-pointer",
                "description": "JSON Pointer (RFC 6901) to the fault in the body; empty for the body as a whole." },
            "field": { "type": "string", "description": "The field or parameter at fault." },
            "wrong": { "type": "string", "description": "What was wrong." },
            "right": { "type": "string", "description": "What would be right." },
            "message": { "type": "string",
                "description": "The message of the library, word for word, where it was the library that refused." }
        },
        "examples": [{
            "type": "urn:guardcell:problem:impossible",
            "title": "A value cannot be, or what is asked cannot be reached",
            "status": 422,
            "detail": "/readings/0/rh_percent: 140 % is out of range; give a value from 0 to 100 %",
            "instance": "urn:guardcell:request:0f3a9c1b2d4e5f60-1c",
            "pointer": "/readings/0/rh_percent",
            "field": "rh_percent",
            "wrong": "140 % is out of range",
            "right": "give a value from 0 to 100 %"
        }]
    });
    if let Value::Object(body) = body {
        schema.extend(body);
    }
    Value::Object(schema)
}

fn advice_line() -> Value {
    json!({
        "title": "AdviceLine",
        "description": "One line of an advice stream: the advice, or the problem with that line.",
        "type": "object",
        "required": ["line"],
        "properties": {
            "line": { "type": "integer", "minimum": 1, "description": "The line of the request, from 1." },
            "advice": { "$ref": "#/components/schemas/AdviceResponse" },
            "problem": { "$ref": "#/components/schemas/Problem" }
        },
        "oneOf": [{ "required": ["advice"] }, { "required": ["problem"] }],
        "additionalProperties": false
    })
}
