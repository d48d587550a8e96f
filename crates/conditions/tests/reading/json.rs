//! JSON documents: pointers, series, units, ages.

use crate::server::{AIR, options};
use guardcell_conditions::report::{Effect, IssueCode};
use guardcell_conditions::{Error, Map, Options, Read, read_json};

fn of(map: &str, document: &str, options: &Options<'_>) -> Result<Read, Error> {
    let head = "source = \"json\"\nfile = \"air.json\"\n";
    let Map::Json(map) = Map::parse(&format!("{head}{map}"), "map.toml")? else { unreachable!() };
    read_json(&map, document.as_bytes(), "air.json", options)
}

const CURRENT: &str = "[current]\ntime = { pointer = \"/at\" }\n\
    temperature = { pointer = \"/air/t\", unit = \"Cel\" }\n\
    humidity = { pointer = \"/air/rh\", unit = \"%\" }\n";

fn says(map: &str, document: &str) -> String {
    of(map, document, &options()).unwrap_err().to_string()
}

#[test]
fn says_which_step_of_a_pointer_is_missing() {
    let words = says(CURRENT, &AIR.replace("\"rh\"", "\"humidity\""));
    assert!(words.contains("/current/humidity/pointer"), "{words}");
    assert!(words.contains("no \"rh\" in \"/air\", an object with humidity, t"), "{words}");
    assert!(says(CURRENT, "[1]").contains("an array of 1"));
    assert!(says(CURRENT, "{").contains("air.json:1:1: this is not JSON"));
    let deep = "[".repeat(100_000);
    assert!(says(CURRENT, &deep).contains("not JSON"));
}

#[test]
fn a_unit_that_changed_is_an_error() {
    let map = CURRENT.replace("unit = \"Cel\"", "unit = \"Cel\", unit_pointer = \"/unit\"");
    let with = |unit: &str| AIR.replace("{\"at\"", &format!("{{\"unit\": {unit}, \"at\""));
    of(&map, &with("\"°C\""), &options()).unwrap();
    let words = says(&map, &with("\"°F\""));
    assert!(words.contains("\"°F\"") && words.contains("\"Cel\""), "{words}");
    assert!(says(&map, &with("7")).contains("the number 7"));
}

#[test]
fn an_old_reading_is_never_used_silently() {
    let late = Options { now: "2026-06-21T07:00:00Z".parse().unwrap(), ..options() };
    let words = of(CURRENT, AIR, &late).unwrap_err().to_string();
    assert!(words.contains("2.5 h before") && words.contains("allows 2 h"), "{words}");
    let read = of(CURRENT, AIR, &late.allowing_stale(true)).unwrap();
    assert!(read.report.stale && read.report.areas[0].stale);
    let patient = format!("max_age_h = 3\n{CURRENT}");
    assert!(!of(&patient, AIR, &late).unwrap().report.stale);
}

const FORECAST: &str = "[forecast]\narea = \"trees\"\n\
    time = { pointer = \"/h/time\", format = \"%Y-%m-%dT%H:%M\", zone = \"-01:00\" }\n\
    temperature = { pointer = \"/h/t\", unit = \"[degF]\" }\n\
    dew_point = { pointer = \"/h/dew\", unit = \"[degF]\" }\n\
    air_speed = { pointer = \"/h/wind\", unit = \"km/h\" }\n";

#[test]
fn arrays_side_by_side_make_a_forecast() {
    let document = r#"{"h": {"time": ["2026-06-21T04:00", "2026-06-21T05:00", "2026-06-21T06:00"],
        "t": [68, 68, null], "dew": [50, 68, 50], "wind": [3.6, null, 1]}}"#;
    let read = of(FORECAST, document, &options()).unwrap();
    assert_eq!(read.readings.len(), 2);
    let (a, b) = (&read.readings[0], &read.readings[1]);
    assert_eq!(
        (a.time.as_str(), a.temp_c, a.air_m_s),
        ("2026-06-21T04:00:00-01:00", 20.0, Some(1.0))
    );
    // 12.27 and 23.37 hPa at 10 and 20 °C: ASHRAE Handbook Fundamentals 2017, chapter 1, table 3
    // (from memory)
    assert!((a.rh_percent - 52.5).abs() < 0.1, "{}", a.rh_percent);
    assert_eq!((b.rh_percent, b.air_m_s), (100.0, None));
    assert_eq!(read.report.readings_dropped, 1);
    assert_eq!(read.report.areas[0].forecast, 2);
    assert_eq!(read.places[0], "air.json#/h/time/0");
    let uneven = document.replace("[3.6, null, 1]", "[3.6]");
    assert!(says(FORECAST, &uneven).contains("3 times are beside an array of 1"));
}

#[test]
fn a_forecast_that_has_run_out_is_stale() {
    let document = r#"{"h": {"time": ["2026-06-20T04:00"], "t": [68], "dew": [50], "wind": [1]}}"#;
    assert!(says(FORECAST, document).contains("newest reading of trees"));
}

#[test]
fn what_is_measured_stands_before_what_was_expected() {
    let map = "[current]\ntime = { pointer = \"/now/at\", format = \"unix_ms\" }\n\
        temperature = { pointer = \"/now/t\", unit = \"Cel\" }\n\
        humidity = { pointer = \"/now/rh\", unit = \"1\" }\n\
        [forecast]\nrows = \"/next\"\ntime = { pointer = \"/at\", format = \"unix_s\" }\n\
        temperature = { pointer = \"/t\", unit = \"Cel\" }\n\
        humidity = { pointer = \"/rh\", unit = \"%\" }\n";
    let document = r#"{"now": {"at": 1782014400000, "t": "18.5", "rh": 0.88},
        "next": [{"at": 1782014400, "t": 25, "rh": 40}, {"at": 1782018000, "t": 19},
                 {"at": "soon", "t": 19, "rh": 80}, {"at": 1782021600, "t": 20, "rh": 80}]}"#;
    let read = of(map, document, &options()).unwrap();
    let temps: Vec<f64> = read.readings.iter().map(|r| r.temp_c).collect();
    assert_eq!(temps, [18.5, 20.0]);
    let issues: Vec<_> =
        read.report.issues.iter().map(|i| (i.code, i.places[0].as_str())).collect();
    assert_eq!(
        issues,
        [
            (IssueCode::BadTime, "/next/2"),
            (IssueCode::Missing, "/next/1"),
            (IssueCode::ForecastMeasured, "/next/0"),
        ]
    );
    assert!(read.report.issues.iter().all(|i| i.effect == Effect::Dropped));
}

/// The map of the demo data with the document that stands beside it.
#[test]
fn the_demo_endpoint_is_read() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/logger");
    let text = std::fs::read_to_string(folder.join("endpoint.toml")).unwrap();
    let text: String = text
        .lines()
        .map(|l| if l.starts_with("url = ") { "file = \"endpoint.json\"" } else { l })
        .map(|l| format!("{l}\n"))
        .collect();
    let map = Map::parse(&text, "endpoint.toml").unwrap();
    let options = Options { now: "2026-10-26T07:30:00Z".parse().unwrap(), ..options() };
    let read = guardcell_conditions::read(&map, &folder, &options).unwrap();
    let areas: Vec<_> = read.report.areas.iter().map(|a| (a.area.clone(), a.forecast)).collect();
    assert_eq!(areas, [(Some("house".into()), 0), (Some("trees".into()), 5)]);
    assert_eq!(read.readings[0].rh_percent, 87.0);
    assert_eq!(read.readings[1].time, "2026-10-26T07:00:00-01:00");
}
