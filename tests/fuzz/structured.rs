//! Changes to a request that keep most of its form: what a confused or hostile program sends.

use crate::rng::Rng;
use crate::text;
use serde_json::{Map, Number, Value, json};

/// Numbers on the edges of what a double holds, and of what anybody means.
const NUMBERS: [f64; 26] = [
    0.0,
    -0.0,
    5e-324,
    -5e-324,
    2.3e-313,
    2.2e-308,
    1e-100,
    1e-31,
    1e-15,
    1e-9,
    1e-6,
    0.001,
    0.5,
    1.0,
    2.0,
    7.0,
    50.0,
    99.999_999,
    100.0,
    1e3,
    1e5,
    1e9,
    1e15,
    1e300,
    1.797_693_134_862_315_7e308,
    -1.0,
];

/// A request with one to four changes.
pub fn changed(rng: &mut Rng, request: &Value) -> Value {
    let mut out = request.clone();
    for _ in 0..1 + rng.below(4) {
        let places = count(&out);
        let mut left = rng.below(places);
        change(rng, &mut out, &mut left);
    }
    out
}

fn count(value: &Value) -> usize {
    1 + match value {
        Value::Array(items) => items.iter().map(count).sum::<usize>(),
        Value::Object(fields) => fields.values().map(count).sum(),
        _ => 0,
    }
}

/// Changes the value reached after `left` others.
fn change(rng: &mut Rng, value: &mut Value, left: &mut usize) -> bool {
    if *left == 0 {
        *value = other(rng, value);
        return true;
    }
    *left -= 1;
    match value {
        Value::Array(items) => items.iter_mut().any(|item| change(rng, item, left)),
        Value::Object(fields) => fields.values_mut().any(|field| change(rng, field, left)),
        _ => false,
    }
}

fn other(rng: &mut Rng, value: &Value) -> Value {
    if rng.below(8) == 0 {
        return match rng.below(6) {
            0 => Value::Null,
            1 => json!([]),
            2 => json!({}),
            3 => json!("x"),
            4 => json!(true),
            _ => json!([value, value]),
        };
    }
    match value {
        Value::Number(n) => number(rng, n),
        Value::String(s) => Value::String(text::changed(rng, s)),
        Value::Bool(b) => Value::Bool(!b),
        Value::Null => json!(1),
        Value::Array(items) => list(rng, items),
        Value::Object(fields) => object(rng, fields),
    }
}

fn number(rng: &mut Rng, n: &Number) -> Value {
    let v = n.as_f64().unwrap_or(1.0);
    let next = match rng.below(6) {
        0 | 1 => *rng.one(&NUMBERS),
        2 => v * 10_f64.powi(rng.below(13) as i32 - 6),
        3 => -v,
        4 => f64::from_bits(v.to_bits() ^ (1 << rng.below(63))),
        _ => v + 1.0,
    };
    if rng.below(4) == 0 && next.abs() < 1e15 {
        return json!(next as i64);
    }
    Number::from_f64(next).map_or(json!(0), Value::Number)
}

fn list(rng: &mut Rng, items: &[Value]) -> Value {
    let mut out = items.to_vec();
    if out.is_empty() {
        return json!([1]);
    }
    let i = rng.below(out.len());
    match rng.below(5) {
        0 => {
            out.remove(i);
        }
        1 => out.push(out[i].clone()),
        2 => {
            let j = rng.below(out.len());
            out.swap(i, j);
        }
        3 => out.reverse(),
        _ => out.extend((0..1 + rng.below(20)).map(|_| items[i].clone())),
    }
    Value::Array(out)
}

fn object(rng: &mut Rng, fields: &Map<String, Value>) -> Value {
    let mut out = fields.clone();
    let names: Vec<String> = out.keys().cloned().collect();
    if names.is_empty() {
        return json!({"x": 1});
    }
    let name = rng.one(&names).clone();
    match rng.below(4) {
        0 | 1 => {
            out.remove(&name);
        }
        2 => {
            let other = rng.one(&names);
            let (a, b) = (out[&name].clone(), out[other].clone());
            out.insert(name.clone(), b);
            out.insert(other.clone(), a);
        }
        _ => {
            let value = out[&name].clone();
            out.insert(text::changed(rng, &name), value);
        }
    }
    Value::Object(out)
}
