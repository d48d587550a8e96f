//! What must hold of every plan of a round, in air that changes: days and nights, fronts.
#![allow(clippy::unwrap_used, reason = "a test")]

use guardcell_advice::round::{Bucket, Fill, RoundResponse, Sitting};
use guardcell_advice::{AdviceRequest, AdviceResponse, advise, round};
use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Air that changes by the hour, and where a front comes.
#[derive(Debug, Clone, Copy)]
struct Weather {
    mean_c: f64,
    swing_c: f64,
    mean_rh: f64,
    swing_rh: f64,
    air_m_s: f64,
    front_h: i64,
    front_rh: f64,
    month: u8,
}

fn weather() -> impl Strategy<Value = Weather> {
    (
        (15.0..25.0_f64, 0.0..8.0_f64, 45.0..92.0_f64, 0.0..30.0_f64),
        (0.05..1.0_f64, -20_i64..60, -20.0..20.0_f64, 1_u8..13),
    )
        .prop_map(|(a, b)| Weather {
            mean_c: a.0,
            swing_c: a.1,
            mean_rh: a.2,
            swing_rh: a.3,
            air_m_s: b.0,
            front_h: b.1,
            front_rh: b.2,
            month: b.3,
        })
}

impl Weather {
    fn start(self) -> Timestamp {
        format!("2026-{:02}-21T12:00:00Z", self.month).parse().unwrap()
    }

    fn readings(self) -> Vec<Value> {
        (-25..=96)
            .map(|h| {
                let phase = (h + 12 - 15_i64).rem_euclid(24) as f64 / 24.0 * std::f64::consts::TAU;
                let after = if h >= self.front_h { self.front_rh } else { 0.0 };
                let rh = self.mean_rh - self.swing_rh / 2.0 * phase.cos() + after;
                json!({
                    "time": (self.start() + SignedDuration::from_hours(h)).to_string(),
                    "temp_c": self.mean_c + self.swing_c / 2.0 * phase.cos(),
                    "rh_percent": rh.clamp(20.0, 99.0),
                    "air_m_s": self.air_m_s
                })
            })
            .collect()
    }

    fn request(self, plants: &[Value], grower: Value) -> AdviceRequest {
        serde_json::from_value(json!({
            "site": {
                "name": "House", "latitude_deg": 40.0, "longitude_deg": 0.0,
                "time_zone": "Etc/UTC",
                "areas": [
                    {"id": "house", "name": "House", "shelter": "glass", "winter": "grow"},
                    {"id": "trees", "name": "Trees", "shelter": "outdoors"}
                ],
                "grower": grower
            },
            "readings": self.readings(),
            "plants": plants,
            "feed": {
                "name": "Test 13-2-13",
                "derived_from": ["potassium nitrate", "calcium nitrate", "monopotassium phosphate"],
                "guaranteed": {"n_percent": 13, "p2o5_percent": 2, "k2o_percent": 13}
            },
            "at": self.start().to_string(),
            "hours": 36
        }))
        .unwrap()
    }
}

fn plant() -> impl Strategy<Value = Value> {
    let pick = |of: &[&'static str]| proptest::sample::select(of.to_vec());
    (
        pick(&["Cattleya labiata", "Masdevallia", "Phalaenopsis", "Miltoniopsis", "Vanda"]),
        pick(&["established", "ordinary", "weak", "seedling"]),
        pick(&["small", "medium", "large", "specimen"]),
        pick(&["mounted", "basket", "potted"]),
        (pick(&["house", "house", "trees"]), pick(&["", "a", "b"])),
    )
        .prop_map(|(name, standing, size, setting, (area, bench))| {
            json!({
                "name": name, "standing": standing, "size": size, "setting": setting,
                "area": area, "bench": bench, "growth": "active"
            })
        })
}

fn plants() -> impl Strategy<Value = Vec<Value>> {
    proptest::collection::vec(plant(), 1..25).prop_map(|mut list| {
        for (i, p) in list.iter_mut().enumerate() {
            p["id"] = json!(format!("P{i:02}"));
        }
        list
    })
}

fn grower() -> impl Strategy<Value = Value> {
    (
        proptest::sample::select(vec![0.001, 0.01, 0.1, 1.0, 10.0]),
        proptest::sample::select(vec![137.0, 500.0, 1000.0, 2003.0]),
    )
        .prop_map(|(scale, mister)| {
            json!({
                "working_hours": [
                    {"from": "04:00", "to": "09:00"}, {"from": "16:00", "to": "22:00"}
                ],
                "scale_g": scale, "mister_ml": mister
            })
        })
}

fn fills(s: &Sitting) -> impl Iterator<Item = &Fill> {
    s.steps.iter().flat_map(|x| &x.fills)
}

fn time(text: &str) -> Timestamp {
    text.parse().unwrap()
}

/// Strength times passes of every plant that is served.
fn given(plan: &RoundResponse) -> BTreeMap<&str, f64> {
    let mut out = BTreeMap::new();
    for step in plan.sittings.iter().flat_map(|s| &s.steps) {
        for p in step.groups.iter().flat_map(|g| &g.plants) {
            let dose = step.feed_strength_mg_l * f64::from(step.passes);
            assert!(out.insert(p.id.as_str(), dose).is_none(), "{} twice", p.id);
        }
    }
    out
}

/// The sittings of each bucket, with it.
fn by_bucket(plan: &RoundResponse) -> Vec<(&Bucket, Vec<&Sitting>)> {
    let mut out: Vec<(&Bucket, Vec<&Sitting>)> = Vec::new();
    // Sittings of plain water before the first with feed need no bucket.
    let fed = plan.sittings.iter().position(|s| fills(s).any(|f| f.feed_ml > 0.0));
    for (i, s) in plan.sittings.iter().enumerate() {
        let first = if Some(i) == fed { plan.bucket.as_ref() } else { None };
        match s.bucket.as_ref().or(first) {
            Some(b) => out.push((b, vec![s])),
            None => {
                if let Some((_, list)) = out.last_mut() {
                    list.push(s);
                }
            }
        }
    }
    out
}

/// What the advice gives a plant at most in the hours of a sitting, if it names a window there.
fn advised(advice: &AdviceResponse, id: &str, sitting: &Sitting) -> Option<f64> {
    let p = advice.plants.iter().find(|p| p.id == id).unwrap();
    let (start, end) = (time(&sitting.start), time(&sitting.end));
    p.windows
        .iter()
        .filter(|w| time(&w.start) < end && start < time(&w.end))
        .map(|w| w.feed_strength_mg_l * f64::from(w.passes))
        .reduce(f64::max)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn every_plant_once_and_volumes_add_up(w in weather(), list in plants(), g in grower()) {
        let request = w.request(&list, g.clone());
        let plan = round(&request).unwrap();
        let advice = advise(&request).unwrap();
        let served = given(&plan);
        let alone: usize = plan.alone.iter().map(|a| a.plants.len()).sum();
        prop_assert_eq!(served.len() + alone, list.len());
        for s in &plan.sittings {
            for step in &s.steps {
                let dose = step.feed_strength_mg_l * f64::from(step.passes);
                for p in step.groups.iter().flat_map(|g| &g.plants) {
                    if let Some(most) = advised(&advice, &p.id, s) {
                        prop_assert!(dose <= most + 1e-9, "{} gets {dose}, not {most}", p.id);
                    }
                }
            }
        }
        let mister = g["mister_ml"].as_f64().unwrap();
        for s in &plan.sittings {
            for step in &s.steps {
                let of_plants: f64 = step.groups.iter().flat_map(|g| &g.plants).map(|p| p.spray_ml).sum();
                let of_fills: f64 = step.fills.iter().map(|f| f.spray_ml).sum();
                // Volumes of plants are rounded to a tenth, that of the step to one.
                prop_assert!((of_plants - of_fills).abs() < 0.06 * list.len() as f64);
                prop_assert!((step.spray_ml - of_fills).abs() <= 0.51);
                for f in &step.fills {
                    let volume = f.left_in_mister_ml - f.pour_out_ml + f.feed_ml + f.top_up_ml;
                    prop_assert!(volume <= mister + 1e-6, "{volume} in {mister}");
                    prop_assert!(f.spray_ml <= volume + 1e-6);
                    prop_assert!((f.full_to_eighths / 8.0 * mister - volume).abs() < 1e-6);
                }
            }
            // What goes into the mister comes out of it.
            let into: f64 = fills(s).map(|f| f.feed_ml + f.top_up_ml).sum();
            let out: f64 = fills(s).map(|f| f.spray_ml + f.pour_out_ml).sum();
            prop_assert!((into - out - s.left_over_ml).abs() <= 0.51, "{into} {out}");
        }
        for (bucket, sittings) in by_bucket(&plan) {
            let taken: f64 = sittings.iter().copied().flat_map(fills).map(|f| f.feed_ml).sum();
            let left = bucket.water_l * 1000.0 - taken;
            prop_assert!(left >= -1e-6, "{left} left");
            let named = bucket.surplus.as_ref().map_or(0.0, |s| s.ml);
            prop_assert!((left - named).abs() <= 5.0, "{left} {named}");
        }
    }

    #[test]
    fn a_bucket_is_used_within_its_keeping_time(w in weather(), list in plants(), g in grower()) {
        let plan = round(&w.request(&list, g)).unwrap();
        for (bucket, sittings) in by_bucket(&plan) {
            let first = time(&sittings[0].start);
            for s in sittings {
                let done = time(&s.start) + SignedDuration::from_secs_f64(s.minutes * 60.0);
                let age = done.min(time(&s.end)).duration_since(first).as_secs_f64() / 3600.0;
                prop_assert!(age <= bucket.keeps_hours, "{age} h");
                let end = time(&s.end).duration_since(first).as_secs_f64() / 3600.0;
                prop_assert!(end <= bucket.keeps_hours, "{end} h");
            }
        }
    }

    #[test]
    fn the_order_of_the_collection_changes_nothing(w in weather(), list in plants(), g in grower()) {
        let plan = round(&w.request(&list, g.clone())).unwrap();
        let mut turned = list.clone();
        turned.reverse();
        turned.rotate_left(list.len() / 3);
        let again = round(&w.request(&turned, g)).unwrap();
        prop_assert_eq!(&plan.sittings, &again.sittings);
        prop_assert_eq!(&plan.bucket, &again.bucket);
    }

    // Common practice, no source: a weaker or smaller plant never gets more than a stronger one alike.
    #[test]
    fn a_weaker_plant_never_gets_more(w in weather(), list in plants(), g in grower()) {
        let plan = round(&w.request(&list, g)).unwrap();
        let served = given(&plan);
        let rank = |p: &Value| ["established", "ordinary", "seedling", "weak"].iter().position(|s| p["standing"] == *s);
        let alike = |a: &Value, b: &Value| {
            ["name", "area", "setting"].iter().all(|k| a[*k] == b[*k])
        };
        let size = |p: &Value| ["specimen", "large", "medium", "small"].iter().position(|s| p["size"] == *s);
        let above = |a: &Value, b: &Value| {
            rank(a) <= rank(b) && size(a) <= size(b) && (rank(a), size(a)) != (rank(b), size(b))
        };
        for a in &list {
            for b in list.iter().filter(|b| alike(a, b) && above(a, b)) {
                let (Some(x), Some(y)) =
                    (served.get(a["id"].as_str().unwrap()), served.get(b["id"].as_str().unwrap()))
                else {
                    continue;
                };
                prop_assert!(x >= y, "{a} {x}, {b} {y}");
            }
        }
    }

    // The reasons of a group are those of its own hour, and a plant moved says what that costs.
    #[test]
    fn reasons_are_those_of_the_hour_planned(w in weather(), list in plants(), g in grower()) {
        let request = w.request(&list, g);
        let plan = round(&request).unwrap();
        let advice = advise(&request).unwrap();
        for group in plan.sittings.iter().flat_map(|s| &s.steps).flat_map(|s| &s.groups) {
            let start = time(&group.start);
            let codes: Vec<&str> = group.reasons.iter().map(|r| r.code.as_str()).collect();
            let dawn = start.to_zoned_datetime(jiff::tz::TimeZone::UTC).hour();
            if dawn >= 15 {
                for r in &group.reasons {
                    prop_assert!(!r.message.starts_with("Before dawn"), "{start}: {}", r.message);
                    prop_assert!(!r.message.starts_with("The morning is best"), "{start}: {}", r.message);
                }
            }
            for p in &group.plants {
                let best = &advice.plants.iter().find(|a| a.id == p.id).unwrap().windows[0];
                let moved = time(&best.start) >= time(&group.end) || time(&best.end) <= start;
                if moved {
                    prop_assert!(
                        codes.contains(&"moved-in-round"),
                        "{} from {start} to {}, best from {} to {}: {codes:?}",
                        p.id, group.end, best.start, best.end
                    );
                }
            }
        }
    }
}

/// Large collections are planned with bounded work: it is the result that is held here, each plant
/// once, no sitting with too much for its window unsaid.
#[test]
fn a_large_collection_is_split_or_said() {
    let w = Weather {
        mean_c: 20.0,
        swing_c: 5.0,
        mean_rh: 75.0,
        swing_rh: 15.0,
        air_m_s: 0.3,
        front_h: 99,
        front_rh: 0.0,
        month: 6,
    };
    let names = ["Cattleya labiata", "Masdevallia", "Vanda"];
    let list: Vec<Value> = (0..1000)
        .map(|i| {
            json!({
                "id": format!("P{i:04}"), "name": names[i % 3], "standing": "ordinary",
                "size": "medium", "setting": "mounted", "area": "house", "growth": "active"
            })
        })
        .collect();
    let hours = json!({"working_hours": [{"from": "04:00", "to": "09:00"}, {"from": "16:00", "to": "22:00"}]});
    let plan = round(&w.request(&list, hours.clone())).unwrap();
    assert_eq!(given(&plan).len(), 1000);
    // 1,000 plants at 20 s are 333 min of spraying alone.
    assert!(plan.minutes >= 333.0);
    for s in &plan.sittings {
        let window = time(&s.end).duration_since(time(&s.start)).as_secs_f64() / 60.0;
        let said = s.notes.iter().any(|n| n.code == "sitting-too-long");
        assert_eq!(s.minutes > window, said, "{} min in {window}", s.minutes);
    }
    // A grower who needs a minute a plant has sittings that say they are too long.
    let mut slow = hours;
    slow["seconds_per_plant"] = json!(60.0);
    let slow = round(&w.request(&list, slow)).unwrap();
    assert!(slow.minutes >= 1000.0);
    assert!(slow.sittings.iter().any(|s| s.notes.iter().any(|n| n.code == "sitting-too-long")));
}
