//! The calls of the registry as tools.

use guardcell::Error;
use guardcell::calls::{ALL, AnyCall, Form};
use rmcp::model::{JsonObject, Tool, ToolAnnotations};
use schemars::generate::SchemaSettings;
use schemars::{Schema, SchemaGenerator};
use serde_json::Value;
use std::sync::Arc;

/// A tool for each call, in the order of the documentation.
pub(crate) fn of_calls() -> Vec<Tool> {
    ALL.iter().map(tool).collect()
}

fn tool(call: &AnyCall) -> Tool {
    let mut answers = SchemaSettings::draft2020_12().for_serialize().into_generator();
    let request = call.request_schema(&mut for_requests(), Form::Document);
    let answer = call.response_schema(&mut answers, Form::Document);
    Tool::new(call.name(), call.description(), object(request))
        .with_title(call.summary())
        .with_raw_output_schema(object(answer))
        .with_annotations(
            ToolAnnotations::with_title(call.summary())
                .read_only(true)
                .idempotent(true)
                .open_world(false),
        )
}

/// The schema of a type as the protocol wants it: an object that says `type: object`.
pub(crate) fn object(schema: Schema) -> Arc<JsonObject> {
    let mut object = match schema.to_value() {
        Value::Object(object) => object,
        _ => JsonObject::new(),
    };
    object.entry("type").or_insert_with(|| "object".into());
    Arc::new(object)
}

/// A generator for requests.
pub(crate) fn for_requests() -> SchemaGenerator {
    SchemaSettings::draft2020_12().for_deserialize().into_generator()
}

/// Answers a call.
pub(crate) fn answer(call: &AnyCall, arguments: &JsonObject) -> Result<Vec<u8>, Error> {
    call.run(&json(arguments)?)
}

/// The arguments as the text that every face reads.
pub(crate) fn json(arguments: &JsonObject) -> Result<Vec<u8>, Error> {
    serde_json::to_vec(arguments)
        .map_err(|e| Error::internal("the arguments cannot be written as JSON").caused_by(e))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_call_is_a_tool_with_schemas_of_objects() {
        let tools = of_calls();
        assert_eq!(tools.len(), ALL.len());
        for (tool, call) in tools.iter().zip(ALL) {
            assert_eq!(tool.name, call.name());
            assert_eq!(tool.input_schema["type"], "object", "{}", tool.name);
            let output = tool.output_schema.as_ref().unwrap();
            assert_eq!(output["type"], "object", "{}", tool.name);
            assert!(output.contains_key("properties"), "{}", tool.name);
            assert_eq!(tool.annotations.as_ref().unwrap().read_only_hint, Some(true));
        }
    }
}
