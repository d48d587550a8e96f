//! Faulty requests for every call, with what they must be refused with: the refused examples of the
//! registry, and its own examples changed so that the fault follows from the change.

use crate::schemas::Examples;
use guardcell::calls::{ALL, AnyCall};
use guardcell::{Code, pointer};
use serde::Serialize;
use serde_json::{Value, json};
use std::error::Error;
use std::path::Path;

/// A faulty request.
#[derive(Debug, Clone, Serialize)]
pub struct Fault {
    /// The name of the call.
    pub call: String,
    /// Its path in the HTTP API.
    pub path: String,
    /// What is wrong with it.
    pub why: String,
    /// The request. What is not UTF-8 is written as U+FFFD here and as 0xFF by those who send it.
    pub body: String,
    /// The code it must be refused with.
    pub code: String,
    /// The pointer it must be refused at.
    pub pointer: String,
    /// Whether the body is an object as every reader of JSON reads it: what a face can carry that
    /// takes arguments and no text.
    pub object: bool,
}

/// What stands for a byte that is not UTF-8.
const NOT_UTF8: &str = "\u{fffd}";

/// Every faulty request.
///
/// # Errors
/// If an example of the registry cannot be read, or is not refused.
pub fn all(root: &Path) -> Result<Vec<Fault>, Box<dyn Error>> {
    let mut out = Vec::new();
    for call in ALL {
        for bad in Examples::of(call, root)?.bad {
            let body = bad.value.to_string();
            // What an example is refused with is said by the call; the changes below say it first.
            let Err(error) = call.run(body.as_bytes()) else {
                return Err(format!("{} accepts: {}", call.name(), bad.why).into());
            };
            out.push(fault(call, &bad.why, body, error.code(), error.pointer()));
        }
        changed(call, &mut out)?;
    }
    particular(&mut out)?;
    Ok(out)
}

fn fault(call: &AnyCall, why: &str, body: String, code: Code, pointer: &str) -> Fault {
    Fault {
        call: call.name().to_owned(),
        path: call.path().to_owned(),
        why: why.to_owned(),
        object: body.starts_with('{') && !body.contains(NOT_UTF8) && plain(&body),
        body,
        code: code.as_str().to_owned(),
        pointer: pointer.to_owned(),
    }
}

/// Whether reading and writing it again as JSON keeps it.
fn plain(body: &str) -> bool {
    serde_json::from_str::<Value>(body)
        .is_ok_and(|value| serde_json::from_str::<Value>(&value.to_string()).ok() == Some(value))
        && !body.contains("\"temp_c\":20,\"temp_c\"")
}

/// The example of a call, changed in the ways that fit every call.
fn changed(call: &AnyCall, out: &mut Vec<Fault>) -> Result<(), Box<dyn Error>> {
    let example: Value = serde_json::from_str(call.example())?;
    let mut add = |why: &str, body: String, code, at: &str| {
        out.push(fault(call, why, body, code, at));
    };
    let mut unknown = example.clone();
    unknown["no_such_field"] = json!(1);
    add("unknown field", unknown.to_string(), Code::WrongForm, "/no_such_field");
    let deep = format!("{{\"a\": {}{}}}", "[".repeat(40), "]".repeat(40));
    add("deep nesting", deep, Code::TooDeep, "");
    add("a list", "[]".into(), Code::WrongForm, "");
    add("no JSON", "{\"a\": ".into(), Code::MalformedJson, "");
    add("not UTF-8", format!("{{\"a\": \"{NOT_UTF8}\"}}"), Code::MalformedJson, "");
    let required = required(call);
    for name in required.iter().take(2) {
        let at = pointer::key("", name);
        let mut wrong = example.clone();
        // No required field is a truth value.
        wrong[name.as_str()] = json!(true);
        add("wrong type", wrong.to_string(), Code::WrongForm, &at);
        let mut missing = example.clone();
        missing.as_object_mut().ok_or("no object")?.remove(name);
        add("missing field", missing.to_string(), Code::WrongForm, &at);
    }
    Ok(())
}

/// The required fields of a request, in their order.
fn required(call: &AnyCall) -> Vec<String> {
    let mut generator =
        schemars::generate::SchemaSettings::draft2020_12().for_deserialize().into_generator();
    let schema = call.request_schema(&mut generator, guardcell::calls::Form::Document).to_value();
    let names = schema["required"].as_array().cloned().unwrap_or_default();
    names.iter().filter_map(Value::as_str).map(str::to_owned).collect()
}

/// Faults of single calls, each known by hand.
fn particular(out: &mut Vec<Fault>) -> Result<(), Box<dyn Error>> {
    let plant = json!({"id": "p", "name": "Cattleya labiata", "area": "house",
        "setting": "potted", "standing": "established"});
    let mut crowded: Value = serde_json::from_str(guardcell::calls::named("advise")?.example())?;
    crowded["plants"] = Value::Array(vec![plant; 10_001]);
    let mut shelf: Value = serde_json::from_str(guardcell::calls::named("recipe")?.example())?;
    let label = shelf["products"][0].clone();
    shelf["products"] = Value::Array(vec![label; 201]);
    let rows: [(&str, &str, String, Code, &str); 15] = [
        (
            "air",
            "too humid",
            r#"{"temp_c":25,"rh_percent":140}"#.into(),
            Code::OutOfRange,
            "/rh_percent",
        ),
        (
            "air",
            "no float holds it",
            r#"{"temp_c":20,"rh_percent":1e999}"#.into(),
            Code::OutOfRange,
            "/rh_percent",
        ),
        (
            "air",
            "a field twice",
            r#"{"temp_c":20,"temp_c":21,"rh_percent":50}"#.into(),
            Code::WrongForm,
            "",
        ),
        ("air", "empty text", String::new(), Code::MalformedJson, ""),
        ("air", "two objects", "{} {}".into(), Code::MalformedJson, ""),
        ("air", "a text", "\"warm\"".into(), Code::WrongForm, ""),
        ("air", "nothing", "null".into(), Code::WrongForm, ""),
        (
            "air",
            "a pointer to escape",
            r#"{"temp_c":20,"rh/percent~":50}"#.into(),
            Code::WrongForm,
            "/rh~1percent~0",
        ),
        (
            "convert",
            "unknown unit",
            r#"{"quantity":"5 florps","to":"g"}"#.into(),
            Code::UnknownWord,
            "/quantity",
        ),
        (
            "convert",
            "bare ppm",
            r#"{"quantity":"300 ppm","to":"mg/L"}"#.into(),
            Code::AmbiguousPpm,
            "/quantity",
        ),
        (
            "convert",
            "no unit",
            r#"{"quantity":"300","to":"mg/L"}"#.into(),
            Code::NoUnit,
            "/quantity",
        ),
        (
            "convert",
            "another dimension",
            r#"{"quantity":"3 g","to":"mL"}"#.into(),
            Code::NeedsBulkDensity,
            "/bulk_density",
        ),
        (
            "convert",
            "a control character",
            "{\"quantity\":\"3 g\\u0000\",\"to\":\"mg\"}".into(),
            Code::UnexpectedCharacter,
            "/quantity",
        ),
        ("advise", "too many plants", crowded.to_string(), Code::TooMany, ""),
        ("recipe", "too many products", shelf.to_string(), Code::TooMany, "/products"),
    ];
    for (name, why, body, code, at) in rows {
        out.push(fault(guardcell::calls::named(name)?, why, body, code, at));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_facade_refuses_each_as_said() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        let faults = all(&root).unwrap();
        assert!(faults.len() >= 50, "only {}", faults.len());
        let wrong: Vec<String> = faults
            .iter()
            .filter_map(|f| {
                let mut body = Vec::new();
                for part in f.body.split_inclusive(NOT_UTF8) {
                    body.extend(part.trim_end_matches(NOT_UTF8).as_bytes());
                    if part.ends_with(NOT_UTF8) {
                        body.push(0xff);
                    }
                }
                let error = guardcell::calls::named(&f.call).unwrap().run(&body).unwrap_err();
                let same = error.code().as_str() == f.code && error.pointer() == f.pointer;
                (!same).then(|| format!("{}: {}: {}: {error:?}", f.call, f.why, f.pointer))
            })
            .collect();
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }
}
