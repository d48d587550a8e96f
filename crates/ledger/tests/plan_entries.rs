//! From the plan of a round to the entries that say it was given.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test ends where it fails"
)]

use guardcell_error::{Code, Error};
use guardcell_ledger::{Entry, Event, Round, given_rounds, rounds_of_plan};
use serde_json::json;

/// A plan with this product in its bucket: one step with feed, one of plain water.
fn plan(product: &str) -> serde_json::Value {
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
    json!({"site": "Fernhollow", "from": "2026-06-20T12:00:00+01:00",
        "to": "2026-06-22T00:00:00+01:00", "alone": [], "cautions": [], "unknowns": [],
        "sources": [],
        "bucket": {"product": product, "feed_strength_mg_l": 300.0, "n_mg_l": 60.0,
            "urea_n_mg_l": 0.0, "water_l": 2.0, "ec25_us_cm": scale, "water_ec25_us_cm": 10.0,
            "meter_ppm": {"scale_500": scale, "scale_640": scale, "scale_700": scale},
            "keeps_hours": 24.0},
        "sittings": [{"start": "2026-06-21T04:00:00+01:00", "end": "2026-06-21T06:00:00+01:00",
            "part_of_day": "before-dawn", "left_over_ml": 0, "left_over_mg_l": 0,
            "steps": [step(300.0, 60.0, "A"), step(0.0, 0.0, "B")]}]})
}

fn rounds(product: &str) -> Vec<Round> {
    rounds_of_plan(&serde_json::from_value(plan(product)).unwrap(), 0)
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

/// What is recorded of the plan with these edits.
fn given(edits: serde_json::Value) -> Result<Vec<Entry>, Error> {
    let mut request = json!({"plan": plan("Mist"), "id": "p", "recorded": "2026-06-21T06:30:00Z",
        "zone": "Europe/London"});
    for (key, value) in edits.as_object().unwrap() {
        request[key] = value.clone();
    }
    given_rounds(&serde_json::from_value(request).unwrap()).map(|g| g.entries)
}

fn round(entry: &Entry) -> &Round {
    let Event::Round(round) = &entry.event else { panic!("{entry:?}") };
    round
}

#[test]
fn a_sitting_as_planned_is_recorded_at_its_start() {
    let entries = given(json!({})).unwrap();
    let ids: Vec<&str> = entries.iter().map(|e| e.id.as_str()).collect();
    assert_eq!(ids, ["p-1", "p-2"]);
    assert_eq!(entries[0].at, "2026-06-21T04:00:00+01:00");
    // London is at +01:00 in June.
    assert_eq!(entries[0].zone.as_deref(), Some("Europe/London"));
    assert_eq!(round(&entries[0]).feed_strength_mg_l, 300.0);
    // A zone that is not at +01:00 then is not claimed.
    assert_eq!(given(json!({"zone": "Atlantic/Azores"})).unwrap()[0].zone, None);
}

#[test]
fn what_was_done_differently_is_recorded() {
    let entries =
        given(json!({"left_out": ["B"], "at": "2026-06-21T05:30:00+01:00", "note": "late",
        "steps": [{"step": 0, "feed_strength_mg_l": 150, "volume_ml": 30}]}))
        .unwrap();
    let [only] = &entries[..] else { panic!("{entries:?}") };
    assert_eq!((only.at.as_str(), only.note.as_str()), ("2026-06-21T05:30:00+01:00", "late"));
    let r = round(only);
    // Half the strength: half the nitrogen of 60 mg/L and half the residue of 0.01 g/m².
    assert_eq!((r.feed_strength_mg_l, r.n_mg_l), (150.0, Some(30.0)));
    assert_eq!(r.conditions.as_ref().and_then(|c| c.residue_g_m2), Some(0.005));
    // 30 mL in place of the 20 mL planned, all on the one plant.
    assert_eq!((r.volume_ml, r.plants[0].volume_ml), (Some(30.0), Some(30.0)));
}

#[test]
fn what_the_plan_does_not_have_is_refused() {
    for (edits, code, pointer) in [
        (json!({"sitting": 1}), Code::Unknown, "/plan/sittings/1"),
        (json!({"left_out": ["A", "C"]}), Code::Unknown, "/left_out/1"),
        (json!({"left_out": ["A", "B"]}), Code::Missing, "/left_out"),
        (json!({"steps": [{"step": 2}]}), Code::Unknown, "/steps/0/step"),
        (
            json!({"steps": [{"step": 0, "feed_strength_mg_l": -1}]}),
            Code::OutOfRange,
            "/steps/0/feed_strength_mg_l",
        ),
        (json!({"at": "yesterday"}), Code::InvalidText, "/at"),
    ] {
        let error = given(edits.clone()).unwrap_err();
        assert_eq!((error.code(), error.pointer()), (code, pointer), "{edits}");
    }
}
