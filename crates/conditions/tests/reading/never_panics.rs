//! No bytes of a file or document, and no text of a map, make the reader panic; every reading it
//! gives is one an advice takes; every row is accounted for.

use guardcell::advice::Reading;
use guardcell_conditions::{Error, Map, Options, Read, read_csv, read_json};
use proptest::prelude::*;

fn options() -> Options<'static> {
    Options::at("2026-06-21T05:00:00Z".parse().unwrap()).allowing_stale(true)
}

fn csv_map(encoding: &str, zone: &str) -> Map {
    let map = format!(
        "source = \"csv\"\nfile = \"x.csv\"\nencoding = \"{encoding}\"\ndelimiter = \";\"\n\
         decimal = \",\"\nmissing = [\"-999\"]\nduplicates = \"mean\"\nheader = false\n\
         time = {{ columns = [1], format = \"%d.%m.%Y %H:%M\", zone = \"{zone}\" }}\n\
         [[series]]\narea_column = 2\n\
         temperature = {{ column = 3, unit = \"[degF]\" }}\n\
         dew_point = {{ column = 4, unit = \"[degF]\", limit_within = 1 }}\n\
         [[series]]\narea = \"trees\"\n\
         temperature = {{ column = 3, unit = \"Cel\" }}\n\
         humidity = {{ column = 4, unit = \"1\" }}\nair_speed = {{ column = 5, unit = \"km/h\" }}\n"
    );
    Map::parse(&map, "map.toml").unwrap()
}

fn sound(read: &Result<Read, Error>) {
    let read = match read {
        Ok(read) => read,
        Err(e) => return assert!(!e.to_string().is_empty()),
    };
    let r = &read.report;
    assert_eq!(r.readings_possible, r.readings_kept + r.readings_dropped, "{r:?}");
    assert_eq!((r.readings_kept, read.places.len()), (read.readings.len(), read.readings.len()));
    for reading in &read.readings {
        reading.time.parse::<jiff::Timestamp>().unwrap();
        let values = [
            Some(reading.temp_c),
            Some(reading.rh_percent),
            reading.air_m_s,
            reading.radiation_w_m2,
        ];
        for (value, range) in values.into_iter().zip(Reading::RANGES) {
            assert!(value.is_none_or(|v| v >= range.low && v <= range.high), "{reading:?}");
        }
    }
    for pair in read.readings.windows(2).filter(|p| p[0].area == p[1].area) {
        let at = |r: &Reading| r.time.parse::<jiff::Timestamp>().unwrap();
        assert!(at(&pair[0]) < at(&pair[1]), "{pair:?}");
    }
    serde_json::to_string(read).unwrap();
}

proptest! {
    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..400),
                 encoding in prop::sample::select(vec!["utf-8", "iso-8859-1", "utf-16"])) {
        let Map::Csv(map) = csv_map(encoding, "Europe/Berlin") else { unreachable!() };
        sound(&read_csv(&map, &bytes, "x.csv", &options()));
    }

    /// Rows near the right form, around the nights on which clocks change.
    #[test]
    fn rows_near_the_right_form(rows in prop::collection::vec((
        prop::sample::select(vec!["29.03.2026", "25.10.2026", "31.02.2026", "26.10.2026", ""]),
        0..26_u8, 0..4_u8,
        prop::sample::select(vec!["house", "trees", "", "\"a;b\""]),
        prop::sample::select(vec!["68,0", "-999", "x", "1e400", "NaN", "70.5", "", "20,5", "inf"]),
        prop::sample::select(vec!["50,0", "0,8", "101,2", "-999,0", "1", ""]),
        prop::sample::select(vec!["", ";", ";3,6", ";200", ";x;y"]),
    ), 0..40)) {
        let text: String = rows.iter().map(|(d, h, q, a, t, rh, more)| {
            format!("{d} {h:02}:{:02};{a};{t};{rh}{more}\n", q * 15)
        }).collect();
        let Map::Csv(map) = csv_map("utf-8", "Europe/Berlin") else { unreachable!() };
        sound(&read_csv(&map, text.as_bytes(), "x.csv", &options()));
    }

    #[test]
    fn any_document(text in r#"[\[\]{}":,0-9a-z/.eE+ -]{0,80}"#) {
        let map = "source = \"json\"\nfile = \"x\"\n[forecast]\nrows = \"/a\"\n\
            time = { pointer = \"/t\", format = \"unix_s\" }\n\
            temperature = { pointer = \"/x\", unit = \"Cel\" }\n\
            humidity = { pointer = \"/y\", unit = \"%\" }\n";
        let Map::Json(map) = Map::parse(map, "map.toml").unwrap() else { unreachable!() };
        sound(&read_json(&map, text.as_bytes(), "x", &options()));
        let row = format!("{{\"a\": [{{\"t\": 1782014400, \"x\": {text}, \"y\": 50}}]}}");
        sound(&read_json(&map, row.as_bytes(), "x", &options()));
    }

    #[test]
    fn any_map(text in r#"(source = "(csv|json|sensorthings)"\n)?[\[\]{}"=,0-9a-z_%$/.:\n -]{0,200}"#) {
        if let Err(e) = Map::parse(&text, "map.toml") {
            prop_assert!(e.to_string().starts_with("map.toml:"), "{}", e);
        }
    }
}
