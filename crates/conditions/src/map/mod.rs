//! The map: what stands where in a file or an answer, in TOML.
//!
//! A map names its `source` (`csv`, `json`, `sensorthings` or `mqtt`); the other keys depend on it. A key
//! that is not known is an error, so that a slip of the pen is not silently ignored.

mod csv;
mod duplicates;
mod http;
mod json;
mod mqtt;
mod place;
mod quantity;
mod sensorthings;
mod time;
mod tolerance;
mod within;

pub use csv::{Column, ColumnQuantity, CsvMap, CsvSeries, CsvSource, CsvTime, Encoding};
pub use duplicates::Duplicates;
pub use http::HttpSettings;
pub use json::{JsonMap, JsonPart, JsonSource, JsonTime, PointerQuantity};
pub use mqtt::{MqttMap, MqttSeries, MqttSource, Retained, TopicQuantity};
pub use sensorthings::{
    EntityId, SensorThingsMap, SensorThingsSeries, SensorThingsSource, StreamQuantity,
};
pub use time::{Ambiguous, Nonexistent};

pub(crate) use quantity::{Asked, asked};
pub(crate) use tolerance::TOLERANCE_S_MOST;
pub(crate) use within::{MAX_AGE_H_MOST, within};

use crate::error::in_map;
use guardcell::Error;
use guardcell::reference::parameters::practice;
use serde::{Deserialize, Serialize};

/// A description of where readings stand and in which units, for one of four sources.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
#[cfg_attr(feature = "schema", schemars(title = "ConditionsMap"))]
pub enum Map {
    /// A file of a data logger.
    Csv(Box<CsvMap>),
    /// A JSON document from an address or a file.
    Json(Box<JsonMap>),
    /// A service of OGC SensorThings v1.1.
    SensorThings(Box<SensorThingsMap>),
    /// Messages of a broker of MQTT.
    Mqtt(Box<MqttMap>),
}

impl Map {
    /// Reads a map; `place` is what its errors call it, such as the name of its file.
    ///
    /// # Errors
    /// With line, column and a pointer to the key: not TOML, an unknown key, a unit of
    /// another kind, an unknown time zone, a format that loses the hour, an invalid address.
    ///
    /// ```
    /// use guardcell_conditions::Map;
    /// let map = Map::parse(r#"
    /// source = "csv"
    /// file = "export.csv"
    /// time = { columns = ["Time"], zone = "Atlantic/Azores", format = "%d.%m.%Y %H:%M" }
    /// [[series]]
    /// temperature = { column = "T", unit = "[degF]" }
    /// humidity = { column = "RH", unit = "%" }
    /// "#, "logger.toml")?;
    /// assert!(matches!(map, Map::Csv(_)));
    /// # Ok::<(), guardcell_conditions::Error>(())
    /// ```
    pub fn parse(text: &str, place: &str) -> Result<Self, Error> {
        /// The one key that decides the others.
        #[derive(Deserialize)]
        struct Kind {
            source: Option<Source>,
        }
        let toml = |e: toml::de::Error| place::of_toml(place, text, &e);
        let kind: Kind = toml::from_str(text).map_err(toml)?;
        let map = match kind.source {
            Some(Source::Csv) => Self::Csv(toml::from_str(text).map_err(toml)?),
            Some(Source::Json) => Self::Json(toml::from_str(text).map_err(toml)?),
            Some(Source::Sensorthings) => Self::SensorThings(toml::from_str(text).map_err(toml)?),
            Some(Source::Mqtt) => Self::Mqtt(toml::from_str(text).map_err(toml)?),
            None => {
                let hint = "write `source = \"csv\"`, `\"json\"`, `\"sensorthings\"` or `\"mqtt\"`";
                let error = in_map("source", "it is missing", hint);
                return Err(error.in_file(place).on_line(1).at_column(1));
            }
        };
        map.check().map_err(|f| place::of_fault(place, text, f))?;
        Ok(map)
    }

    fn check(&self) -> Result<(), Error> {
        match self {
            Self::Csv(m) => m.check(),
            Self::Json(m) => m.check(),
            Self::SensorThings(m) => m.check(),
            Self::Mqtt(m) => m.check(),
        }
    }

    /// The oldest age of the newest reading, in hours.
    pub(crate) fn max_age_h(&self) -> f64 {
        match self {
            Self::Csv(m) => m.max_age_h,
            Self::Json(m) => m.max_age_h,
            Self::SensorThings(m) => m.max_age_h,
            Self::Mqtt(m) => m.max_age_h,
        }
        .unwrap_or(practice::READING_SOURCE_AGE_MOST.hours())
    }

    pub(crate) fn duplicates(&self) -> Duplicates {
        match self {
            Self::Csv(m) => m.duplicates,
            Self::Json(m) => m.duplicates,
            Self::SensorThings(m) => m.duplicates,
            Self::Mqtt(m) => m.duplicates,
        }
    }

    /// The kind of source in words.
    pub(crate) const fn kind(&self) -> &'static str {
        match self {
            Self::Csv(_) => "csv",
            Self::Json(_) => "json",
            Self::SensorThings(_) => "sensorthings",
            Self::Mqtt(_) => "mqtt",
        }
    }
}

#[derive(Deserialize)]
#[serde(rename_all = "snake_case")]
enum Source {
    Csv,
    Json,
    Sensorthings,
    Mqtt,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(text: &str) -> String {
        Map::parse(text, "map.toml").unwrap_err().to_string()
    }

    const HEAD: &str = "source = \"csv\"\nfile = \"x.csv\"\n";

    #[test]
    fn every_fault_has_line_and_column() {
        let series = "[[series]]\ntemperature = { column = \"T\", unit = \"Cel\" }\n\
                      humidity = { column = \"RH\", unit = \"%\" }\n";
        let time = "time = { columns = [\"t\"], zone = \"UTC\" }\n";
        for (text, place, word) in [
            ("file = 1".to_owned(), "map.toml:1:1", "source"),
            ("source = \"xml\"".to_owned(), "map.toml:1:10", "csv"),
            ("source = ".to_owned(), "map.toml:1:10", "quoted"),
            (format!("{HEAD}{time}colour = 1\n{series}"), "map.toml:4:1", "colour"),
            (
                format!("{HEAD}{time}{}", series.replace("Cel", "m/s")),
                "map.toml:5:38",
                "measures a speed",
            ),
            (
                format!("{HEAD}{}{series}", time.replace("UTC", "Atlantic/Fernhollow")),
                "map.toml:3:34",
                "time zone",
            ),
            (format!("{HEAD}{time}max_age_h = 0\n{series}"), "map.toml:4:13", "out of range"),
            (format!("{HEAD}{time}delimiter = \"ab\"\n{series}"), "map.toml:4:13", "delimiter"),
            (format!("{HEAD}{time}"), "map.toml", "series"),
        ] {
            let says = fault(&text);
            assert!(says.starts_with(place), "{text}\n{says}");
            assert!(says.contains(word), "{text}\n{says}");
        }
    }

    #[test]
    fn a_series_needs_temperature_and_one_humidity() {
        let map = |quantities: &str| {
            fault(&format!("{HEAD}time = {{ columns = [\"t\"] }}\n[[series]]\n{quantities}"))
        };
        assert!(map("humidity = { column = 2, unit = \"%\" }").contains("temperature"));
        assert!(map("temperature = { column = 2, unit = \"Cel\" }").contains("humidity"));
        let both = "temperature = { column = 2, unit = \"Cel\" }\nhumidity = { column = 3, unit = \
                    \"%\" }\ndew_point = { column = 4, unit = \"Cel\" }";
        assert!(map(both).contains("dew_point"));
    }
}
