//! Warnings and assumptions that travel with an answer.

use serde::{Deserialize, Serialize};

/// Something the reader of an answer should know: a warning, an assumption, a caution.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Notice {
    /// A stable code in kebab case, such as `urea-invisible`.
    pub code: String,
    /// The sentence for a reader.
    pub says: String,
    /// Keys of the works it rests on (`data/sources.csv`); empty for common practice.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sources: Vec<String>,
}

impl Notice {
    /// A notice without a source.
    pub(crate) fn new(code: &str, says: impl Into<String>) -> Self {
        Self { code: code.to_owned(), says: says.into(), sources: Vec::new() }
    }

    /// The same with sources.
    pub(crate) fn with_sources(mut self, keys: &[&str]) -> Self {
        self.sources = keys.iter().map(|&k| k.to_owned()).collect();
        self
    }
}

/// A quantity with its bounds. `value` is absent where only the bounds are known, as with the EC
/// of a feed whose counter-ions its label does not name.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Bounds {
    /// The low end.
    pub low: f64,
    /// The most likely value, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// The high end.
    pub high: f64,
}

impl Bounds {
    /// The value, or the middle of the bounds.
    #[must_use]
    pub fn middle(&self) -> f64 {
        self.value.unwrap_or(f64::midpoint(self.low, self.high))
    }

    /// Every figure times a positive factor.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        Self {
            low: self.low * factor,
            value: self.value.map(|v| v * factor),
            high: self.high * factor,
        }
    }
}
