//! Readings of the same area and time.

use crate::server::options;
use guardcell_conditions::report::IssueCode;
use guardcell_conditions::{Map, Read, read_csv};

fn read(policy: &str, rows: &str) -> Read {
    let map = format!(
        "source = \"csv\"\nfile = \"x.csv\"\nduplicates = \"{policy}\"\n\
         time = {{ columns = [\"t\"] }}\n[[series]]\narea_column = \"a\"\n\
         temperature = {{ column = \"T\", unit = \"Cel\" }}\n\
         humidity = {{ column = \"RH\", unit = \"%\" }}\n"
    );
    let Map::Csv(map) = Map::parse(&map, "map.toml").unwrap() else { unreachable!() };
    read_csv(&map, format!("t,a,T,RH\n{rows}").as_bytes(), "x.csv", &options()).unwrap()
}

const T: &str = "2026-06-21T04:00:00Z";

#[test]
fn the_map_decides_between_readings_that_differ() {
    let rows = format!("{T},house,20,80\n{T},trees,15,90\n{T},house,22,70\n{T},house,23,60\n");
    for (policy, temp, rh) in [("first", 20.0, 80.0), ("last", 23.0, 60.0)] {
        let read = read(policy, &rows);
        assert_eq!((read.readings[0].temp_c, read.readings[0].rh_percent), (temp, rh));
        assert_eq!((read.report.readings_kept, read.report.readings_dropped), (2, 2));
    }
    let mean = read("mean", &format!("{T},house,20,80\n{T},house,22,70\n"));
    assert_eq!((mean.readings[0].temp_c, mean.readings[0].rh_percent), (21.0, 75.0));
    let issue = &mean.report.issues[0];
    assert_eq!((issue.code, issue.places[0].as_str()), (IssueCode::DuplicateDiffers, "line 3"));
    assert!(issue.message.contains("mean"), "{}", issue.message);
}

#[test]
fn a_copy_is_dropped_and_told() {
    let read = read("first", &format!("{T},house,20,80\n{T},house,20,80\n"));
    assert_eq!(read.report.issues[0].code, IssueCode::DuplicateSame);
    assert_eq!(read.readings.len(), 1);
}
