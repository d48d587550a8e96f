//! What a caller asks: site, readings, water, feed, plants, settings. One wire type per part,
//! shared by every face of guardcell.

mod plant;
mod reading;
mod site;

pub use plant::{Growth, PlantEntry, Setting, SizeClass, Standing};
pub use reading::{Reading, ReadingRange};
pub use site::{
    AreaDescription, FeedDescription, GroupStrength, GrowerSettings, Shelter, SiteDescription,
    SupplementDescription, Winter, WorkingHours,
};

use guardcell_call::{Bound, bounds, setters};
use guardcell_solution::{Label, WaterReport};
use serde::{Deserialize, Serialize};

/// A request for advice: who may be fed, when, how strong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct AdviceRequest {
    /// The place, its areas and its grower.
    pub site: SiteDescription,
    /// The air: one reading (advice for now) or an hourly series (advice by window).
    pub readings: Vec<Reading>,
    /// The plants.
    pub plants: Vec<PlantEntry>,
    /// The product that is fed, as its label states it. Without it the feed is taken as unknown
    /// salts and the answer says what that leaves open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed: Option<Label>,
    /// The water the feed is mixed with and the mister topped up with. Without it, pure water is
    /// assumed and the answer says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<WaterReport>,
    /// When the answer starts: a date (`2026-06-21`, taken as local noon) or an RFC 3339 time.
    pub at: String,
    /// How many hours the answer looks ahead; 36 when not given (tonight and tomorrow).
    #[serde(default = "default_hours")]
    pub hours: u16,
    /// Whether the turn is one of plain water: nobody is fed, whoever could be is misted with water
    /// alone, and no product is needed.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub plain_water: bool,
}

impl AdviceRequest {
    /// Asks for 36 hours from a start: a date (taken as local noon) or an RFC 3339 time. The feed is
    /// unknown salts and the water pure until they are given.
    ///
    /// ```
    /// # mod guardcell { pub use guardcell_error::Error; pub mod advice { pub use guardcell_advice::*; } }
    /// use guardcell::advice::{
    ///     AdviceRequest, AreaDescription, PlantEntry, Reading, Setting, Shelter, SiteDescription,
    ///     Standing, advise,
    /// };
    /// let house = AreaDescription::new("house", "Cloud-forest house", Shelter::Glass);
    /// let site =
    ///     SiteDescription::new("Fernhollow", 38.5, -28.0, "Atlantic/Azores", vec![house]);
    /// let plant = PlantEntry::new(
    ///     "FH-001", "Cattleya labiata", "house", Setting::Mounted, Standing::Established,
    /// );
    /// let now = "2026-06-21T20:00:00+00:00";
    /// let readings = vec![Reading::new(now, 19.0, 85.0).with_air_m_s(0.3)];
    /// let advice = advise(&AdviceRequest::new(site, readings, vec![plant], now))?;
    /// assert_eq!(advice.plants[0].id, "FH-001");
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    #[must_use]
    pub fn new(
        site: SiteDescription,
        readings: Vec<Reading>,
        plants: Vec<PlantEntry>,
        at: impl Into<String>,
    ) -> Self {
        Self {
            site,
            readings,
            plants,
            feed: None,
            water: None,
            at: at.into(),
            hours: default_hours(),
            plain_water: false,
        }
    }
}

setters! { AdviceRequest {
    /// The same with this product, as its label states it.
    with_feed(feed?: Label);
    /// The same mixed with this water.
    with_water(water?: WaterReport);
    /// The same looking this many hours ahead, 1 to 168.
    with_hours(hours: u16);
    /// The same as a turn of plain water, or not.
    with_plain_water(plain_water: bool);
} }

bounds! { AdviceRequest {
    hours: Bound::number(1.0, 168.0, "h"),
    plants: Bound::items(1, 20_000),
    readings: Bound::items(1, 200_000),
    at: Bound::text(1, 64),
} }

const fn default_hours() -> u16 {
    36
}
