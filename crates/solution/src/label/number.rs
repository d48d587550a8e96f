//! Numbers as people write them: `15`, `"15.5"`, `"15,5"`, `"15,5 %"`.

use serde::de::{self, Deserializer, Visitor};

/// A number from text, with a decimal point or a decimal comma. `None` where it is not a number
/// or where a comma could mean thousands.
pub(crate) fn parse_number(text: &str) -> Option<f64> {
    let t = text.trim().trim_end_matches('%').trim_end().trim_start_matches(['<', '≤']).trim();
    let commas = t.matches(',').count();
    let value = match (commas, t.contains('.')) {
        (0, _) => t.parse::<f64>(),
        (1, false) => t.replace(',', ".").parse::<f64>(),
        _ => return None,
    };
    value.ok().filter(|v| v.is_finite())
}

/// A number that may be written as text with a decimal comma, for schemas.
#[cfg(feature = "schema")]
pub(super) struct LenientNumber;

#[cfg(feature = "schema")]
impl schemars::JsonSchema for LenientNumber {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "LenientNumber".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": ["number", "string"],
            "pattern": "^[0-9]{1,3}([.,][0-9]{1,9})?( ?%)?$"
        })
    }
}

/// Deserialises an optional number that may also be text with a decimal comma.
pub(super) fn lenient_number<'de, D: Deserializer<'de>>(d: D) -> Result<Option<f64>, D::Error> {
    struct Lenient;
    impl<'de> Visitor<'de> for Lenient {
        type Value = Option<f64>;
        fn expecting(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
            f.write_str("a number such as 15.5")
        }
        fn visit_f64<E: de::Error>(self, v: f64) -> Result<Self::Value, E> {
            if v.is_finite() {
                Ok(Some(v))
            } else {
                Err(E::custom("the number is not finite; write a figure such as 15.5"))
            }
        }
        fn visit_i64<E: de::Error>(self, v: i64) -> Result<Self::Value, E> {
            i32::try_from(v)
                .map(|n| Some(f64::from(n)))
                .map_err(|_| E::custom(format!("{v} is too large")))
        }
        fn visit_u64<E: de::Error>(self, v: u64) -> Result<Self::Value, E> {
            u32::try_from(v)
                .map(|n| Some(f64::from(n)))
                .map_err(|_| E::custom(format!("{v} is too large")))
        }
        fn visit_str<E: de::Error>(self, v: &str) -> Result<Self::Value, E> {
            parse_number(v).map(Some).ok_or_else(|| {
                E::custom(format!("{v:?} is not a number; write a figure such as 15.5 or \"15,5\""))
            })
        }
        fn visit_none<E: de::Error>(self) -> Result<Self::Value, E> {
            Ok(None)
        }
        fn visit_unit<E: de::Error>(self) -> Result<Self::Value, E> {
            Ok(None)
        }
        fn visit_some<D: Deserializer<'de>>(self, d: D) -> Result<Self::Value, D::Error> {
            d.deserialize_any(self)
        }
    }
    d.deserialize_any(Lenient)
}

#[cfg(test)]
mod tests {
    use super::parse_number;

    #[test]
    fn decimal_marks() {
        assert_eq!(parse_number("15,5 %"), Some(15.5));
        assert_eq!(parse_number("15.5"), Some(15.5));
        assert_eq!(parse_number("1.234,5"), None);
        assert_eq!(parse_number("1,234,5"), None);
        assert_eq!(parse_number("NaN"), None);
        assert_eq!(parse_number(""), None);
    }
}
