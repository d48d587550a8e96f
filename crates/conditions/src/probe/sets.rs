//! Where in an unknown JSON document values stand side by side.

use serde_json::{Map, Value};

/// Values with one pointer each, element by element.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Set {
    /// The array of objects that the pointers start at; none where they start at the document.
    pub(super) rows: Option<String>,
    /// How many elements there are.
    pub(super) elements: usize,
    pub(super) fields: Vec<Field>,
}

/// One value of every element.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Field {
    pub(super) pointer: String,
    pub(super) values: Vec<Value>,
}

/// Deeper values are not looked for.
const DEPTH: usize = 5;
/// More sets than any logger writes.
const SETS_MOST: usize = 200;

/// A pointer with one more step.
fn step(pointer: &str, key: &str) -> String {
    format!("{pointer}/{}", key.replace('~', "~0").replace('/', "~1"))
}

/// Every set of a document: arrays of objects, arrays side by side, and the single values.
pub(super) fn sets(document: &Value) -> Vec<Set> {
    let mut out = Vec::new();
    walk(document, String::new(), 0, &mut out);
    let mut fields = Vec::new();
    scalars(document, String::new(), 0, &mut fields);
    if !fields.is_empty() {
        out.push(Set { rows: None, elements: 1, fields });
    }
    out
}

fn walk(value: &Value, pointer: String, depth: usize, out: &mut Vec<Set>) {
    if depth > DEPTH || out.len() >= SETS_MOST {
        return;
    }
    match value {
        Value::Array(items) if items.first().is_some_and(Value::is_object) => {
            out.push(of_objects(items, pointer));
        }
        Value::Object(map) => {
            out.extend(side_by_side(map, &pointer));
            for (key, inner) in map {
                walk(inner, step(&pointer, key), depth + 1, out);
            }
        }
        _ => {}
    }
}

/// The fields of an array of objects.
fn of_objects(items: &[Value], pointer: String) -> Set {
    let mut fields: Vec<Field> = Vec::new();
    for item in items {
        let mut own = Vec::new();
        scalars(item, String::new(), 0, &mut own);
        for field in own {
            match fields.iter_mut().find(|f| f.pointer == field.pointer) {
                Some(known) => known.values.extend(field.values),
                None => fields.push(field),
            }
        }
    }
    Set { rows: Some(pointer), elements: items.len(), fields }
}

/// The arrays of an object that are as long as most of its arrays.
fn side_by_side(map: &Map<String, Value>, pointer: &str) -> Vec<Set> {
    let arrays: Vec<(&String, &Vec<Value>)> = map
        .iter()
        .filter_map(|(key, value)| match value {
            Value::Array(items) if items.iter().all(|v| !v.is_object() && !v.is_array()) => {
                Some((key, items))
            }
            _ => None,
        })
        .collect();
    let mut lengths: Vec<usize> = arrays.iter().map(|(_, items)| items.len()).collect();
    lengths.sort_unstable();
    lengths.dedup();
    lengths
        .into_iter()
        .filter(|n| *n > 0)
        .map(|n| Set {
            rows: None,
            elements: n,
            fields: arrays
                .iter()
                .filter(|(_, items)| items.len() == n)
                .map(|(key, items)| Field { pointer: step(pointer, key), values: (*items).clone() })
                .collect(),
        })
        .filter(|set| set.fields.len() > 1)
        .collect()
}

/// The single values of an object and of those within it.
fn scalars(value: &Value, pointer: String, depth: usize, out: &mut Vec<Field>) {
    match value {
        Value::Object(map) if depth <= DEPTH => {
            for (key, inner) in map.iter().filter(|(k, v)| !(is_units(k) && v.is_object())) {
                scalars(inner, step(&pointer, key), depth + 1, out);
            }
        }
        Value::Number(_) | Value::String(_) | Value::Null if !pointer.is_empty() => {
            out.push(Field { pointer, values: vec![value.clone()] });
        }
        _ => {}
    }
}

/// The unit that a document states for a value, with its pointer: in an object of units that has the
/// same key and stands beside the value or beside one of the objects that it is in.
pub(super) fn unit_of(document: &Value, pointer: &str) -> Option<(String, String)> {
    let (mut around, key) = pointer.rsplit_once('/')?;
    let mut within = "";
    loop {
        let object = document.pointer(around).and_then(Value::as_object);
        let units = object.into_iter().flatten().filter_map(|(name, inner)| {
            let unit = inner.get(key)?.as_str()?;
            let at = step(&step(around, name), key);
            is_units(name).then(|| (name.contains(within), at, unit.to_owned()))
        });
        // Of hourly_units and daily_units that of the object which the value is in.
        if let Some((_, at, unit)) = units.max_by_key(|(own, ..)| *own) {
            return Some((at, unit));
        }
        (around, within) = around.rsplit_once('/')?;
    }
}

/// Whether an object of that name holds units.
fn is_units(name: &str) -> bool {
    name.to_lowercase().contains("unit")
}

/// The last step of a pointer that is a name; `value` and the like leave it to the step before.
pub(super) fn key(pointer: &str) -> &str {
    let mut steps = pointer.rsplit('/');
    let last = steps.next().unwrap_or_default();
    if is_value(last) {
        return steps.next().filter(|s| !s.is_empty()).unwrap_or(last);
    }
    last
}

/// Whether a word says no more than that a value is there.
pub(super) fn is_value(word: &str) -> bool {
    matches!(word.to_lowercase().as_str(), "value" | "v" | "val" | "result" | "reading")
}
