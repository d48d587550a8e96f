//! What a search overlooks or changes, to find out what would make a window.

use crate::inputs::MixWater;

/// One or more changes to the situation.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Counterfactual {
    /// The grower can be there at any hour.
    pub(crate) any_hour: bool,
    /// What is changed about the air.
    pub(crate) air: AirChange,
    /// Per cent of the water replaced by rain or reverse-osmosis water.
    pub(crate) rain_percent: u8,
}

/// A change of the air.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct AirChange {
    /// Fans off and vents closed.
    pub(crate) still: bool,
    /// The humidity is kept at this or above, in %; 0 leaves it as it is.
    pub(crate) humidity_least: u8,
}

impl Counterfactual {
    pub(crate) const fn water(self) -> MixWater {
        MixWater::WithRain(self.rain_percent)
    }
}
