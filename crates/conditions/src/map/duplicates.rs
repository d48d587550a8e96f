//! Readings of the same area and time.

use serde::{Deserialize, Serialize};

/// What to do with readings of the same area and time that differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Duplicates {
    /// Take the first.
    #[default]
    First,
    /// Take the last.
    Last,
    /// Take the mean of each quantity.
    Mean,
}
