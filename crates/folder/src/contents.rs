//! A folder as a whole, as a device needs it that plans and records away from it.

use guardcell::advice::{PlantEntry, SiteDescription};
use guardcell::solution::{Label, WaterReport};
use serde::{Deserialize, Serialize};

/// What a request for advice needs of a folder, but for the air.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Contents {
    /// Place, areas, grower.
    pub site: SiteDescription,
    /// The plants of the collection.
    pub plants: Vec<PlantEntry>,
    /// The labels of the products there are; `grower` of the site says which is used.
    pub labels: Vec<Label>,
    /// The water that feeds are mixed with; pure water where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<WaterReport>,
}

impl Contents {
    /// A folder that has a site and nothing else.
    ///
    /// ```
    /// let site = guardcell_folder::site("site.toml", r#"
    ///     name = "Fernhollow"
    ///     latitude_deg = 51.5
    ///     longitude_deg = -0.1
    ///     time_zone = "Europe/London"
    ///     [[areas]]
    ///     id = "house"
    ///     name = "Glass house"
    ///     shelter = "glass"
    ///     light = "sun"
    /// "#)?;
    /// let contents = guardcell_folder::Contents::new(site);
    /// assert!(serde_json::to_string(&contents).unwrap().contains(r#""plants":[]"#));
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    #[must_use]
    pub const fn new(site: SiteDescription) -> Self {
        Self { site, plants: Vec::new(), labels: Vec::new(), water: None }
    }
}
