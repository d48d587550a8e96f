//! The map of a service of OGC SensorThings v1.1.

use super::quantity::Stated;
use super::{Asked, Duplicates, HttpSettings, MAX_AGE_H_MOST, asked, within};
use crate::error::in_map;
use guardcell::Error;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The word `sensorthings`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum SensorThingsSource {
    /// OGC SensorThings API, part 1: sensing, version 1.1 (OGC 18-088).
    Sensorthings,
}

/// Which Datastreams of a service hold the readings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SensorThingsMap {
    /// `sensorthings`.
    pub source: SensorThingsSource,
    /// The root of the service with its version, such as `https://example.org/v1.1`; `${NAME}`
    /// stands for the variable NAME of the environment.
    pub url: String,
    /// Headers to send, `${NAME}` as in `url`.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub headers: BTreeMap<String, String>,
    /// Bounds of the connection.
    #[serde(default)]
    pub http: HttpSettings,
    /// Whether a redirect may lead to an address within the own network. It may where `url`
    /// itself is one.
    #[serde(default)]
    pub allow_private: bool,
    /// How far back Observations are asked for, in hours, up to 8784; 48 by default.
    #[serde(default = "two_days")]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 8784.0)))]
    pub back_h: f64,
    /// How many Observations a page holds (`$top`), 1 to 10000; 200 by default.
    #[serde(default = "page")]
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 10_000)))]
    pub top: u32,
    /// How many pages of a Datastream are asked for at most, 1 to 1000; 10 by default.
    #[serde(default = "pages")]
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1000)))]
    pub pages_most: u32,
    /// How far apart in time Observations of different Datastreams may be to make one reading, in
    /// seconds, 0 to 3600; 60 by default.
    #[serde(default = "super::tolerance::default_s")]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 3600.0)))]
    pub tolerance_s: f64,
    /// The Datastreams, area by area.
    #[cfg_attr(feature = "schema", schemars(length(min = 1)))]
    pub series: Vec<SensorThingsSeries>,
    /// Results that stand for a missing value beside `null`, such as `-999`.
    #[serde(default)]
    pub missing: Vec<String>,
    /// What to do with readings of the same area and time that differ; the first by default.
    #[serde(default)]
    pub duplicates: Duplicates,
    /// The oldest age of the newest reading, in hours; 2 by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.01, max = 720.0)))]
    pub max_age_h: Option<f64>,
}

const fn two_days() -> f64 {
    48.0
}

const fn page() -> u32 {
    200
}

const fn pages() -> u32 {
    10
}

/// The Datastreams of one area.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SensorThingsSeries {
    /// The area of the site; every area by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// Air temperature; its Observations give the times of the readings.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<StreamQuantity>,
    /// Relative humidity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity: Option<StreamQuantity>,
    /// Dew point, instead of humidity; −5 to 50 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dew_point: Option<StreamQuantity>,
    /// Air speed at the leaves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_speed: Option<StreamQuantity>,
    /// Global radiation at the leaves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiation: Option<StreamQuantity>,
}

/// The identifier of an entity (`@iot.id`).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum EntityId {
    /// A number.
    Number(u64),
    /// A text.
    Text(String),
}

/// One Datastream, by its identifier or by a filter that just one meets.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct StreamQuantity {
    /// The identifier.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub datastream: Option<EntityId>,
    /// A `$filter` of Datastreams instead, such as `name eq 'House temperature'`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub filter: Option<String>,
    /// The unit where the service states none that is understood. Where it does, both must agree.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// For radiation that is not in W/m²: the W/m² that one unit stands for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub w_m2_per_unit: Option<f64>,
    /// How far outside its range a value is still taken as the limit, in its own unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit_within: Option<f64>,
}

impl SensorThingsSeries {
    pub(crate) fn asked(&self) -> Result<Vec<Asked<&StreamQuantity>>, Error> {
        let all =
            [&self.temperature, &self.humidity, &self.dew_point, &self.air_speed, &self.radiation];
        asked(all.map(|q| {
            q.as_ref().map(|q| Stated {
                from: q,
                unit: q.unit.as_deref(),
                w_m2_per_unit: q.w_m2_per_unit,
                limit_within: q.limit_within,
            })
        }))
    }
}

impl SensorThingsMap {
    pub(super) fn check(&self) -> Result<(), Error> {
        crate::address::check_url("url", &self.url, &crate::address::HTTP)?;
        crate::address::check_headers(&self.headers)?;
        self.http.check()?;
        within("max_age_h", self.max_age_h, 0.01, MAX_AGE_H_MOST, "h")?;
        within("back_h", Some(self.back_h), 0.1, 8784.0, "h")?;
        within("top", Some(f64::from(self.top)), 1.0, 10_000.0, "Observations")?;
        within("pages_most", Some(f64::from(self.pages_most)), 1.0, 1000.0, "pages")?;
        within("tolerance_s", Some(self.tolerance_s), 0.0, 3600.0, "s")?;
        if self.series.is_empty() {
            return Err(in_map("series", "no series is given", "add a table [[series]]"));
        }
        for (i, s) in self.series.iter().enumerate() {
            let here = |f: Error| f.within(&format!("/series/{i}"));
            for a in s.asked().map_err(here)? {
                if a.from.datastream.is_some() == a.from.filter.is_some() {
                    return Err(here(
                        in_map(
                            "datastream",
                            "a Datastream is named by its identifier or by a filter",
                            "give `datastream` or `filter`, not both",
                        )
                        .within(&format!("/{}", a.quantity.key())),
                    ));
                }
            }
        }
        Ok(())
    }
}
