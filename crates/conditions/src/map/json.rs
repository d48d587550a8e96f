//! The map of a JSON document.

use super::quantity::Stated;
use super::{
    Ambiguous, Asked, Duplicates, HttpSettings, MAX_AGE_H_MOST, Nonexistent, TOLERANCE_S_MOST,
    asked, within,
};
use crate::error::in_map;
use crate::moment::Clock;
use crate::pointer;
use crate::unit::QuantityName;
use guardcell::Error;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The word `json`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum JsonSource {
    /// A JSON document.
    Json,
}

/// Where the readings are in a JSON document.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct JsonMap {
    /// `json`.
    pub source: JsonSource,
    /// The address (http or https) of the document. `${NAME}` stands for the variable NAME of the
    /// environment, so that no key is in the map.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub url: Option<String>,
    /// A file instead of an address; a path that is not absolute starts at the folder of the map,
    /// and `-` is standard input.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
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
    /// Values that stand for a missing one beside `null`, such as `-999`.
    #[serde(default)]
    pub missing: Vec<String>,
    /// What has been measured: one reading, or a series.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub current: Option<JsonPart>,
    /// What is expected, by the hour. A measured reading of the same area and time replaces it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub forecast: Option<JsonPart>,
    /// What to do with readings of the same area and time that differ; the first by default.
    #[serde(default)]
    pub duplicates: Duplicates,
    /// The oldest age of the newest reading, in hours; 2 by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.01, max = 720.0)))]
    pub max_age_h: Option<f64>,
}

/// One part of the document. With `rows`, the other pointers start at each element of that array;
/// without, they start at the document, and lead to single values or to arrays of equal length. A
/// quantity may have times of its own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct JsonPart {
    /// JSON Pointer (RFC 6901) to an array of objects.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rows: Option<String>,
    /// The area of the site the readings hold for; every area when neither this nor
    /// `area_pointer` is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// JSON Pointer to the name of the area.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area_pointer: Option<String>,
    /// From the words at `area_pointer` to areas; other words are dropped and reported.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub areas: Option<BTreeMap<String, String>>,
    /// The time. Where a quantity has times of its own, this is that of the temperature.
    pub time: JsonTime,
    /// How far apart in time the temperature and a quantity with times of its own may be to make
    /// one reading, in seconds, 0 to 3600; 60 by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 3600.0)))]
    pub tolerance_s: Option<f64>,
    /// Air temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<PointerQuantity>,
    /// Relative humidity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity: Option<PointerQuantity>,
    /// Dew point, instead of humidity; −5 to 50 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dew_point: Option<PointerQuantity>,
    /// Air speed at the leaves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_speed: Option<PointerQuantity>,
    /// Global radiation at the leaves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiation: Option<PointerQuantity>,
}

/// Where the time is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct JsonTime {
    /// JSON Pointer to the time.
    pub pointer: String,
    /// `rfc3339` (default), `unix_s`, `unix_ms`, or a pattern of strftime.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub format: Option<String>,
    /// The time zone where the time has no offset, as in the map of a CSV file.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// Which of two equal local times to take when clocks were put back.
    #[serde(default)]
    pub ambiguous: Ambiguous,
    /// What to do with local times that never were.
    #[serde(default)]
    pub nonexistent: Nonexistent,
}

/// A value with its unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PointerQuantity {
    /// JSON Pointer to the value.
    pub pointer: String,
    /// The times of this quantity, where they are not those of the temperature: its value nearest
    /// to a temperature, within `tolerance_s`, makes a reading with it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<JsonTime>,
    /// With `time`: JSON Pointer to the array of objects that `pointer` and `time` start at;
    /// without it they lead from the document to arrays of equal length or to single values.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rows: Option<String>,
    /// The unit, a UCUM code such as `Cel`, `[degF]`, `%`, `1`, `m/s`, `km/h`, `W/m2`.
    pub unit: String,
    /// JSON Pointer, from the document, to the unit as the service states it; it is an error where
    /// the two are not the same unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit_pointer: Option<String>,
    /// For radiation that is not in W/m²: the W/m² that one unit stands for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub w_m2_per_unit: Option<f64>,
    /// How far outside its range a value is still taken as the limit, in its own unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit_within: Option<f64>,
}

impl JsonTime {
    pub(crate) fn clock(&self) -> Result<Clock, Error> {
        pointer::check(&self.pointer).map_err(|f| f.within("/pointer"))?;
        Clock::new(self.format.as_deref(), self.zone.as_deref(), self.ambiguous, self.nonexistent)
    }
}

impl JsonPart {
    fn quantities(&self) -> [Option<&PointerQuantity>; 5] {
        [&self.temperature, &self.humidity, &self.dew_point, &self.air_speed, &self.radiation]
            .map(Option::as_ref)
    }

    pub(crate) fn asked(&self) -> Result<Vec<Asked<&PointerQuantity>>, Error> {
        asked(self.quantities().map(|q| {
            q.map(|q| Stated {
                from: q,
                unit: Some(&q.unit),
                w_m2_per_unit: q.w_m2_per_unit,
                limit_within: q.limit_within,
            })
        }))
    }

    /// Checks the times that a quantity has of its own.
    fn own_times(&self, asked: &Asked<&PointerQuantity>) -> Result<(), Error> {
        let PointerQuantity { time, rows, .. } = asked.from;
        let Some(time) = time else {
            return match rows {
                Some(_) => Err(in_map(
                    "rows",
                    "the quantity has no `time` of its own",
                    "state its `time`, or omit `rows`: those of the part hold",
                )),
                None => Ok(()),
            };
        };
        time.clock().map_err(|f| f.within("/time"))?;
        if let Some(p) = rows {
            pointer::check(p).map_err(|f| f.within("/rows"))?;
        }
        if asked.quantity == QuantityName::Temperature {
            return Err(in_map(
                "time",
                "the times of the temperature are those of the readings",
                "state them as `time` of the part, and `rows` there as well",
            ));
        }
        if self.area_pointer.is_some() {
            return Err(in_map(
                "time",
                "values with times of their own cannot be told apart by `area_pointer`",
                "state the `area` of the part",
            ));
        }
        Ok(())
    }

    /// How far apart values of one reading may be, in seconds.
    pub(crate) fn tolerance_s(&self) -> f64 {
        self.tolerance_s.unwrap_or_else(super::tolerance::default_s)
    }

    fn check(&self) -> Result<(), Error> {
        self.time.clock().map_err(|f| f.within("/time"))?;
        for a in self.asked()? {
            let here = |f: Error, key: &str| {
                f.within(&format!("/{}", key)).within(&format!("/{}", a.quantity.key()))
            };
            pointer::check(&a.from.pointer).map_err(|f| here(f, "pointer"))?;
            if let Some(p) = &a.from.unit_pointer {
                pointer::check(p).map_err(|f| here(f, "unit_pointer"))?;
            }
            let own = self.own_times(&a);
            own.map_err(|f| f.within(&format!("/{}", a.quantity.key())))?;
        }
        within("tolerance_s", self.tolerance_s, 0.0, TOLERANCE_S_MOST, "s")?;
        for (key, p) in [("rows", &self.rows), ("area_pointer", &self.area_pointer)] {
            if let Some(p) = p {
                pointer::check(p).map_err(|f| f.within(&format!("/{}", key)))?;
            }
        }
        if self.area.is_some() && self.area_pointer.is_some() {
            return Err(in_map(
                "area",
                "the area is stated and also read from the document",
                "keep `area` or `area_pointer`",
            ));
        }
        if self.areas.is_some() && self.area_pointer.is_none() {
            return Err(in_map(
                "areas",
                "there is no `area_pointer` to read the words from",
                "say where they are, or omit `areas`",
            ));
        }
        Ok(())
    }
}

impl JsonMap {
    pub(super) fn check(&self) -> Result<(), Error> {
        match (&self.url, &self.file) {
            (Some(_), None) | (None, Some(_)) => {}
            (Some(_), Some(_)) => {
                return Err(in_map("file", "there is an address already", "keep one of them"));
            }
            (None, None) => {
                return Err(in_map("url", "it is missing", "give an address, or a `file`"));
            }
        }
        if let Some(url) = &self.url {
            crate::address::check_url("url", url, &crate::address::HTTP)?;
        }
        crate::address::check_headers(&self.headers)?;
        self.http.check()?;
        within("max_age_h", self.max_age_h, 0.01, MAX_AGE_H_MOST, "h")?;
        if self.current.is_none() && self.forecast.is_none() {
            return Err(in_map(
                "current",
                "there is neither [current] nor [forecast]",
                "add at least one of them",
            ));
        }
        for (key, part) in [("current", &self.current), ("forecast", &self.forecast)] {
            if let Some(part) = part {
                part.check().map_err(|f| f.within(&format!("/{}", key)))?;
            }
        }
        Ok(())
    }
}
