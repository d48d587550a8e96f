//! A glasshouse on the meridian at 50° N whose air is written down hour by hour, for tests.

use crate::inputs::Inputs;
use crate::request::{AdviceRequest, Reading};
use crate::series::{self, Series};
use crate::site;
use crate::timeline::AreaTimeline;
use jiff::{SignedDuration, Timestamp};
use serde_json::{Value, json};
use std::ops::RangeInclusive;

/// Temperature in °C, humidity in % and air speed in m/s of an hour.
pub(crate) type Hour = (f64, f64, f64);

/// A request without plants.
pub(crate) struct House(AdviceRequest);

impl House {
    /// A house looked at for some hours from a start on, with readings of the hours given, counted
    /// from the start.
    pub(crate) fn new(
        start: &str,
        hours: u16,
        known: RangeInclusive<i64>,
        air: impl Fn(i64) -> Hour,
    ) -> Self {
        let from = t(start);
        let readings: Vec<Value> = known
            .map(|h| {
                let (temp_c, rh_percent, air_m_s) = air(h);
                let time = (from + SignedDuration::from_hours(h)).to_string();
                json!({"time": time, "temp_c": temp_c, "rh_percent": rh_percent, "air_m_s": air_m_s})
            })
            .collect();
        Self(
            serde_json::from_value(json!({
                "site": {
                    "name": "House", "latitude_deg": 50.0, "longitude_deg": 0.0,
                    "time_zone": "Etc/UTC",
                    "areas": [{"id": "house", "name": "House", "shelter": "glass"}]
                },
                "readings": readings, "plants": [], "at": start, "hours": hours
            }))
            .unwrap(),
        )
    }

    /// The same with another field of the request, by its JSON Pointer.
    pub(crate) fn with(self, pointer: &str, value: Value) -> Self {
        let mut request = serde_json::to_value(&self.0).unwrap();
        let (parent, field) = pointer.rsplit_once('/').unwrap();
        request.pointer_mut(parent).unwrap()[field] = value;
        Self(serde_json::from_value(request).unwrap())
    }

    /// The same with other readings from the first of them on to the last.
    pub(crate) fn reading(self, readings: Value) -> Self {
        let other: Vec<Reading> = serde_json::from_value(readings).unwrap();
        let time = |i: Option<&Reading>| t(&i.unwrap().time);
        let replaced = time(other.first())..=time(other.last());
        let mut request = self.0;
        request.readings.retain(|r| !replaced.contains(&t(&r.time)));
        request.readings.extend(other);
        Self(request)
    }

    /// The feed, as it is written.
    pub(crate) fn feed(&self) -> Value {
        serde_json::to_value(&self.0.feed).unwrap()
    }

    /// The same with a threshold of the grower: the median in g/m², and the standard deviation of
    /// its logarithm.
    pub(crate) fn seeing(self, median_g_m2: f64, log_sd: f64) -> Self {
        self.with("/site/grower/residue_threshold_g_m2", json!(median_g_m2))
            .with("/site/grower/residue_threshold_log_sd", json!(log_sd))
    }

    /// Hands on the timeline of the house.
    pub(crate) fn timeline<T>(&self, then: impl FnOnce(&AreaTimeline<'_>) -> T) -> T {
        let site = site::checked(&self.0.site).unwrap();
        let inputs = Inputs::new(&self.0).unwrap();
        let series = Series::of_area(&series::checked(&self.0.readings).unwrap(), "house");
        let start = t(&self.0.at);
        let end = start + SignedDuration::from_hours(i64::from(self.0.hours));
        then(&AreaTimeline::new(&inputs, &site, &site.areas[0], series, (start, end)).unwrap())
    }
}

/// A time as it is written.
pub(crate) fn t(text: &str) -> Timestamp {
    text.parse().unwrap()
}
