//! Which opening of the day it is.

use serde::{Deserialize, Serialize};

/// Which opening of the day it is. The phases are those of CAM (Osmond 1978).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Phase {
    /// A C3 leaf in the light.
    #[serde(rename = "day-open")]
    DayOpen,
    /// A CAM leaf in the dark.
    #[serde(rename = "phase-i")]
    PhaseI,
    /// A CAM leaf after dawn.
    #[serde(rename = "phase-ii")]
    PhaseII,
    /// A CAM leaf before dusk.
    #[serde(rename = "phase-iv")]
    PhaseIV,
}
