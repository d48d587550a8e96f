//! How a map states times.

use serde::{Deserialize, Serialize};

/// Which of two equal local times to take when clocks were put back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Ambiguous {
    /// By the order of the rows: the first pass through the hour is the earlier one, and what
    /// follows a later time is the second pass. Where a file has just one pass, it is taken as the
    /// first, and the report says so.
    #[default]
    ByOrder,
    /// Always the earlier.
    Earlier,
    /// Always the later.
    Later,
    /// Drop the rows, and report them.
    Drop,
}

/// What to do with a local time that never was, when clocks were put forward.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Nonexistent {
    /// Drop the rows, and report them.
    #[default]
    Drop,
    /// Read them with the offset that held before, as a clock shows that was not put forward.
    Shift,
}
