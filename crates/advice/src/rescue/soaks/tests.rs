use crate::{RescueRequest, rescue};
use jiff::{SignedDuration, Timestamp};
use serde_json::{Value, json};

/// Zones that change their clocks in the north, in the south, at midnight, by half an hour, and
/// not at all; the last two lie far north.
const PLACES: [(&str, f64, f64); 8] = [
    ("Europe/London", 50.2, -5.1),
    ("Atlantic/Azores", 38.5, -28.0),
    ("America/Santiago", -33.4, -70.7),
    ("Australia/Lord_Howe", -31.6, 159.1),
    ("Africa/Cairo", 30.0, 31.2),
    ("Asia/Kolkata", 12.9, 77.6),
    ("Europe/Oslo", 69.6, 18.9),
    ("Asia/Singapore", 1.3, 103.8),
];

const LAMPS: [Option<(&str, &str)>; 8] = [
    None,
    Some(("06:00", "18:00")),
    Some(("22:00", "12:00")),
    Some(("18:00", "06:00")),
    Some(("00:00", "14:00")),
    Some(("13:30", "01:30")),
    Some(("02:00", "16:00")),
    Some(("01:30", "19:30")),
];

fn soaks(
    name: &str,
    place: (&str, f64, f64),
    lamps: Option<(&str, &str)>,
    from: &str,
    days: u16,
) -> Vec<(Timestamp, Timestamp)> {
    let mut area = json!({"id": "a", "name": "Area", "shelter": "room"});
    if let Some((on, off)) = lamps {
        area["light"] = Value::from("lamps");
        area["lamps"] = json!([{"on": on, "off": off}]);
    }
    let request: RescueRequest = serde_json::from_value(json!({
        "name": name, "from": from, "days": days,
        "site": {"name": "S", "latitude_deg": place.1, "longitude_deg": place.2,
            "time_zone": place.0, "areas": [area]}
    }))
    .unwrap();
    rescue(&request)
        .unwrap()
        .soaks
        .iter()
        .map(|s| (s.start.parse().unwrap(), s.end.parse().unwrap()))
        .collect()
}

#[test]
fn feed_and_water_alternate_on_demand() {
    let site = json!({"name": "S", "latitude_deg": 38.5, "longitude_deg": -28.0,
        "time_zone": "Atlantic/Azores",
        "areas": [{"id": "a", "name": "Area", "shelter": "room"}]});
    let plan = |more: Value| {
        let mut request = json!({"name": "Phalaenopsis", "from": "2026-03-28", "days": 3});
        request["site"] = site.clone();
        request.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        rescue(&serde_json::from_value(request).unwrap()).unwrap()
    };
    let water = |r: &crate::RescueResponse| -> Vec<bool> {
        r.soaks.iter().map(|s| s.plain_water).collect()
    };
    assert_eq!(water(&plan(json!({}))), [false; 6]);
    let plan = plan(json!({"alternate": true}));
    assert_eq!(water(&plan), [false, true, false, true, false, true]);
    assert!(plan.steps[0].starts_with("Every second soak is plain water"), "{:?}", plan.steps);
}

/// Common practice, no source: two soaks a day of half an hour, dry for two hours between.
fn held(soaks: &[(Timestamp, Timestamp)], days: u16, what: &str) {
    assert_eq!(soaks.len(), usize::from(days) * 2, "{what}");
    for (start, end) in soaks {
        assert_eq!(end.duration_since(*start), SignedDuration::from_mins(30), "{what}");
    }
    for pair in soaks.windows(2) {
        let dry = pair[1].0.duration_since(pair[0].1);
        assert!(dry >= SignedDuration::from_mins(120), "{what}: {pair:?}");
    }
}

#[test]
fn two_soaks_a_day_in_order_and_dry_between_over_a_year() {
    for place in PLACES {
        for lamps in LAMPS {
            for name in ["Cattleya labiata", "Masdevallia"] {
                for (from, days) in [("2026-01-01", 183), ("2026-07-03", 182)] {
                    let what = format!("{name} {} {lamps:?} from {from}", place.0);
                    held(&soaks(name, place, lamps, from, days), days, &what);
                }
            }
        }
    }
}

#[test]
fn a_plan_begun_later_goes_on_as_the_longer_one_does() {
    for place in PLACES {
        for lamps in LAMPS {
            let whole = soaks("Cattleya labiata", place, lamps, "2026-03-20", 14);
            let part = soaks("Cattleya labiata", place, lamps, "2026-03-27", 7);
            assert_eq!(whole[14..], part[..], "{} {lamps:?}", place.0);
        }
    }
}

#[test]
fn soaks_lie_in_the_light_of_c3_and_in_the_dark_of_cam() {
    let hour =
        |t: &Timestamp| t.to_zoned_datetime(jiff::tz::db().get("Europe/London").unwrap()).hour();
    let lamps = Some(("22:00", "12:00"));
    for (start, _) in soaks("Masdevallia", PLACES[0], lamps, "2026-05-01", 5) {
        assert!(hour(&start) >= 22 || hour(&start) < 12, "{start}");
    }
    for (start, _) in soaks("Cattleya labiata", PLACES[0], lamps, "2026-05-01", 5) {
        assert!((12..22).contains(&hour(&start)), "{start}");
    }
}
