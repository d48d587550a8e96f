//! Where a value departs from a schema: the keywords that the schemas of requests use.
//!
//! A validator for all of JSON Schema, with its regular expressions, would be a large part of what a
//! phone downloads. A test compares this with one, and holds that no schema uses another keyword. A
//! `pattern` is not looked at: the type of the field says what is wrong with it.

use guardcell_error::pointer;
use serde_json::{Map, Value};

/// One place where a value departs from its schema.
#[derive(Debug)]
pub(super) struct Departure<'a> {
    /// The JSON Pointer of the value.
    pub(super) at: String,
    pub(super) value: &'a Value,
    pub(super) kind: Kind<'a>,
}

#[derive(Debug)]
pub(super) enum Kind<'a> {
    /// A field that the object may not have; `others` if it may have any.
    Unknown {
        field: &'a str,
        others: bool,
    },
    Missing(&'a str),
    /// The types that it may have.
    Type(Vec<&'a str>),
    /// The words that it may be.
    Words(&'a [Value]),
    /// What is wrong with it as each of its forms.
    NoForm(Vec<Vec<Departure<'a>>>),
    ManyForms,
    /// A keyword and its limit.
    Limit(&'a str, &'a Value),
}

/// Every departure of the value from the schema, which is a document of its own.
pub(super) fn departures<'a>(value: &'a Value, schema: &'a Value) -> Vec<Departure<'a>> {
    let mut walk = Walk { root: schema, found: Vec::new() };
    walk.value(value, schema, "");
    walk.found
}

struct Walk<'a> {
    root: &'a Value,
    found: Vec<Departure<'a>>,
}

impl<'a> Walk<'a> {
    fn value(&mut self, value: &'a Value, schema: &'a Value, at: &str) {
        let Some(schema) = schema.as_object() else { return };
        let target = schema.get("$ref").and_then(Value::as_str);
        if let Some(target) = target.and_then(|t| self.root.pointer(t.strip_prefix('#')?)) {
            self.value(value, target, at);
        }
        for (keyword, rule) in schema {
            self.keyword(value, keyword, rule, at);
        }
        match value {
            Value::Object(fields) => self.fields(fields, value, schema, at),
            Value::Array(items) => {
                if let Some(each) = schema.get("items") {
                    for (i, item) in items.iter().enumerate() {
                        self.value(item, each, &pointer::index(at, i));
                    }
                }
            }
            _ => {}
        }
    }

    fn keyword(&mut self, value: &'a Value, keyword: &'a str, rule: &'a Value, at: &str) {
        let kind = match keyword {
            "type" => {
                let types: Vec<&str> = match rule {
                    Value::String(one) => vec![one],
                    many => {
                        many.as_array().into_iter().flatten().filter_map(Value::as_str).collect()
                    }
                };
                if types.iter().any(|t| has_type(value, t)) {
                    return;
                }
                Kind::Type(types)
            }
            "enum" => match rule.as_array() {
                Some(words) if !words.contains(value) => Kind::Words(words),
                _ => return,
            },
            "const" if rule != value => Kind::Words(std::slice::from_ref(rule)),
            "anyOf" | "oneOf" => match self.forms(value, rule, at) {
                Fit::None(forms) => Kind::NoForm(forms),
                Fit::Many if keyword == "oneOf" => Kind::ManyForms,
                Fit::One | Fit::Many => return,
            },
            _ if is_beyond(value, keyword, rule) => Kind::Limit(keyword, rule),
            _ => return,
        };
        self.found.push(Departure { at: at.to_owned(), value, kind });
    }

    fn forms(&self, value: &'a Value, forms: &'a Value, at: &str) -> Fit<'a> {
        let (mut fitting, mut wrong) = (0, Vec::new());
        for form in forms.as_array().into_iter().flatten() {
            let mut walk = Walk { root: self.root, found: Vec::new() };
            walk.value(value, form, at);
            if walk.found.is_empty() {
                fitting += 1;
            } else {
                wrong.push(walk.found);
            }
        }
        match fitting {
            0 => Fit::None(wrong),
            1 => Fit::One,
            _ => Fit::Many,
        }
    }

    fn fields(
        &mut self,
        fields: &'a Map<String, Value>,
        value: &'a Value,
        schema: &'a Map<String, Value>,
        at: &str,
    ) {
        let known = schema.get("properties").and_then(Value::as_object);
        let others = schema.get("additionalProperties");
        let mut unknown = None;
        for (name, field) in fields {
            match (known.and_then(|k| k.get(name)), others) {
                (Some(rule), _) => self.value(field, rule, &pointer::key(at, name)),
                (None, Some(Value::Bool(false))) => unknown = unknown.or(Some(name)),
                (None, Some(rule)) => self.value(field, rule, &pointer::key(at, name)),
                (None, None) => {}
            }
        }
        let mut add = |kind| self.found.push(Departure { at: at.to_owned(), value, kind });
        if let Some(field) = unknown {
            add(Kind::Unknown { field, others: known.is_some_and(|k| !k.is_empty()) });
        }
        for name in schema.get("required").and_then(Value::as_array).into_iter().flatten() {
            match name.as_str() {
                Some(name) if !fields.contains_key(name) => add(Kind::Missing(name)),
                _ => {}
            }
        }
    }
}

/// How many of several forms a value has.
enum Fit<'a> {
    None(Vec<Vec<Departure<'a>>>),
    One,
    Many,
}

fn has_type(value: &Value, name: &str) -> bool {
    match value {
        Value::Null => name == "null",
        Value::Bool(_) => name == "boolean",
        Value::String(_) => name == "string",
        Value::Array(_) => name == "array",
        Value::Object(_) => name == "object",
        // A whole number may be written as 2.0.
        Value::Number(n) => match name {
            "number" => true,
            "integer" => n.is_i64() || n.is_u64() || n.as_f64().is_some_and(|x| x.fract() == 0.0),
            _ => false,
        },
    }
}

fn is_beyond(value: &Value, keyword: &str, limit: &Value) -> bool {
    let (Some(bound), whole) = (limit.as_f64(), limit.as_u64()) else { return false };
    match (value, keyword) {
        (Value::Number(n), _) => n.as_f64().is_some_and(|x| match keyword {
            "minimum" => x < bound,
            "maximum" => x > bound,
            "exclusiveMinimum" => x <= bound,
            "exclusiveMaximum" => x >= bound,
            _ => false,
        }),
        (Value::String(text), "minLength" | "maxLength") => {
            let length = text.chars().count() as u64;
            whole.is_some_and(|w| if keyword == "minLength" { length < w } else { length > w })
        }
        (Value::Array(items), "minItems" | "maxItems") => {
            let length = items.len() as u64;
            whole.is_some_and(|w| if keyword == "minItems" { length < w } else { length > w })
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calls::{ALL, Form};
    use jsonschema::error::ValidationErrorKind as Theirs;
    use schemars::generate::SchemaSettings;
    use serde_json::json;
    use std::collections::BTreeSet;

    /// The schema of a request, without patterns, which are not looked at.
    fn schema(call: &crate::calls::AnyCall) -> Value {
        let mut generator = SchemaSettings::draft2020_12().for_deserialize().into_generator();
        let mut schema = call.request_schema(&mut generator, Form::Document).to_value();
        each_schema(&mut schema, &mut |schema| {
            schema.remove("pattern");
        });
        schema
    }

    fn each_schema(schema: &mut Value, seen: &mut impl FnMut(&mut Map<String, Value>)) {
        let Some(schema) = schema.as_object_mut() else { return };
        seen(schema);
        for (keyword, rule) in schema {
            match keyword.as_str() {
                "properties" | "$defs" => {
                    rule.as_object_mut().unwrap().values_mut().for_each(|s| each_schema(s, seen));
                }
                "items" | "additionalProperties" => each_schema(rule, seen),
                "anyOf" | "oneOf" => {
                    rule.as_array_mut().unwrap().iter_mut().for_each(|s| each_schema(s, seen));
                }
                _ => {}
            }
        }
    }

    /// What a validator of JSON Schema (the crate `jsonschema`) finds, as pointer and kind.
    fn theirs(validator: &jsonschema::Validator, value: &Value) -> BTreeSet<(String, String)> {
        validator
            .iter_errors(value)
            .map(|e| {
                let kind = match e.kind() {
                    Theirs::AdditionalProperties { .. } | Theirs::FalseSchema => "unknown",
                    Theirs::Required { .. } => "missing",
                    Theirs::Type { .. } => "type",
                    Theirs::Enum { .. } | Theirs::Constant { .. } => "words",
                    Theirs::AnyOf { .. } | Theirs::OneOfNotValid { .. } => "no form",
                    Theirs::OneOfMultipleValid { .. } => "many forms",
                    _ => "limit",
                };
                (e.instance_path().as_str().to_owned(), kind.to_owned())
            })
            .collect()
    }

    fn ours(schema: &Value, value: &Value) -> BTreeSet<(String, String)> {
        let kind = |kind: &Kind<'_>| match kind {
            Kind::Unknown { .. } => "unknown",
            Kind::Missing(_) => "missing",
            Kind::Type(_) => "type",
            Kind::Words(_) => "words",
            Kind::NoForm(_) => "no form",
            Kind::ManyForms => "many forms",
            Kind::Limit(..) => "limit",
        };
        departures(value, schema).iter().map(|d| (d.at.clone(), kind(&d.kind).into())).collect()
    }

    /// Pointers to the values in a value: of a list to the first two items.
    fn places(value: &Value, at: &str, all: &mut Vec<String>) {
        all.push(at.to_owned());
        match value {
            Value::Object(fields) => {
                fields.iter().for_each(|(name, v)| places(v, &pointer::key(at, name), all));
            }
            Value::Array(items) => {
                let first = items.iter().enumerate().take(2);
                first.for_each(|(i, v)| places(v, &pointer::index(at, i), all));
            }
            _ => {}
        }
    }

    fn short(value: &mut Value) {
        match value {
            Value::Object(fields) => fields.values_mut().for_each(short),
            Value::Array(items) => {
                items.truncate(3);
                items.iter_mut().for_each(short);
            }
            _ => {}
        }
    }

    #[test]
    fn a_validator_of_json_schema_finds_the_same() {
        let others = [
            json!(null),
            json!(true),
            json!(0),
            json!(2.0),
            json!(-1.5),
            json!(1e300),
            json!(""),
            json!("a word of no list"),
            json!("x".repeat(5_000)),
            json!([]),
            json!({}),
            json!([1, "two", null]),
            json!({"kind": "none", "other": 1}),
            json!(u64::MAX),
        ];
        let mut faults = 0;
        for call in ALL {
            let schema = schema(call);
            let validator = jsonschema::validator_for(&schema).unwrap();
            let mut good: Value = serde_json::from_str(call.example()).unwrap();
            short(&mut good);
            let mut all = Vec::new();
            places(&good, "", &mut all);
            let mut compare = |value: &Value, what: &str| {
                let theirs = theirs(&validator, value);
                faults += theirs.len();
                assert_eq!(ours(&schema, value), theirs, "{}: {what}", call.name());
            };
            compare(&good, "the example");
            for at in &all {
                for other in &others {
                    let mut bad = good.clone();
                    *bad.pointer_mut(at).unwrap() = other.clone();
                    compare(&bad, &format!("{at} is {other:.40}"));
                }
                let mut bad = good.clone();
                match bad.pointer_mut(at) {
                    Some(Value::Object(fields)) => {
                        let first = fields.keys().next().cloned();
                        fields.insert("a~/field".into(), json!(1));
                        first.map(|name| fields.remove(&name));
                    }
                    Some(Value::Array(items)) => {
                        let item = items.first().cloned().unwrap_or_default();
                        items.resize(2_000, item);
                    }
                    _ => continue,
                }
                compare(&bad, &format!("{at} has other fields or many items"));
            }
        }
        assert!(faults > 5_000, "{faults}");
    }

    #[test]
    fn no_request_uses_a_keyword_that_is_not_looked_at() {
        let judged = [
            "$ref",
            "additionalProperties",
            "anyOf",
            "const",
            "enum",
            "exclusiveMaximum",
            "exclusiveMinimum",
            "items",
            "maxItems",
            "maxLength",
            "maximum",
            "minItems",
            "minLength",
            "minimum",
            "oneOf",
            "properties",
            "required",
            "type",
        ];
        let words = ["$defs", "$schema", "default", "description", "examples", "format", "title"];
        for call in ALL {
            each_schema(&mut schema(call), &mut |schema| {
                for keyword in schema.keys() {
                    let known = judged.contains(&&**keyword) || words.contains(&&**keyword);
                    assert!(known, "{}: {keyword}", call.name());
                }
            });
        }
    }
}
