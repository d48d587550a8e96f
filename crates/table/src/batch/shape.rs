//! The types of the columns of an answer, from its JSON Schema.

use arrow_schema::{DataType, Field, Fields};
use serde_json::Value;
use std::sync::Arc;

/// How many lists and objects deep a column is nested; what is deeper is text with JSON in it.
pub const DEEPEST: usize = 4;

/// What a value is as a column.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Shape {
    Float,
    Int,
    Bool,
    Text,
    /// A value of several forms, a map, or what is nested too deeply.
    Json,
    List(Box<Shape>),
    Struct(Vec<(String, Shape)>),
}

impl Shape {
    pub(super) fn data_type(&self) -> DataType {
        match self {
            Self::Float => DataType::Float64,
            Self::Int => DataType::Int64,
            Self::Bool => DataType::Boolean,
            Self::Text | Self::Json => DataType::Utf8,
            Self::List(item) => DataType::List(Arc::new(Self::item(item))),
            Self::Struct(fields) => DataType::Struct(Self::fields(fields)),
        }
    }

    pub(super) fn item(item: &Self) -> Field {
        Field::new("item", item.data_type(), true)
    }

    pub(super) fn fields(fields: &[(String, Self)]) -> Fields {
        fields.iter().map(|(name, shape)| Field::new(name, shape.data_type(), true)).collect()
    }
}

/// The shape of what is under a path in a value of this schema.
pub(super) fn shape(schema: &Value, path: &str) -> Shape {
    let mut at = schema;
    for part in path.split('.') {
        at = resolved(schema, at);
        let properties = at.get("properties").and_then(|p| p.get(part));
        let next = properties
            .or_else(|| at.get("items"))
            .or_else(|| at.get("additionalProperties").filter(|more| more.is_object()));
        match next {
            Some(next) => at = next,
            None => return Shape::Json,
        }
    }
    of(schema, at, DEEPEST)
}

/// The schema behind references and without null.
fn resolved<'s>(root: &'s Value, mut at: &'s Value) -> &'s Value {
    // References that lead in a circle end here.
    for _ in 0..32 {
        let next = match (at.get("$ref").and_then(Value::as_str), at.get("anyOf")) {
            (Some(name), _) => name.strip_prefix('#').and_then(|pointer| root.pointer(pointer)),
            (None, Some(Value::Array(forms))) => {
                let null = |form: &&Value| form.get("type").is_some_and(|t| t == "null");
                match forms.iter().filter(|form| !null(form)).collect::<Vec<_>>().as_slice() {
                    [one] => Some(*one),
                    _ => None,
                }
            }
            _ => None,
        };
        match next {
            Some(next) => at = next,
            None => break,
        }
    }
    at
}

fn of(root: &Value, at: &Value, deep: usize) -> Shape {
    let at = resolved(root, at);
    if let Some(Value::Array(forms)) = at.get("oneOf") {
        let text = |form: &Value| matches!(of(root, form, 0), Shape::Text);
        return if forms.iter().all(text) { Shape::Text } else { Shape::Json };
    }
    match kind(at) {
        Some("number") => Shape::Float,
        Some("integer") => Shape::Int,
        Some("boolean") => Shape::Bool,
        Some("string") => Shape::Text,
        Some("array") if deep > 0 => match at.get("items") {
            Some(item) => Shape::List(Box::new(of(root, item, deep - 1))),
            None => Shape::Json,
        },
        Some("object") if deep > 0 => match at.get("properties").and_then(Value::as_object) {
            // With free names beside the known ones, a structure would lose something.
            Some(fields) if !more(at) && !fields.is_empty() => Shape::Struct(
                fields.iter().map(|(n, s)| (n.clone(), of(root, s, deep - 1))).collect(),
            ),
            _ => Shape::Json,
        },
        _ => Shape::Json,
    }
}

fn more(at: &Value) -> bool {
    at.get("additionalProperties").is_some_and(|more| more != &Value::Bool(false))
}

/// The type, besides null.
fn kind(at: &Value) -> Option<&str> {
    match at.get("type") {
        Some(Value::String(kind)) => Some(kind),
        Some(Value::Array(kinds)) => {
            let mut kinds = kinds.iter().filter_map(Value::as_str).filter(|k| *k != "null");
            kinds.next().filter(|_| kinds.next().is_none())
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::function::{answer_schema, tabular};
    use guardcell::calls;

    fn column(call: &str, path: &str) -> Shape {
        shape(&answer_schema(calls::find(call).unwrap()), path)
    }

    #[test]
    fn types_follow_the_schemas() {
        assert_eq!(column("convert", "value"), Shape::Float);
        assert_eq!(column("convert", "basis"), Shape::Text);
        assert_eq!(column("convert", "notes"), Shape::List(Box::new(Shape::Text)));
        assert_eq!(column("convert", "from.value"), Shape::Float);
        assert_eq!(column("advise", "plants.0.verdict"), Shape::Text);
        assert_eq!(column("advise", "plants.0.passes"), Shape::Int);
        assert_eq!(column("genus", "leafless"), Shape::Bool);
        // A map with free names.
        assert_eq!(column("recipe", "profile_mg_l"), Shape::Json);
        let Shape::List(area) = column("advise", "areas") else { panic!("a list") };
        assert!(matches!(*area, Shape::Struct(_)));
    }

    /// What is written by default has a type of its own, but for a list of reasons with free inputs.
    #[test]
    fn usual_columns_are_typed() {
        for call in calls::ALL {
            let Some(tabular) = tabular(call) else { continue };
            for path in tabular.usual {
                assert_ne!(column(call.name(), path), Shape::Json, "{} {path}", call.name());
            }
        }
    }

    #[test]
    fn nothing_is_nested_more_deeply() {
        fn depth(shape: &Shape) -> usize {
            match shape {
                Shape::List(item) => 1 + depth(item),
                Shape::Struct(fields) => 1 + fields.iter().map(|f| depth(&f.1)).max().unwrap_or(0),
                _ => 0,
            }
        }
        let plants = column("advise", "plants");
        assert_eq!(depth(&plants), DEEPEST);
    }
}
