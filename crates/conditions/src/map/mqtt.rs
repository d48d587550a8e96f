//! The map of messages that a broker of MQTT hands out.

use super::json::JsonTime;
use super::quantity::Stated;
use super::{Asked, Duplicates, MAX_AGE_H_MOST, TOLERANCE_S_MOST, asked, within};
use crate::error::in_map;
use crate::pointer;
use guardcell::Error;
use serde::{Deserialize, Serialize};

/// The word `mqtt`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum MqttSource {
    /// A broker of MQTT, version 3.1.1.
    Mqtt,
}

/// Which messages of a broker hold the readings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MqttMap {
    /// `mqtt`.
    pub source: MqttSource,
    /// The broker, `mqtt://host` or `mqtts://host` (TLS), with a port where it is not 1883 or
    /// 8883, and the topic that every other begins with as path; `${NAME}` stands for the variable
    /// NAME of the environment.
    pub url: String,
    /// The user, `${NAME}` as in `url`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub user: Option<String>,
    /// The password: `${NAME}` and nothing else, so that it is not in the map.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub password: Option<String>,
    /// A file of certificates (PEM) that are trusted instead of those of this machine; a path that
    /// is not absolute starts at the folder of the map.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ca_file: Option<String>,
    /// How long is waited, in seconds, 0.1 to 300; 10 by default. It ends earlier when every topic
    /// has given a value.
    #[serde(default = "ten")]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 300.0)))]
    pub wait_s: f64,
    /// How many messages are taken at most, 1 to 100000; 1000 by default.
    #[serde(default = "thousand")]
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 100_000)))]
    pub messages_most: u32,
    /// The largest message taken, in KiB, 0.1 to 1024; 64 by default.
    #[serde(default = "most_kib")]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 1024.0)))]
    pub message_most_kib: f64,
    /// What to do with a message that the broker has kept, and that holds no time.
    #[serde(default)]
    pub retained: Retained,
    /// How far apart in time values of different topics may be to make one reading, in seconds, 0
    /// to 3600; 60 by default.
    #[serde(default = "super::tolerance::default_s")]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 3600.0)))]
    pub tolerance_s: f64,
    /// The topics, area by area.
    #[cfg_attr(feature = "schema", schemars(length(min = 1)))]
    pub series: Vec<MqttSeries>,
    /// Values that stand for a missing one beside `null`, such as `-999`.
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

const fn ten() -> f64 {
    10.0
}

const fn thousand() -> u32 {
    1000
}

const fn most_kib() -> f64 {
    64.0
}

/// What to do with a retained message without a time: it may be of now or of last year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Retained {
    /// Drop it, report it, and wait for the next one.
    #[default]
    Drop,
    /// Take it as of now, for a device that is known to keep it fresh.
    Now,
}

/// The topics of one area.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MqttSeries {
    /// The area of the site; every area by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// The topic of the area, behind that of `url`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub topic: Option<String>,
    /// The time within a message of JSON; the moment of its arrival by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<JsonTime>,
    /// Air temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<TopicQuantity>,
    /// Relative humidity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity: Option<TopicQuantity>,
    /// Dew point, instead of humidity; −5 to 50 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dew_point: Option<TopicQuantity>,
    /// Air speed at the leaves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_speed: Option<TopicQuantity>,
    /// Global radiation at the leaves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiation: Option<TopicQuantity>,
}

/// A value of a message.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct TopicQuantity {
    /// The topic of the value, behind those of `url` and of the series.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub topic: Option<String>,
    /// JSON Pointer to the value in the message; without one the message is the number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pointer: Option<String>,
    /// The unit, a UCUM code such as `Cel`, `[degF]`, `%`, `1`, `m/s`, `km/h`, `W/m2`.
    pub unit: String,
    /// For radiation that is not in W/m²: the W/m² that one unit stands for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub w_m2_per_unit: Option<f64>,
    /// How far outside its range a value is still taken as the limit, in its own unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit_within: Option<f64>,
}

impl MqttSeries {
    pub(crate) fn asked(&self) -> Result<Vec<Asked<&TopicQuantity>>, Error> {
        let all =
            [&self.temperature, &self.humidity, &self.dew_point, &self.air_speed, &self.radiation];
        asked(all.map(|q| {
            q.as_ref().map(|q| Stated {
                from: q,
                unit: Some(q.unit.as_str()),
                w_m2_per_unit: q.w_m2_per_unit,
                limit_within: q.limit_within,
            })
        }))
    }

    /// The whole topic of a quantity, behind that of the address.
    #[cfg(all(feature = "mqtt", not(target_family = "wasm")))]
    pub(crate) fn topic(&self, base: &str, quantity: &TopicQuantity) -> String {
        let parts = [Some(base), self.topic.as_deref(), quantity.topic.as_deref()];
        let parts: Vec<&str> = parts
            .into_iter()
            .flatten()
            .map(|p| p.trim_matches('/'))
            .filter(|p| !p.is_empty())
            .collect();
        parts.join("/")
    }
}

/// Refuses a topic that stands for many.
fn one_topic(topic: &str) -> Result<(), Error> {
    if topic.contains(['+', '#', '\0']) {
        return Err(in_map(
            "topic",
            format!("{topic:?} stands for many topics"),
            "name one topic for each area, without + and #",
        ));
    }
    Ok(())
}

/// Whether a text is one variable and nothing else.
fn is_variable(text: &str) -> bool {
    let name = text.strip_prefix("${").and_then(|t| t.strip_suffix('}'));
    name.is_some_and(|n| !n.contains(['{', '}', '$']))
}

impl MqttMap {
    pub(super) fn check(&self) -> Result<(), Error> {
        crate::address::check_url("url", &self.url, &crate::address::MQTT)?;
        for (key, text) in [("user", &self.user), ("password", &self.password)] {
            if let Some(text) = text {
                crate::address::filled(text, key, &|_| Ok("x".into()))?;
            }
        }
        match (&self.user, &self.password) {
            (None, Some(_)) => {
                return Err(in_map("user", "it is missing beside `password`", "state both"));
            }
            (_, Some(password)) if !is_variable(password) => {
                return Err(in_map(
                    "password",
                    "a password does not belong into a map",
                    "write ${NAME} and set the variable NAME of the environment",
                ));
            }
            _ => {}
        }
        within("wait_s", Some(self.wait_s), 0.1, 300.0, "s")?;
        let messages = f64::from(self.messages_most);
        within("messages_most", Some(messages), 1.0, 100_000.0, "messages")?;
        within("message_most_kib", Some(self.message_most_kib), 0.1, 1024.0, "KiB")?;
        within("tolerance_s", Some(self.tolerance_s), 0.0, TOLERANCE_S_MOST, "s")?;
        within("max_age_h", self.max_age_h, 0.01, MAX_AGE_H_MOST, "h")?;
        if self.series.is_empty() {
            return Err(in_map("series", "no series is given", "add a table [[series]]"));
        }
        for (i, s) in self.series.iter().enumerate() {
            self.series_of(s).map_err(|f| f.within(&format!("/series/{i}")))?;
        }
        Ok(())
    }

    fn series_of(&self, s: &MqttSeries) -> Result<(), Error> {
        if let Some(time) = &s.time {
            time.clock().map_err(|f| f.within("/time"))?;
        }
        if let Some(topic) = &s.topic {
            one_topic(topic)?;
        }
        for a in s.asked()? {
            let here = |f: Error| f.within(&format!("/{}", a.quantity.key()));
            if let Some(topic) = &a.from.topic {
                one_topic(topic).map_err(here)?;
            }
            match &a.from.pointer {
                Some(p) => pointer::check(p).map_err(|f| here(f.within("/pointer")))?,
                None if s.time.is_some() => {
                    return Err(here(in_map(
                        "pointer",
                        "a bare number has no time within it",
                        "say where in the message the value is, or omit `time` of the series",
                    )));
                }
                None => {}
            }
        }
        Ok(())
    }
}
