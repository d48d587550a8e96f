//! JSON whose quantities have times of their own.

use guardcell_conditions::report::IssueCode;
use guardcell_conditions::{Error, Map, Options, Read, read_json};

/// Temperatures every ten minutes, humidities some seconds later, wind once an hour.
const DOCUMENT: &str = r#"{
    "t": [{"at": 1782014400, "v": 64.4}, {"at": 1782015000, "v": 66.2}, {"at": 1782015600, "v": 68.0}],
    "rh": {"at": ["2026-06-21T04:00:40Z", "2026-06-21T04:10:59Z", "2026-06-21T04:21:30Z"],
           "v": [88, 87, 86]},
    "wind": [{"at": 1782014400, "v": 0.4}]
}"#;

fn map(tolerance: &str) -> String {
    format!(
        "source = \"json\"\nfile = \"air.json\"\n[current]\narea = \"house\"\nrows = \"/t\"\n{tolerance}\n\
         time = {{ pointer = \"/at\", format = \"unix_s\" }}\n\
         temperature = {{ pointer = \"/v\", unit = \"[degF]\" }}\n\
         humidity = {{ pointer = \"/rh/v\", unit = \"%\", time = {{ pointer = \"/rh/at\" }} }}\n\
         air_speed = {{ rows = \"/wind\", pointer = \"/v\", unit = \"m/s\", \
         time = {{ pointer = \"/at\", format = \"unix_s\" }} }}\n"
    )
}

fn of(map: &str, document: &str) -> Result<Read, Error> {
    let Map::Json(map) = Map::parse(map, "map.toml")? else { unreachable!() };
    let now = "2026-06-21T05:00:00Z".parse().unwrap();
    read_json(&map, document.as_bytes(), "air.json", &Options::at(now))
}

#[test]
fn are_joined_with_the_nearest_temperature_within_the_tolerance() {
    let read = of(&map(""), DOCUMENT).unwrap();
    // 40 s and 59 s are within a minute, 90 s are not. (64.4 - 32) / 1.8 = 18
    let found: Vec<(f64, f64)> = read.readings.iter().map(|r| (r.temp_c, r.rh_percent)).collect();
    assert_eq!(found, [(18.0, 88.0), (19.0, 87.0)]);
    assert_eq!(read.readings[0].air_m_s, Some(0.4));
    assert_eq!(read.readings[1].air_m_s, None);
    assert_eq!(read.readings[0].time, "2026-06-21T04:00:00+00:00");
    let r = &read.report;
    assert_eq!((r.readings_kept, r.readings_dropped, r.readings_possible), (2, 1, 3));
    assert!(r.issues.iter().any(|i| i.code == IssueCode::NoPartner && i.count == 1));

    let wide = of(&map("tolerance_s = 90"), DOCUMENT).unwrap();
    assert_eq!(wide.readings.len(), 3);
    // Of several within the tolerance it is the nearest, before or after.
    let widest = of(&map("tolerance_s = 3600"), DOCUMENT).unwrap();
    let humidities: Vec<f64> = widest.readings.iter().map(|r| r.rh_percent).collect();
    assert_eq!(humidities, [88.0, 87.0, 86.0]);
    let none = of(&map("tolerance_s = 0"), DOCUMENT);
    assert!(none.unwrap_err().detail().contains("humidity is missing"));
}

#[test]
fn a_broken_time_is_dropped_and_counted() {
    let broken = DOCUMENT.replace("1782015000", "\"noon\"").replace("2026-06-21T04:00:40Z", "dawn");
    let wide = map("tolerance_s = 3600");
    let read = of(&wide, &broken).unwrap();
    let r = &read.report;
    assert_eq!(r.readings_kept + r.readings_dropped, r.readings_possible);
    assert_eq!((r.readings_kept, r.readings_possible), (2, 3));
    let times: usize =
        r.issues.iter().filter(|i| i.code == IssueCode::BadTime).map(|i| i.count).sum();
    assert_eq!(times, 2);
}

#[test]
fn a_map_of_them_is_checked() {
    let good = map("");
    for (text, at, word) in [
        (map("tolerance_s = 4000"), "/current/tolerance_s", "out of range"),
        (
            good.replace("rows = \"/wind\", ", "rows = \"wind\", "),
            "/current/air_speed/rows",
            "not a JSON Pointer",
        ),
        (
            good.replace(
                "unit = \"[degF]\" }",
                "unit = \"[degF]\", time = { pointer = \"/at\" } }",
            ),
            "/current/temperature/time",
            "those of the readings",
        ),
        (
            good.replace(", time = { pointer = \"/rh/at\" }", ", rows = \"/rh\""),
            "/current/humidity/rows",
            "no `time` of its own",
        ),
        (
            good.replace("area = \"house\"", "area_pointer = \"/area\""),
            "/current/humidity/time",
            "area_pointer",
        ),
        (
            good.replace("/rh/at\"", "/rh/at\", format = \"%H\""),
            "/current/humidity/time/format",
            "date, hour and minute",
        ),
    ] {
        let error = Map::parse(&text, "map.toml").unwrap_err();
        assert_eq!(error.pointer(), at, "{error}");
        assert!(error.detail().contains(word), "{error}");
    }
    let error = of(&good, &DOCUMENT.replace("\"wind\"", "\"gust\"")).unwrap_err();
    assert_eq!(error.pointer(), "/current/air_speed/rows", "{error}");
}
