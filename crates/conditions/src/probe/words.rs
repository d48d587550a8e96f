//! What the name of a column says: a quantity, its unit, and whose it is.

use crate::unit::QuantityName;

/// What a name stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Quantity(QuantityName),
    Time,
    /// Names a probe or place.
    Area,
    /// Something that is not the air, and why it is not read.
    NotAir(&'static str),
    Unknown,
}

/// A name, taken apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Name {
    pub(super) kind: Kind,
    /// The unit that the name states, a UCUM code.
    pub(super) unit: Option<&'static str>,
    /// What is left without quantity and unit: the name of a probe or place.
    pub(super) label: String,
    /// Whether the name says that times are UTC.
    pub(super) utc: bool,
}

const DEW: &str = "it is a dew point, and the humidity is there";

/// Words of what is not the air; the first that fits decides.
const NOT_AIR: &[(&[&str], &str)] = &[
    (&["soil", "boden", "substrate", "media", "pot", "root", "suelo", "sol"], "it is of the soil"),
    (&["leaf", "blatt", "hoja", "feuille"], "it is of a leaf, not of the air"),
    (&["water", "wasser", "agua", "eau", "tank"], "it is of water"),
    (&["vpd"], "a vapour pressure deficit is not read"),
    (
        &["battery", "batt", "akku", "bat", "volt", "voltage", "rssi", "signal", "snr"],
        "it is of the device",
    ),
    (&["setpoint", "target", "soll"], "it is a target, not a reading"),
    (&["index", "feels", "apparent", "windchill"], "it is felt, not measured"),
    (&["bulb"], "a wet bulb is not read"),
    (&["absolute", "abs", "absolut"], "an absolute humidity is not read"),
    (&["pressure", "druck", "presion", "pression"], "air pressure is not read"),
    (&["error", "fehler", "status", "flag", "quality"], "it is a mark of the device"),
    (&["gust", "gusts", "direction", "dir"], "only the speed of the air is read"),
    (&["rain", "precipitation", "regen", "snow"], "precipitation is not read"),
    (&["uv"], "ultraviolet light is not read"),
];

const TIME: &[&str] = &[
    "date",
    "time",
    "datetime",
    "timestamp",
    "datum",
    "zeit",
    "uhrzeit",
    "zeitpunkt",
    "zeitstempel",
    "fecha",
    "hora",
    "heure",
    "tijd",
    "ts",
    "at",
    "dt",
    "epoch",
    "unixtime",
];
const AREA: &[&str] = &[
    "probe", "sensor", "location", "device", "station", "room", "area", "place", "bench", "ort",
    "raum", "sonde", "node", "name", "channel", "zone",
];
/// Words that neither name a place nor change what a value is.
const NOISE: &[&str] = &[
    "air", "luft", "relative", "rel", "deg", "degree", "degrees", "value", "avg", "mean",
    "average", "current", "of", "the", "in", "temp", "sensor", "probe", "reading", "ambient",
];

/// The words of a name in small letters: `TempC`, `temp_c` and `Temp (°C)` give the same.
fn words(name: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut before = ' ';
    for c in name.chars() {
        let class = |c: char| match c {
            _ if c.is_alphabetic() => 'a',
            _ if c.is_ascii_digit() => '0',
            '%' => '%',
            _ => ' ',
        };
        let joined = class(c) == class(before) && !(before.is_lowercase() && c.is_uppercase());
        let small: String = match c {
            '℃' => "c".into(),
            '℉' => "f".into(),
            c => c.to_lowercase().collect(),
        };
        match out.last_mut() {
            Some(word) if joined && class(c) != ' ' => word.push_str(&small),
            _ if class(c) != ' ' => out.push(small),
            _ => {}
        }
        before = c;
    }
    out
}

/// Whether a word names a temperature, a humidity, the speed of the air or radiation.
fn quantity(word: &str, pair: Option<&str>) -> Option<QuantityName> {
    use QuantityName as Q;
    let starts = |list: &[&str]| list.iter().any(|w| word.starts_with(w));
    if starts(&["dew", "taupunkt", "rocio", "rosee", "rosée"]) || word == "td" {
        return Some(Q::DewPoint);
    }
    if starts(&["humid", "humedad", "umid", "hygro"])
        || word.contains("feucht")
        || word.contains("vocht")
        || matches!(word, "rh" | "hum" | "hr" | "rf")
        || (word == "r" && pair == Some("h"))
    {
        return Some(Q::Humidity);
    }
    if starts(&["temp", "temperatur", "lufttemp", "température"])
        || matches!(word, "t" | "ta" | "tair" | "celsius" | "fahrenheit")
    {
        return Some(Q::Temperature);
    }
    if starts(&["wind", "airspeed", "airflow", "viento", "luftgeschwindigkeit"])
        || (word == "air" && matches!(pair, Some("speed" | "flow" | "velocity" | "m")))
    {
        return Some(Q::AirSpeed);
    }
    if starts(&["radiation", "irradiance", "solar", "strahlung", "globalstrahlung", "pyrano"])
        || matches!(word, "ghi" | "light" | "licht" | "lux" | "par" | "ppfd" | "sun")
    {
        return Some(Q::Radiation);
    }
    None
}

/// The unit that a text states for a quantity, a UCUM code.
pub(super) fn unit(quantity: QuantityName, text: &str) -> Option<&'static str> {
    use QuantityName as Q;
    let lower = text.to_lowercase();
    let words = words(text);
    let has = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    let holds = |list: &[&str]| list.iter().any(|w| lower.contains(w));
    match quantity {
        Q::Temperature | Q::DewPoint => {
            if has(&["c", "celsius", "degc", "cel"]) {
                Some("Cel")
            } else if has(&["f", "fahrenheit", "degf"]) {
                Some("[degF]")
            } else {
                has(&["k", "kelvin"]).then_some("K")
            }
        }
        Q::Humidity => has(&["%", "pct", "percent", "prozent", "percentage"]).then_some("%"),
        Q::AirSpeed => {
            if holds(&["km/h", "kmh", "kph"]) {
                Some("km/h")
            } else if holds(&["mph", "mi/h"]) {
                Some("[mi_i]/h")
            } else if has(&["kn", "kt", "knots"]) {
                Some("[kn_i]")
            } else {
                (holds(&["m/s"]) || words.ends_with(&["m".into(), "s".into()])).then_some("m/s")
            }
        }
        Q::Radiation => holds(&["w/m2", "w/m²", "w/m^2", "wm2", "w_m2", "watt"]).then_some("W/m2"),
    }
}

/// Takes a name apart.
pub(super) fn name(text: &str) -> Name {
    let words = words(text);
    let utc = words.iter().any(|w| matches!(w.as_str(), "utc" | "gmt"));
    let label = |used: &dyn Fn(&str) -> bool| {
        let left: Vec<&str> = words
            .iter()
            .map(String::as_str)
            .filter(|w| !used(w) && !NOISE.contains(w) && *w != "%")
            .collect();
        left.join(" ")
    };
    let of = |kind, unit, label| Name { kind, unit, label, utc };
    for (list, why) in NOT_AIR {
        if words.iter().any(|w| list.contains(&w.as_str())) {
            return of(Kind::NotAir(why), None, String::new());
        }
    }
    let mut found = None;
    for (i, word) in words.iter().enumerate() {
        let q = quantity(word, words.get(i + 1).map(String::as_str));
        // “dew point temperature” is a dew point, “humidity and temperature probe RH” a humidity.
        found = match (found, q) {
            (Some(QuantityName::Temperature), Some(q)) | (None, Some(q)) => Some(q),
            (found, _) => found,
        };
    }
    let is_time = words.iter().any(|w| TIME.contains(&w.as_str()));
    if let Some(q) = found
        && !(is_time && words.iter().all(|w| !w.starts_with("temp") && !w.starts_with("hum")))
    {
        let unit = unit(q, text);
        let part_of_unit = |w: &str| {
            unit.is_some()
                && matches!(
                    w,
                    "c" | "f"
                        | "k"
                        | "celsius"
                        | "fahrenheit"
                        | "m"
                        | "s"
                        | "km"
                        | "h"
                        | "mph"
                        | "w"
                        | "m2"
                        | "percent"
                        | "pct"
                        | "degc"
                        | "degf"
                        | "kmh"
                        | "kn"
                )
        };
        let used = |w: &str| {
            quantity(w, None).is_some()
                || part_of_unit(w)
                || matches!(w, "point" | "speed" | "flow" | "r" | "h")
        };
        return of(Kind::Quantity(q), unit, label(&used));
    }
    if is_time {
        return of(Kind::Time, None, String::new());
    }
    // A unit alone names its quantity.
    if let [word] = words.as_slice() {
        let q = match (word.as_str(), text.contains(['°', '℃', '℉'])) {
            ("c" | "f", true) => Some(QuantityName::Temperature),
            ("%", _) => Some(QuantityName::Humidity),
            _ => None,
        };
        if let Some(q) = q {
            return of(Kind::Quantity(q), unit(q, text), String::new());
        }
    }
    let area = words.iter().any(|w| AREA.contains(&w.as_str()));
    of(if area { Kind::Area } else { Kind::Unknown }, None, String::new())
}

/// Why a dew point beside a humidity is not read.
pub(super) const fn dew_point_too() -> &'static str {
    DEW
}

#[cfg(test)]
mod tests {
    use super::*;
    use QuantityName as Q;

    #[test]
    fn names_say_quantity_unit_and_place() {
        for (text, q, unit, label) in [
            ("Temperature °F", Q::Temperature, Some("[degF]"), ""),
            ("TempC", Q::Temperature, Some("Cel"), ""),
            ("temp_f", Q::Temperature, Some("[degF]"), ""),
            ("RH %", Q::Humidity, Some("%"), ""),
            ("Luftfeuchtigkeit [%]", Q::Humidity, Some("%"), ""),
            ("Temperatur", Q::Temperature, None, ""),
            ("Orchid house temp (°C)", Q::Temperature, Some("Cel"), "orchid house"),
            ("Temp 2", Q::Temperature, None, "2"),
            ("relativeHumidity", Q::Humidity, None, ""),
            ("R.H. shade", Q::Humidity, None, "shade"),
            ("Dew point (°C)", Q::DewPoint, Some("Cel"), ""),
            ("Wind km/h", Q::AirSpeed, Some("km/h"), ""),
            ("air_m_s", Q::AirSpeed, Some("m/s"), ""),
            ("Light W/m²", Q::Radiation, Some("W/m2"), ""),
            ("PPFD", Q::Radiation, None, ""),
        ] {
            let name = name(text);
            assert_eq!((name.kind, name.unit), (Kind::Quantity(q), unit), "{text}: {name:?}");
            assert_eq!(name.label, label, "{text}");
        }
        for (text, kind) in [
            ("Date/Time", Kind::Time),
            ("Zeitstempel", Kind::Time),
            ("Time (UTC)", Kind::Time),
            ("Sensor", Kind::Area),
            ("No.", Kind::Unknown),
        ] {
            assert_eq!(name(text).kind, kind, "{text}");
        }
        assert!(name("Time (UTC)").utc);
        for text in ["Soil temp", "Leaf temperature", "VPD kPa", "Battery V", "Absolute humidity"] {
            assert!(matches!(name(text).kind, Kind::NotAir(_)), "{text}");
        }
    }
}
