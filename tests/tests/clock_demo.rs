//! The demo year is whole and coherent: dew point, light and clock agree.

use guardcell::clock::{
    Latitude, Light, Location, Longitude, Shelter, Site, light_hours, sun_elevation,
};
use guardcell::units::uom::si::angle::degree;
use jiff::Timestamp;
use std::collections::BTreeMap;
use std::path::Path;

struct Row {
    at: Timestamp,
    temp_c: f64,
    rh_percent: f64,
    air_m_s: f64,
    radiation_w_m2: f64,
}

fn demo(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-data").join(name);
    std::fs::read_to_string(path).unwrap()
}

fn rows() -> BTreeMap<String, Vec<Row>> {
    let text = demo("conditions.csv");
    assert!(text.len() < 1_000_000, "{} bytes", text.len());
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    assert_eq!(
        reader.headers().unwrap().iter().collect::<Vec<_>>().join(","),
        "time,area,temp_c,rh_percent,air_m_s,radiation_w_m2"
    );
    let mut out: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for r in reader.records() {
        let r = r.unwrap();
        let n = |i: usize| r[i].parse::<f64>().unwrap();
        out.entry(r[1].to_owned()).or_default().push(Row {
            at: r[0].parse().unwrap(),
            temp_c: n(2),
            rh_percent: n(3),
            air_m_s: n(4),
            radiation_w_m2: n(5),
        });
    }
    out
}

fn place() -> Location {
    Location::new(
        Latitude::from_degrees(38.5).unwrap(),
        Longitude::from_degrees(-28.0).unwrap(),
        "Atlantic/Azores",
    )
    .unwrap()
}

#[test]
fn the_year_has_no_holes() {
    let rows = rows();
    for (area, hours) in [("house", 1), ("trees", 1), ("shelf", 3)] {
        let of = &rows[area];
        assert_eq!(of.len(), 8760 / hours, "{area}");
        for pair in of.windows(2) {
            let gap = pair[1].at.as_second() - pair[0].at.as_second();
            assert_eq!(gap, hours as i64 * 3600, "{area} after {}", pair[0].at);
        }
    }
}

#[test]
fn values_are_possible_and_change_smoothly() {
    for (area, of) in &rows() {
        for r in of {
            assert!((0.0..40.0).contains(&r.temp_c), "{area} {} {}", r.at, r.temp_c);
            assert!((30.0..=99.0).contains(&r.rh_percent), "{area} {} {}", r.at, r.rh_percent);
            assert!((0.05..7.0).contains(&r.air_m_s), "{area} {} {}", r.at, r.air_m_s);
            assert!((0.0..700.0).contains(&r.radiation_w_m2), "{area} {}", r.at);
        }
        for pair in of.windows(2) {
            let step = (pair[1].temp_c - pair[0].temp_c).abs();
            assert!(step < 5.0, "{area} jumps {step} K after {}", pair[0].at);
        }
    }
}

#[test]
fn it_is_light_when_the_sun_is_up_and_warmest_after_noon() {
    let (place, rows) = (place(), rows());
    let mut by_hour = [(0.0, 0u32); 24];
    for r in &rows["house"] {
        let height = sun_elevation(&place, r.at).unwrap().get::<degree>();
        if height < -1.0 {
            assert_eq!(r.radiation_w_m2, 0.0, "{}", r.at);
        } else if height > 10.0 {
            assert!(r.radiation_w_m2 > 5.0, "{}", r.at);
        }
        let hour = r.at.to_zoned_datetime(place.zone().clone()).hour() as usize;
        by_hour[hour].0 += r.temp_c;
        by_hour[hour].1 += 1;
    }
    let warmest = (0..24)
        .max_by(|&a, &b| {
            let mean = |h: usize| by_hour[h].0 / f64::from(by_hour[h].1);
            mean(a).total_cmp(&mean(b))
        })
        .unwrap();
    assert!((12..=17).contains(&warmest), "{warmest}");
}

/// The lamps of the file are those of the site file.
#[test]
fn the_shelf_is_lit_by_its_lamps() {
    let site: toml::Value = toml::from_str(&demo("site.toml")).unwrap();
    let shelf = site["areas"]
        .as_array()
        .unwrap()
        .iter()
        .find(|a| a["id"].as_str() == Some("shelf"))
        .unwrap();
    let run = &shelf["lamps"].as_array().unwrap()[0];
    let run = guardcell::clock::LampRun {
        on: run["on"].as_str().unwrap().into(),
        off: run["off"].as_str().unwrap().into(),
    };
    let lamps = guardcell::clock::lamps(&[run], None).unwrap().unwrap();
    let rows = rows();
    let of = &rows["shelf"];
    let site = Site { location: place(), light: Light::Lamps(lamps), shelter: Shelter::UnderCover };
    let end = of.last().unwrap().at.checked_add(jiff::SignedDuration::from_hours(3)).unwrap();
    let lit = light_hours(&site, of[0].at, end).unwrap().lit();
    for r in of {
        let on = lit.iter().any(|s| s.start.timestamp() <= r.at && r.at < s.end.timestamp());
        assert_eq!(r.radiation_w_m2 > 0.0, on, "{}", r.at);
    }
}

/// The collection has at least forty plants in known areas, with ids of their own.
#[test]
fn the_collection_stands_in_the_site() {
    let text = demo("collection.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    assert_eq!(
        reader.headers().unwrap().iter().collect::<Vec<_>>().join(","),
        "id,name,area,setting,standing,size,growth,leaf,notes"
    );
    let mut ids = std::collections::BTreeSet::new();
    for r in reader.records() {
        let r = r.unwrap();
        assert!(ids.insert(r[0].to_owned()), "duplicate {}", &r[0]);
        assert!(["house", "shelf", "trees"].contains(&&r[2]), "{}", &r[2]);
    }
    assert!(ids.len() >= 40);
}
