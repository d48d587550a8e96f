//! What growers do, as tests: every number here is `common practice, no source` (DESIGN §6–8),
//! entered by hand, not taken from our own output.

use guardcell::advice::{AdviceRequest, PlantAdvice, Verdict, advise, round};
use guardcell::clock::Phase;
use serde_json::{Value, json};

/// Four hourly days of steady air from noon, so that the day after every window is read too.
fn air(temp_c: f64, rh_percent: f64, air_m_s: f64) -> Vec<Value> {
    (0..=96)
        .map(|h| {
            let day = 21 + (12 + h) / 24;
            json!({
                "time": format!("2026-06-{day:02}T{:02}:00:00+01:00", (12 + h) % 24),
                "temp_c": temp_c, "rh_percent": rh_percent, "air_m_s": air_m_s
            })
        })
        .collect()
}

fn label() -> Value {
    json!({
        "name": "Fernhollow Test 13-2-13",
        "derived_from": ["potassium nitrate", "calcium nitrate", "monopotassium phosphate"],
        "guaranteed": {"n_percent": 13, "p2o5_percent": 2, "k2o_percent": 13}
    })
}

fn plant(name: &str, standing: &str, setting: &str) -> Value {
    json!({
        "id": "1", "name": name, "area": "house", "setting": setting, "standing": standing,
        "growth": "active"
    })
}

fn large(mut plant: Value) -> Value {
    plant["size"] = json!("large");
    plant
}

fn request(air: Vec<Value>, plants: Vec<Value>) -> AdviceRequest {
    let request = json!({
        "site": {
            "name": "Test house", "latitude_deg": 50.0, "longitude_deg": 0.0,
            "time_zone": "Europe/London",
            "areas": [{"id": "house", "name": "House", "shelter": "glass"}]
        },
        "readings": air,
        "plants": plants,
        "feed": label(),
        "at": "2026-06-21",
        "hours": 36
    });
    serde_json::from_value(request).unwrap()
}

fn one(air: Vec<Value>, plant: Value) -> PlantAdvice {
    advise(&request(air, vec![plant])).unwrap().plants.remove(0)
}

/// Air of a good growing house: 22 °C, 75 %, a fan.
fn ordinary() -> Vec<Value> {
    air(22.0, 75.0, 0.6)
}

fn codes(p: &PlantAdvice) -> Vec<&str> {
    p.reasons.iter().map(|r| r.code.as_str()).collect()
}

#[test]
fn strength_by_standing() {
    for (standing, most) in
        [("established", 300.0), ("ordinary", 150.0), ("seedling", 100.0), ("weak", 100.0)]
    {
        let p = one(ordinary(), plant("Cattleya labiata", standing, "mounted"));
        assert_eq!(p.verdict, Verdict::Feed, "{standing}: {:?}", p.reasons);
        assert_eq!(p.feed_strength_mg_l, Some(most), "{standing}");
    }
}

#[test]
fn six_hundred_only_in_humid_light_air_and_in_one_pass() {
    let established = || large(plant("Cattleya labiata", "established", "mounted"));
    let humid = one(air(22.0, 88.0, 0.2), established());
    assert_eq!((humid.feed_strength_mg_l, humid.passes), (Some(600.0), 1));
    assert!(codes(&humid).contains(&"humid-single-pass"));
    for (rh, speed) in [(70.0, 0.2), (85.0, 1.5), (45.0, 3.0)] {
        let p = one(air(22.0, rh, speed), established());
        assert!(p.feed_strength_mg_l.unwrap_or(0.0) <= 300.0, "{rh} % {speed} m/s");
    }
}

#[test]
fn frequency() {
    let days = |standing, setting| {
        one(ordinary(), plant("Cattleya labiata", standing, setting)).interval_days
    };
    assert_eq!(days("established", "mounted"), 1.0);
    assert_eq!(days("established", "basket"), 1.0);
    assert_eq!(days("established", "potted"), 2.0);
    assert_eq!(days("seedling", "mounted"), 2.0);
    assert_eq!(days("weak", "mounted"), 2.0);
}

#[test]
fn no_feed_without_growth() {
    let mut resting = plant("Cattleya labiata", "established", "mounted");
    resting["growth"] = json!("resting");
    let p = one(ordinary(), resting);
    assert_eq!(p.verdict, Verdict::Leave);
    assert_eq!(codes(&p)[0], "not-growing");
}

#[test]
fn a_rootless_plant_is_not_in_the_round() {
    let p = one(ordinary(), plant("Cattleya labiata", "rootless", "potted"));
    assert_eq!(p.verdict, Verdict::Leave);
    assert_eq!(codes(&p)[0], "rootless");
}

#[test]
fn cam_before_dawn_and_c3_in_the_morning() {
    let cam = one(ordinary(), plant("Cattleya labiata", "established", "mounted"));
    let c3 = one(ordinary(), plant("Masdevallia", "ordinary", "potted"));
    // Sunrise at 50° N, 0° E on 22 June 2026: 04:50 BST within minutes (any almanac).
    let (cam, c3) = (&cam.windows[0], &c3.windows[0]);
    assert!(cam.end.as_str() <= "2026-06-22T05:00:00+01:00", "{}", cam.end);
    assert!(cam.start.as_str() >= "2026-06-22T00:00:00+01:00", "{}", cam.start);
    assert_eq!(cam.phase, Phase::PhaseI);
    assert_eq!(c3.phase, Phase::DayOpen);
    assert!(c3.start.as_str() >= "2026-06-22T04:50:00+01:00", "{}", c3.start);
    assert!(c3.end.as_str() <= "2026-06-22T13:00:00+01:00", "{}", c3.end);
}

#[test]
fn fed_this_morning_waits_its_interval() {
    let mut potted = plant("Masdevallia", "ordinary", "potted");
    potted["last_fed"] = json!("2026-06-21T09:00:00+01:00");
    let p = one(ordinary(), potted);
    assert_eq!(p.verdict, Verdict::Wait);
    assert_eq!(codes(&p)[0], "fed-recently");
    assert_eq!(p.due.as_deref(), Some("2026-06-23T09:00:00+01:00"));
}

#[test]
fn nothing_in_the_cold() {
    let p = one(air(8.0, 80.0, 0.2), plant("Masdevallia", "ordinary", "potted"));
    assert_ne!(p.verdict, Verdict::Feed);
}

#[test]
fn hard_water_leaves_scale_without_any_feed() {
    let mut r = request(ordinary(), vec![plant("Cattleya labiata", "established", "mounted")]);
    r.water = Some(
        serde_json::from_value(json!({"hardness": "20 °dH", "alkalinity": "300 mg/L CaCO3"}))
            .unwrap(),
    );
    let advice = advise(&r).unwrap();
    let p = &advice.plants[0];
    assert_ne!(p.verdict, Verdict::Feed);
    assert_eq!(codes(p)[0], "scale-from-water");
    // The remedy is softer water, and it is computed.
    assert!(p.changes.iter().any(|c| c.code == "add-rain"), "{:?}", p.changes);
    assert!(advice.cautions.iter().any(|c| c.code == "scale-from-water"));
}

#[test]
fn every_answer_says_that_the_timing_is_inferred() {
    let p = one(ordinary(), plant("Cattleya labiata", "established", "mounted"));
    assert!(codes(&p).contains(&"timing-inferred"));
}

#[test]
fn drier_air_never_allows_more_and_a_higher_tolerance_never_forbids() {
    let strength = |rh: f64, tolerance: f64| {
        let plants = vec![large(plant("Cattleya labiata", "established", "mounted"))];
        let mut r = request(air(22.0, rh, 0.3), plants);
        r.site.grower.tolerance = Some(tolerance);
        let p = advise(&r).unwrap().plants.remove(0);
        p.feed_strength_mg_l.unwrap_or(0.0) * f64::from(p.passes)
    };
    let by_air: Vec<f64> = [85.0, 70.0, 55.0, 40.0, 25.0].map(|rh| strength(rh, 0.1)).into();
    assert!(by_air.windows(2).all(|w| w[0] >= w[1]), "{by_air:?}");
    let by_tolerance: Vec<f64> = [0.01, 0.05, 0.1, 0.3, 0.5].map(|t| strength(60.0, t)).into();
    assert!(by_tolerance.windows(2).all(|w| w[0] <= w[1]), "{by_tolerance:?}");
}

#[test]
fn a_round_steps_down_from_one_bucket_and_loses_nobody() {
    let mut plants: Vec<Value> = Vec::new();
    for (i, (name, standing, setting)) in [
        ("Cattleya labiata", "established", "mounted"),
        ("Phalaenopsis amabilis", "ordinary", "potted"),
        ("Vanda", "weak", "basket"),
        ("Masdevallia", "ordinary", "potted"),
        ("Dracula", "seedling", "potted"),
        ("Cattleya walkeriana", "rootless", "potted"),
    ]
    .into_iter()
    .enumerate()
    {
        let mut p = plant(name, standing, setting);
        p["id"] = json!(i.to_string());
        plants.push(p);
    }
    let plan = round(&request(ordinary(), plants)).unwrap();
    let bucket = plan.bucket.as_ref().unwrap();
    let mut served = 0;
    let mut feed_ml = 0.0;
    for s in &plan.sittings {
        let strengths: Vec<f64> = s.steps.iter().map(|x| x.feed_strength_mg_l).collect();
        assert!(strengths.windows(2).all(|w| w[0] >= w[1]), "{strengths:?}");
        for step in &s.steps {
            served += step.groups.iter().map(|g| g.plants.len()).sum::<usize>();
            feed_ml += step.fills.iter().map(|f| f.feed_ml).sum::<f64>();
            for f in &step.fills {
                let off = f.feed_strength_mg_l / step.feed_strength_mg_l - 1.0;
                assert!(off < 0.06, "{} for {}", f.feed_strength_mg_l, step.feed_strength_mg_l);
            }
        }
    }
    let alone: usize = plan.alone.iter().map(|a| a.plants.len()).sum();
    assert_eq!(served + alone, 6);
    assert!(feed_ml <= bucket.water_l * 1000.0, "the bucket holds what the fills take");
    // Meter arithmetic of the trade: the 500 scale reads half the µS/cm.
    let ec = bucket.ec25_us_cm.middle();
    assert!((bucket.meter_ppm.scale_500.middle() - 0.5 * ec).abs() < 0.5);
}

#[test]
fn the_same_request_gives_the_same_answer() {
    let r = request(ordinary(), vec![plant("Dendrobium", "ordinary", "mounted")]);
    let (a, b) = (advise(&r).unwrap(), advise(&r).unwrap());
    assert_eq!(serde_json::to_string(&a).unwrap(), serde_json::to_string(&b).unwrap());
}

#[test]
fn every_source_of_a_reason_is_a_work_or_says_what_it_is() {
    let r = request(ordinary(), vec![plant("Dendrobium", "ordinary", "mounted")]);
    let advice = advise(&r).unwrap();
    for reason in advice.plants.iter().flat_map(|p| &p.reasons).chain(&advice.cautions) {
        for key in &reason.sources {
            let words = ["common practice, no source", "from memory", "calibrated"];
            assert!(
                guardcell::reference::work(key).is_some() || words.contains(&key.as_str()),
                "{key} of {}",
                reason.code
            );
        }
    }
}

#[test]
fn the_growers_own_threshold_decides_and_is_named() {
    // Dry air, in which all of the feed turns solid.
    let dose = |grower: Value| {
        let mut r =
            request(air(25.0, 35.0, 0.6), vec![plant("Masdevallia", "established", "mounted")]);
        r.site.grower = serde_json::from_value(grower).unwrap();
        let a = advise(&r).unwrap();
        let said: Vec<String> = a
            .cautions
            .iter()
            .filter(|c| c.code == "threshold-learned")
            .map(|c| c.message.clone())
            .collect();
        (a.plants[0].feed_strength_mg_l.unwrap_or(0.0), said)
    };
    let (shipped, unsaid) = dose(json!({}));
    assert!(unsaid.is_empty());
    let keen = json!({"residue_threshold_g_m2": 0.004, "residue_threshold_log_sd": 0.2,
        "residue_threshold_looks": 23});
    let (lower, said) = dose(keen);
    assert!(lower < shipped, "{lower} {shipped}");
    assert!(said[0].contains("0.004") && said[0].contains("23 looks"), "{said:?}");
    let (higher, _) = dose(json!({"residue_threshold_g_m2": 0.5}));
    assert!(higher >= shipped, "{higher} {shipped}");
    // A surer threshold of the same height allows at least as much where little is left.
    let at =
        |sd: f64| dose(json!({"residue_threshold_g_m2": 0.08, "residue_threshold_log_sd": sd})).0;
    assert!(at(0.1) >= at(1.5), "{} {}", at(0.1), at(1.5));
}

#[test]
fn a_spread_without_its_threshold_is_refused() {
    let mut r = request(ordinary(), vec![plant("Masdevallia", "ordinary", "potted")]);
    r.site.grower.residue_threshold_log_sd = Some(0.3);
    let said = advise(&r).unwrap_err().to_string();
    assert!(said.contains("/site/grower/residue_threshold_log_sd"), "{said}");
}
