//! From the plan of a round to the entries that say it was given.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test ends where it fails"
)]

use guardcell_ledger::{Event, Round, rounds_of_plan};
use serde_json::json;

/// The rounds of a plan with this product in its bucket: one step with feed, one of plain water.
fn rounds(product: &str) -> Vec<Round> {
    let group = |id: &str| {
        json!({"group": "mounted", "area": "house",
            "plants": [{"id": id, "name": "Laelia", "spray_ml": 20.0}], "verdict": "feed",
            "start": "2026-06-21T04:00:00+01:00", "end": "2026-06-21T06:00:00+01:00",
            "residue_probability": 0.05, "dry_minutes": 40, "driest_rh_percent": 60,
            "modelled": {"feed_g_m2": 0.01, "scale_g_m2": 0.0, "temp_c": 21.0,
                "rh_percent": 60.0},
            "driest_at": "2026-06-21T14:00:00+01:00", "reasons": []})
    };
    let step = |strength: f64, n: f64, id: &str| {
        json!({"feed_strength_mg_l": strength, "n_mg_l": n, "ec25_us_cm": {"low": 1, "high": 2},
            "passes": 2, "spray_ml": 20.0, "fills": [], "groups": [group(id)]})
    };
    let scale = json!({"low": 1, "high": 2});
    let plan = json!({"site": "Fernhollow", "from": "2026-06-20T12:00:00+01:00",
        "to": "2026-06-22T00:00:00+01:00", "alone": [], "cautions": [], "unknowns": [],
        "sources": [],
        "bucket": {"product": product, "feed_strength_mg_l": 300.0, "n_mg_l": 60.0,
            "urea_n_mg_l": 0.0, "water_l": 2.0, "ec25_us_cm": scale, "water_ec25_us_cm": 10.0,
            "meter_ppm": {"scale_500": scale, "scale_640": scale, "scale_700": scale},
            "keeps_hours": 24.0},
        "sittings": [{"start": "2026-06-21T04:00:00+01:00", "end": "2026-06-21T06:00:00+01:00",
            "part_of_day": "before-dawn", "left_over_ml": 0, "left_over_mg_l": 0,
            "steps": [step(300.0, 60.0, "A"), step(0.0, 0.0, "B")]}]});
    rounds_of_plan(&serde_json::from_value(plan).unwrap(), 0)
        .unwrap()
        .into_iter()
        .map(|d| match d.event {
            Event::Round(round) => round,
            other => panic!("{other:?}"),
        })
        .collect()
}

#[test]
fn only_a_round_with_feed_names_the_product_and_its_nitrogen() {
    let given = rounds(" Mist 15-5-15 ");
    let [fed, plain] = &given[..] else { panic!("{given:?}") };
    assert_eq!((fed.feed_strength_mg_l, plain.feed_strength_mg_l), (300.0, 0.0));
    assert_eq!((fed.product.as_deref(), plain.product.as_deref()), (Some("Mist 15-5-15"), None));
    assert_eq!((fed.n_mg_l, plain.n_mg_l), (Some(60.0), None));
    // A product that no entry can name (a semicolon, more than 64 characters) is left out.
    for name in ["Mist; the old one", &"M".repeat(65)] {
        assert!(rounds(name).iter().all(|r| r.product.is_none()), "{name}");
    }
}
