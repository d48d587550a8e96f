//! The safe-strength chart and the advice follow one rule: in steady air the advice never gives
//! more in one pass than the chart, and above 300 mg/L only where the chart does.
#![allow(clippy::unwrap_used, reason = "a test")]

use guardcell_advice::chart::{StrengthChartRequest, strength_chart};
use guardcell_advice::{AdviceRequest, Verdict, advise};
use jiff::{SignedDuration, Timestamp};
use serde_json::{Value, json};

fn feed() -> Value {
    json!({
        "name": "Test 13-2-13",
        "derived_from": ["potassium nitrate", "calcium nitrate", "monopotassium phosphate"],
        "guaranteed": {"n_percent": 13, "p2o5_percent": 2, "k2o_percent": 13}
    })
}

/// Steady air of a speed, as the chart has it; the hours only keep the nights apart.
fn request(rh_percent: f64, air_m_s: f64) -> AdviceRequest {
    let start: Timestamp = "2026-06-21T12:00:00Z".parse().unwrap();
    let readings: Vec<Value> = (0..=96)
        .map(|h| {
            json!({
                "time": (start + SignedDuration::from_hours(h)).to_string(),
                "temp_c": 22.0, "rh_percent": rh_percent, "air_m_s": air_m_s
            })
        })
        .collect();
    serde_json::from_value(json!({
        "site": {
            "name": "House", "latitude_deg": 40.0, "longitude_deg": 0.0, "time_zone": "Etc/UTC",
            "areas": [{"id": "house", "name": "House", "shelter": "glass"}]
        },
        "readings": readings,
        "plants": [{
            "id": "1", "name": "Cattleya labiata", "area": "house", "setting": "potted",
            "standing": "established", "size": "large", "growth": "active"
        }],
        "feed": feed(),
        "at": start.to_string(),
        "hours": 36
    }))
    .unwrap()
}

#[test]
fn the_advice_never_gives_more_than_the_chart() {
    let chart =
        strength_chart(&StrengthChartRequest::new(serde_json::from_value(feed()).unwrap(), 22.0))
            .unwrap();
    let (mut fed, mut strong) = (0, 0);
    for cell in chart.cells.iter().filter(|c| c.rh_percent % 10.0 == 0.0 || c.rh_percent == 85.0) {
        let column = chart.air.iter().find(|a| a.word == cell.air).unwrap();
        let advice = advise(&request(cell.rh_percent, column.m_s)).unwrap();
        let plant = &advice.plants[0];
        if plant.verdict != Verdict::Feed {
            continue;
        }
        fed += 1;
        let once = plant.windows.iter().filter(|w| w.passes == 1);
        let most = once.map(|w| w.feed_strength_mg_l).fold(0.0, f64::max);
        // The chart goes in steps of 25 mg/L.
        assert!(most < cell.strength_mg_l + 25.0, "{most} where the chart has {cell:?}");
        if most > 300.0 {
            strong += 1;
            assert!(cell.strength_mg_l > 300.0 && cell.rh_percent >= 80.0, "{cell:?}");
        }
    }
    assert!(fed > 10 && strong > 0, "{fed} fed, {strong} strongly: the case holds nothing");
}
