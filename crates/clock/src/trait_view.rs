//! What the clock needs to know about a plant.

use guardcell_reference::{Pathway, PeakTime, Trait};
use guardcell_units::quantity::Ratio;

/// How well the plant is supplied with water.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum WaterStatus {
    /// Watered as usual, not short of water.
    #[default]
    Watered,
    /// Dry for some days: CAM keeps to the night, facultative plants turn to CAM.
    Drought,
    /// Shrivelled: stomata stay shut day and night.
    SevereDrought,
}

/// What decides when a plant's stomata are open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TraitView {
    /// The pathway.
    pub pathway: Pathway,
    /// The probability of CAM, 0 … 1: with it, a pathway that is not certain keeps the openings of
    /// both.
    pub cam_share: Option<Ratio>,
    /// When its opening was measured to be widest.
    pub opens_peak: Option<PeakTime>,
    /// Without leaves: green roots do the work and have no stomata.
    pub leafless: bool,
}

impl TraitView {
    /// A leafy plant of this pathway without a measured peak.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
    /// use guardcell::clock::{Pathway, TraitView};
    /// assert!(!TraitView::of(Pathway::Cam).leafless);
    /// ```
    #[must_use]
    pub const fn of(pathway: Pathway) -> Self {
        Self { pathway, cam_share: None, opens_peak: None, leafless: false }
    }
}

impl From<&Trait> for TraitView {
    fn from(t: &Trait) -> Self {
        Self {
            pathway: t.pathway,
            cam_share: t
                .chance
                .map(guardcell_reference::Chance::cam)
                .or_else(|| t.cam_share.and_then(guardcell_reference::CamShare::ratio)),
            opens_peak: t.opens_peak,
            leafless: t.leafless,
        }
    }
}
