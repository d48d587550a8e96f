//! The answer for an area is the sum of those for its plants; the week of a pot is that of its
//! rounds.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test ends where it fails")]

use guardcell_advice::{AdviceRequest, AdviceResponse, Verdict, advise};
use jiff::{SignedDuration, Timestamp};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Two houses of the same site, one of them dry and cold by night, the other damp.
fn advice(plants: &[Value]) -> AdviceResponse {
    let start: Timestamp = "2026-06-21T12:00:00Z".parse().unwrap();
    let mut readings = Vec::new();
    for h in -30..=72 {
        let time = (start + SignedDuration::from_hours(h)).to_string();
        let day = (6..20).contains(&(h + 12).rem_euclid(24));
        let (temp, rh) = if day { (24.0, 55.0) } else { (16.0, 80.0) };
        readings.push(json!({"time": time, "area": "damp", "temp_c": 21.0, "rh_percent": 82.0,
            "air_m_s": 0.3}));
        readings.push(json!({"time": time, "area": "dry", "temp_c": temp, "rh_percent": rh,
            "air_m_s": 0.5}));
    }
    let request: AdviceRequest = serde_json::from_value(json!({
        "site": {
            "name": "Fernhollow", "latitude_deg": 45.0, "longitude_deg": 0.0,
            "time_zone": "Etc/UTC",
            "areas": [{"id": "damp", "name": "Damp house", "shelter": "glass"},
                {"id": "dry", "name": "Dry house", "shelter": "glass"}],
            "grower": {"residue_threshold_g_m2": 0.002,
                "working_hours": [{"from": "08:00", "to": "18:00"}]}
        },
        "readings": readings, "plants": plants, "at": start.to_string(), "hours": 36,
        "feed": {"name": "Test 13-2-13",
            "derived_from": ["potassium nitrate", "calcium nitrate", "monopotassium phosphate"],
            "guaranteed": {"n_percent": 13, "p2o5_percent": 2, "k2o_percent": 13}}
    }))
    .unwrap();
    advise(&request).unwrap()
}

fn plant(id: &str, name: &str, area: &str, more: &Value) -> Value {
    let mut plant = json!({"id": id, "name": name, "area": area, "setting": "potted",
        "standing": "established", "growth": "active"});
    plant.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    plant
}

#[test]
fn an_area_counts_its_plants_and_what_would_help_them() {
    let names = ["Cattleya labiata", "Phalaenopsis amabilis", "Paphiopedilum insigne"];
    let fed = ["2026-06-19T10:00:00Z", "2026-06-22T07:00:00Z", "2026-06-24T07:00:00Z"];
    let mut plants = Vec::new();
    for (a, area) in ["damp", "dry"].iter().enumerate() {
        for (n, name) in names.iter().enumerate() {
            for copy in 0..=n {
                let more = json!({"last_fed": fed[(n + a) % 2]});
                plants.push(plant(&format!("{area}{n}{copy}"), name, area, &more));
            }
        }
    }
    let answer = advice(&plants);
    assert_eq!(answer.areas.len(), 2);
    let mut helped = 0;
    for area in &answer.areas {
        let own: Vec<_> = answer.plants.iter().filter(|p| p.area == area.area).collect();
        let fed = own.iter().filter(|p| p.verdict == Verdict::Feed).count();
        assert_eq!((area.fed, area.not_fed), (fed, own.len() - fed), "{}", area.area);
        assert_eq!(area.fed + area.not_fed, 6);
        // Each change once, for as many plants as it is named for.
        let mut named: BTreeMap<&str, usize> = BTreeMap::new();
        for change in own.iter().flat_map(|p| &p.changes) {
            *named.entry(change.code.as_str()).or_default() += 1;
        }
        let counted: BTreeMap<&str, usize> =
            area.changes.iter().map(|c| (c.code.as_str(), c.plants)).collect();
        assert_eq!(counted, named);
        assert_eq!(counted.len(), area.changes.len());
        helped += counted.len();
    }
    assert!(helped >= 3, "{:?}", answer.areas);
}

/// Rounds come every second day to a pot (common practice, no source): 3.5 a week. What one leaves
/// on a plant of medium size: 400 cm² of leaf, both sides, 100 g/m² of film make 8 mL.
#[test]
fn the_week_of_a_pot_is_that_of_its_rounds() {
    let answer = advice(&[
        plant("pot", "Cattleya labiata", "damp", &json!({"pot_l": 2.0, "root_feed_mg_week": 50})),
        plant("bed", "Cattleya labiata", "damp", &json!({"setting": "landscape"})),
    ]);
    let [pot, bed] = &answer.plants[..] else { panic!() };
    assert_eq!((pot.interval_days, pot.verdict), (2.0, Verdict::Feed));
    let expected = pot.feed_strength_mg_l.unwrap() * 0.008 * f64::from(pot.passes) * 3.5;
    let weekly = pot.weekly.as_ref().unwrap();
    assert!((weekly.leaf_mg - expected).abs() <= 0.5, "{weekly:?} {expected}");
    // 350 mg a litre and week.
    assert_eq!((weekly.root_mg, weekly.ceiling_mg), (Some(50.0), Some(700.0)));
    assert!(bed.weekly.is_none());
}
