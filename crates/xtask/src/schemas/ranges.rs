//! Ranges and formats that the functions check but the types cannot say. A test lowers and raises
//! every one of them and expects a refusal.

use serde_json::{Value, json};

/// A field, its lowest and its highest value.
type Range = (&'static str, f64, f64);

const TYPES: &[(&str, &[Range])] = &[
    // The kinds of an entry stand within it, as its forms.
    (
        "Event",
        &[
            ("feed_strength_mg_l", 0.0, 1e4),
            ("n_mg_l", 0.0, 1e4),
            ("passes", 1.0, 10.0),
            ("volume_ml", 0.0, 1e6),
            ("drain_ml", 0.0, 1e6),
            ("drain_mg_l", 0.0, 1e5),
            ("duration_min", 0.1, 1440.0),
        ],
    ),
    ("PlantShare", &[("volume_ml", 0.0, 1e6)]),
    (
        "Conditions",
        &[
            ("temp_c", -5.0, 50.0),
            ("rh_percent", 0.0, 100.0),
            ("air_m_s", 0.0, 30.0),
            ("residue_g_m2", 0.0, 20.0),
            ("residue_log_sd", 0.01, 3.0),
            ("scale_g_m2", 0.0, 20.0),
        ],
    ),
    ("Observation", &[("residue_g_m2", 0.0, 20.0), ("residue_log_sd", 0.01, 3.0)]),
    ("Prior", &[("median_g_m2", 0.001, 2.0), ("log_sd", 0.05, 1.0)]),
    ("ThresholdRequest", &[("interval_share", 0.5, 0.99)]),
    (
        "NextStrengthRequest",
        &[
            ("residue_g_m2_per_mg_l", 0.0, 0.01),
            ("residue_without_feed_g_m2", 0.0, 20.0),
            ("residue_log_sd", 0.01, 3.0),
            ("tolerance", 0.01, 0.5),
            ("cap_mg_l", 25.0, 1e4),
            ("present_mg_l", 0.0, 1e4),
        ],
    ),
];

/// Types whose every number has one range.
const WHOLE: &[(&str, f64, f64)] = &[];

/// Formats of RFC 3339 and lengths of text, by type and field.
const TEXTS: &[(&str, &str, &str)] = &[("AdherenceRequest", "soaks", r#"{"minItems": 1}"#)];

/// Adds what is known of this type to its schema.
pub(super) fn add(name: &str, schema: &mut Value) {
    // A choice of forms: each form has its own fields.
    if let Some(Value::Array(forms)) = schema.get_mut("oneOf") {
        forms.iter_mut().for_each(|form| add(name, form));
    }
    let Some(Value::Object(fields)) = schema.get_mut("properties") else { return };
    let whole = WHOLE.iter().find(|w| w.0 == name);
    let ranges = TYPES.iter().find(|t| t.0 == name).map_or(&[][..], |t| t.1);
    for (field, schema) in fields.iter_mut() {
        if !schema.get("type").is_some_and(is_number) {
            continue;
        }
        if let Some((_, low, high)) = whole {
            limit(schema, "minimum", *low);
            limit(schema, "maximum", *high);
        }
        if let Some((_, low, high)) = ranges.iter().find(|r| r.0 == field) {
            limit(schema, "minimum", *low);
            limit(schema, "maximum", *high);
        }
    }
    for (_, field, text) in TEXTS.iter().filter(|t| t.0 == name) {
        let Some(Value::Object(target)) = fields.get_mut(*field) else { continue };
        // The table above is JSON; a test reads all of it.
        if let Ok(Value::Object(more)) = serde_json::from_str(text) {
            target.extend(more);
        }
    }
}

fn is_number(kind: &Value) -> bool {
    let number = |k: &Value| matches!(k.as_str(), Some("number" | "integer"));
    number(kind) || kind.as_array().is_some_and(|kinds| kinds.iter().any(number))
}

fn limit(schema: &mut Value, key: &str, value: f64) {
    if !value.is_finite() {
        return;
    }
    if let Some(map) = schema.as_object_mut() {
        // Whole numbers are written as such.
        #[expect(clippy::cast_possible_truncation, reason = "whole and below 1e7")]
        let number = if value.fract() == 0.0 { json!(value as i64) } else { json!(value) };
        map.insert(key.into(), number);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_text_rule_is_json() {
        for (_, field, text) in TEXTS {
            assert!(serde_json::from_str::<Value>(text).is_ok(), "{field}");
        }
    }
}
