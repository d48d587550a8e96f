//! Declared bounds in a JSON Schema.

use crate::{Bound, Bounded};
use schemars::Schema;
use serde_json::{Map, Value};

/// Writes the bounds of a type into its schema; for `#[schemars(transform = …)]`.
///
/// ```
/// use guardcell_call::{Bound, bounds};
///
/// #[derive(schemars::JsonSchema)]
/// #[schemars(transform = guardcell_call::schema::bounds::<Self>)]
/// struct Reading { rh_percent: Option<f64> }
/// bounds! { Reading { rh_percent: Bound::number(0.0, 100.0, "%") } }
///
/// let schema = schemars::schema_for!(Reading);
/// assert_eq!(schema.pointer("/properties/rh_percent/maximum").unwrap(), &100);
/// ```
pub fn bounds<T: Bounded>(schema: &mut Schema) {
    write(schema.ensure_object(), T::BOUNDS);
}

/// Writes these bounds into the properties of a schema and of each of its forms.
pub fn write(schema: &mut Map<String, Value>, bounds: &[(&str, Bound)]) {
    for forms in ["oneOf", "anyOf"] {
        if let Some(Value::Array(forms)) = schema.get_mut(forms) {
            forms.iter_mut().filter_map(Value::as_object_mut).for_each(|form| write(form, bounds));
        }
    }
    let Some(Value::Object(properties)) = schema.get_mut("properties") else { return };
    for (field, bound) in bounds {
        let Some(Value::Object(property)) = properties.get_mut(*field) else { continue };
        match *bound {
            Bound::Number { min, min_excluded, max, .. } => {
                let low = if min_excluded { "exclusiveMinimum" } else { "minimum" };
                limit(property, low, min);
                limit(property, "maximum", max);
            }
            Bound::Text { min, max } => {
                property.insert("minLength".into(), min.into());
                property.insert("maxLength".into(), max.into());
            }
            Bound::Items { min, max } => {
                property.insert("minItems".into(), min.into());
                property.insert("maxItems".into(), max.into());
            }
        }
    }
}

fn limit(property: &mut Map<String, Value>, key: &str, value: f64) {
    // Whole numbers are written as such; an infinite bound is not a bound.
    #[expect(clippy::cast_possible_truncation, reason = "whole and below 2^53")]
    let number = if value.fract() == 0.0 && value.abs() < 9e15 {
        Value::from(value as i64)
    } else {
        Value::from(value)
    };
    if value.is_finite() {
        property.insert(key.to_owned(), number);
    } else {
        property.remove(key);
    }
}
