//! The acids of the trade.

use serde::{Deserialize, Serialize};

/// The acids of the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum AcidName {
    /// H3PO4.
    Phosphoric,
    /// H2SO4.
    Sulfuric,
    /// HNO3.
    Nitric,
    /// C6H8O7, as the anhydrous solid or its solution.
    Citric,
}
