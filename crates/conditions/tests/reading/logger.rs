//! The export of the demo logger: every awkwardness handled, every one reported with its line.

use crate::server::options;
use guardcell_conditions::report::{Effect, IssueCode};
use guardcell_conditions::{Error, Map, Options, Read, read_csv, read_file};
use std::path::{Path, PathBuf};

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/logger")
}

fn logger() -> Read {
    let now = "2026-10-26T09:00:00-01:00".parse().unwrap();
    read_file(&demo().join("logger.toml"), &Options::at(now)).unwrap()
}

#[test]
fn the_demo_logger_is_read_and_every_fault_has_its_line() {
    let text = std::fs::read_to_string(demo().join("logger.csv")).unwrap();
    let line = |start: &str| {
        let i = text.lines().position(|l| l.starts_with(start)).unwrap();
        format!("line {}", i + 1)
    };
    let Read { report, .. } = logger();
    let has = |code, effect, place: &str| {
        let there: Vec<&String> = report
            .issues
            .iter()
            .filter(|i| i.code == code && i.effect == effect)
            .flat_map(|i| &i.places)
            .collect();
        assert!(there.iter().any(|p| *p == place), "{code:?} is at {there:?}, not at {place}");
    };
    has(IssueCode::Sentinel, Effect::Dropped, &line("23.10.2026;09:00;1"));
    has(IssueCode::Sentinel, Effect::Dropped, &line("23.10.2026;20:00;2"));
    has(IssueCode::UnknownArea, Effect::Dropped, &line("24.10.2026;08:00;9"));
    has(IssueCode::TakenAsLimit, Effect::Adjusted, &line("26.10.2026;06:00;2"));
    has(IssueCode::OutOfOrder, Effect::Adjusted, &line("26.10.2026;02:00;1"));
    has(IssueCode::ShortRow, Effect::Dropped, &line("End of export"));
    has(IssueCode::AmbiguousTime, Effect::Adjusted, "lines 99–102");
    let missing = report.issues.iter().find(|i| i.code == IssueCode::Missing).unwrap();
    assert_eq!((missing.effect, missing.count), (Effect::LeftOut, 2));
    let second = |start: &str| {
        let all: Vec<_> = text.lines().enumerate().filter(|(_, l)| l.starts_with(start)).collect();
        format!("line {}", all[1].0 + 1)
    };
    has(IssueCode::DuplicateSame, Effect::Dropped, &second("24.10.2026;05:00;2"));
    has(IssueCode::DuplicateDiffers, Effect::Dropped, &second("25.10.2026;18:00;1"));
    assert_eq!(report.rows_read, text.lines().count() - 5);
    assert_eq!(report.readings_possible, report.readings_kept + report.readings_dropped);
}

/// The Azores put clocks back at 01:00 UTC on 25 October 2026 (tz database, file `europe`, rule
/// EU), from 01:00 +00 to 00:00 −01: local midnight comes twice.
#[test]
fn the_hour_that_came_twice_is_two_hours() {
    let Read { readings, report, .. } = logger();
    let house: Vec<&str> = readings
        .iter()
        .filter(|r| r.area.as_deref() == Some("house") && r.time.starts_with("2026-10-25T0"))
        .map(|r| r.time.as_str())
        .take(3)
        .collect();
    assert_eq!(
        house,
        ["2026-10-25T00:00:00+00:00", "2026-10-25T00:00:00-01:00", "2026-10-25T01:00:00-01:00"]
    );
    let area = &report.areas[0];
    assert_eq!((area.step_min, area.gaps.len()), (Some(60.0), 2));
    assert_eq!((area.gaps[1].hours, area.gaps[1].bridged), (6.0, false));
    assert_eq!((area.newest_age_h, area.stale), (Some(1.0), false));
}

/// The readings were made from those of the demo year, so they must come back to them, to the
/// tenth of a degree that the logger writes.
#[test]
fn units_come_back_to_those_of_the_demo_year() {
    let year = std::fs::read_to_string(demo().join("../conditions.csv")).unwrap();
    let mut compared = 0;
    for r in logger().readings {
        let start = format!("{},{},", r.time, r.area.clone().unwrap());
        let row: Vec<f64> = year
            .lines()
            .find(|l| l.starts_with(&start))
            .unwrap_or_else(|| panic!("{start} is not in the year"))
            .split(',')
            .skip(2)
            .map(|v| v.parse().unwrap())
            .collect();
        assert!((r.temp_c - row[0]).abs() <= 0.03, "{r:?} {row:?}");
        assert!((r.rh_percent - row[1]).abs() <= 0.5 || r.rh_percent == 100.0, "{r:?} {row:?}");
        assert!(r.air_m_s.is_none_or(|v| (v - row[2]).abs() <= 0.015), "{r:?} {row:?}");
        assert_eq!(r.radiation_w_m2, Some(row[3]));
        compared += 1;
    }
    assert!(compared > 140, "{compared}");
}

fn with(map: &str, file: &str) -> Result<Read, Error> {
    let Map::Csv(map) = Map::parse(map, "map.toml")? else { unreachable!() };
    read_csv(&map, file.as_bytes(), "x.csv", &options())
}

const MAP: &str = "source = \"csv\"\nfile = \"x.csv\"\ntime = { columns = [\"t\"] }\n[[series]]\n\
    temperature = { column = \"T\", unit = \"Cel\" }\nhumidity = { column = \"RH\", unit = \"%\" }\n";

#[test]
fn a_column_that_is_not_there_is_told_with_those_that_are() {
    let says = |file: &str| with(MAP, file).unwrap_err().to_string();
    let words = says("t,T,Hum\n");
    assert!(words.contains("/series/0/humidity/column") && words.contains("\"Hum\""), "{words}");
    assert!(says("t;T;RH\n").contains("check `delimiter`"));
    assert!(says("t,T,RH,T\n").contains("columns 2 and 4"));
    assert!(says("t,T,RH\n2026-06-21T04:00,20,80\n").contains("no `zone`"));
    assert!(says("t,T,RH\n2026-06-21T04:00Z,20,180\n").contains("outside 0 to 100 %"));
    assert!(says("").contains("no header"));
}

#[test]
fn several_areas_may_share_a_row() {
    let map = MAP.replace("[[series]]", "[[series]]\narea = \"house\"")
        + "[[series]]\narea = \"shelf\"\ntemperature = { column = \"T2\", unit = \"Cel\" }\n\
           humidity = { column = \"RH2\", unit = \"%\" }\n";
    let read =
        with(&map, "t,T,RH,T2,RH2\n2026-06-21T04:00Z,20,80,24,\n2026-06-21T05:00Z,21,78,24,60\n");
    let Read { readings, report, .. } = read.unwrap();
    let areas: Vec<_> = readings.iter().map(|r| r.area.as_deref().unwrap()).collect();
    assert_eq!(areas, ["house", "house", "shelf"]);
    assert_eq!((report.rows_read, report.readings_possible, report.readings_dropped), (2, 4, 1));
    assert_eq!(report.missing.len(), 4);
}

#[test]
fn a_file_may_run_backwards() {
    let file =
        "t,T,RH\n2026-06-21T05:00Z,21,78\n2026-06-21T04:00Z,20,80\n2026-06-21T03:00Z,19,82\n";
    let read = with(MAP, file).unwrap();
    assert!(read.report.issues.is_empty(), "{:?}", read.report.issues);
    assert_eq!(read.readings[0].temp_c, 19.0);
    assert_eq!(read.places[0], "x.csv:4");
}

#[test]
fn a_reading_from_after_now_is_noted() {
    let read = with(MAP, "t,T,RH\n2026-06-21T04:30Z,20,80\n2026-06-21T06:00Z,21,78\n").unwrap();
    assert_eq!(read.report.issues[0].code, IssueCode::AfterNow);
    assert_eq!(read.report.areas[0].newest_age_h, Some(0.5));
    let old = with(MAP, "t,T,RH\n2026-06-21T02:00Z,20,80\n");
    assert_eq!(old.unwrap_err().code(), guardcell_conditions::Code::Stale);
}

const PLAIN: &str = "source = \"csv\"\nfile = \"x.csv\"\ntime = { columns = [\"t\"] }\n\
    [[series]]\ntemperature = { column = \"T\", unit = \"Cel\" }\n\
    humidity = { column = \"RH\", unit = \"%\" }\n";

/// Windows loggers end lines with CR LF (RFC 4180, section 2).
#[test]
fn lines_are_counted_whatever_ends_them() {
    let rows = "t,T,RH\n2026-06-21T04:00:00Z,20,80\n\n2026-06-21T04:30:00Z,x,80\n";
    for end in ["\n", "\r\n"] {
        let read = with(PLAIN, &rows.replace('\n', end)).unwrap();
        assert_eq!(read.report.issues[0].places, ["line 4"], "{end:?}");
        assert_eq!(read.places, ["x.csv:2"], "{end:?}");
    }
}

#[test]
fn thousands_separators_are_read() {
    let map = PLAIN.replace("file", "delimiter = \";\"\nfile")
        + "radiation = { column = \"G\", unit = \"W/m2\" }\n";
    let read = with(&map, "t;T;RH;G\n2026-06-21T04:30:00Z;20.5;80;1,013.5\n").unwrap();
    assert_eq!(read.readings[0].radiation_w_m2, Some(1013.5));
}
