//! What a report did not state.

use serde::{Deserialize, Serialize};

/// One figure the report did not state.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Assumed {
    /// Which figure, such as `na` or `ph`.
    pub what: String,
    /// The assumed value, in `unit`.
    pub value: f64,
    /// The unit as a UCUM code.
    pub unit: String,
    /// How it was arrived at.
    pub how: String,
}

/// The names of assumed figures as words.
pub(crate) fn in_words(assumed: &[Assumed]) -> String {
    let words: Vec<&str> = assumed
        .iter()
        .map(|a| match a.what.as_str() {
            "ca" => "calcium",
            "mg" => "magnesium",
            "na" => "sodium",
            "k" => "potassium",
            "nh4" => "ammonium",
            "no3" => "nitrate",
            "p" => "phosphate",
            "so4" => "sulfate",
            "cl" => "chloride",
            "ph" => "pH",
            "na_closing" => "sodium to close the charge",
            "cl_closing" => "chloride to close the charge",
            other => other,
        })
        .collect();
    words.join(", ")
}
