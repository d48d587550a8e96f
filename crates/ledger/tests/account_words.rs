//! What the account says in words, and the bounds of an entry, by hand.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test ends where it fails")]

use guardcell_advice::{PlantEntry, Setting, Standing};
use guardcell_ledger::{Draft, Entry, Ledger, LedgerRequest, ledger};
use serde_json::{Value, json};

fn draft(at: &str, event: &Value) -> Draft {
    let id = format!("{at} {}", event["kind"]).replace(['"', ':'], "");
    serde_json::from_value(json!({"id": id, "at": at, "site": "S", "event": event})).unwrap()
}

fn account(plant: PlantEntry, events: &[(&str, Value)], at: &str) -> Ledger {
    let entries: Vec<Entry> = events
        .iter()
        .map(|(when, event)| {
            draft(&format!("2026-06-{when}:00Z"), event)
                .checked("x", "2026-07-01T00:00:00Z")
                .unwrap()
        })
        .collect();
    ledger(&LedgerRequest::new(entries, at).with_plants(vec![plant])).unwrap()
}

fn potted() -> PlantEntry {
    PlantEntry::new("P", "Cattleya", "house", Setting::Potted, Standing::Established)
}

fn round(strength: f64) -> Value {
    json!({"kind": "round", "plants": [{"plant": "P", "volume_ml": 20}],
        "feed_strength_mg_l": strength, "passes": 1})
}

/// The message of the warning that rounds came too soon; none without one.
fn too_soon(books: &Ledger) -> Option<String> {
    let warnings = books.plants[0].warnings.iter();
    warnings.map(|w| w.message.clone()).find(|m| m.contains("sooner than practice"))
}

/// Practice has a pot fed once in two days (`interval_other` of practice.csv), a large mounted plant
/// once a day (`interval_established_exposed`).
#[test]
fn rounds_that_come_too_soon_are_counted_and_the_interval_is_said() {
    let every_other = [("15T06:00", round(300.0)), ("17T06:00", round(300.0))];
    assert_eq!(too_soon(&account(potted(), &every_other, "2026-06-20T06:00:00Z")), None);
    let daily = [&every_other[..], &[("18T06:00", round(300.0))]].concat();
    let said = too_soon(&account(potted(), &daily, "2026-06-20T06:00:00Z")).unwrap();
    assert!(said.starts_with("1 of 3 rounds") && said.contains("once in 2 days"), "{said}");
    assert!(said.contains("the last on 2026-06-18"), "{said}");

    let mounted =
        || PlantEntry::new("P", "Cattleya", "house", Setting::Mounted, Standing::Established);
    assert_eq!(too_soon(&account(mounted(), &daily, "2026-06-20T06:00:00Z")), None);
    let twice = [&daily[..], &[("18T20:00", round(300.0))]].concat();
    let said = too_soon(&account(mounted(), &twice, "2026-06-20T06:00:00Z")).unwrap();
    assert!(said.starts_with("1 of 4 rounds") && said.contains("once a day"), "{said}");
}

/// A pot is flushed 28 days after its first feed (`pot_flush_interval`), at the root as on the leaf;
/// plain water is no feed.
#[test]
fn the_first_feed_at_the_root_begins_the_time_to_the_flush() {
    let water = json!({"kind": "root_feed", "plants": [{"plant": "P"}], "volume_ml": 200,
        "feed_strength_mg_l": 0.0});
    let feed = json!({"kind": "root_feed", "plants": [{"plant": "P"}], "volume_ml": 200,
        "feed_strength_mg_l": 400.0});
    let due = |events: &[(&str, Value)]| {
        account(potted(), events, "2026-06-30T06:00:00Z").plants[0].flush_due.clone()
    };
    assert_eq!(due(&[("01T08:00", water.clone())]), None);
    let both = [("01T08:00", water), ("08T08:00", feed)];
    assert_eq!(due(&both).as_deref(), Some("2026-07-06"));
}

#[test]
fn the_text_has_a_line_for_each_week_and_says_what_happened_in_it() {
    let flush = json!({"kind": "flush", "plants": ["P"], "volume_ml": 1000});
    let soak = json!({"kind": "soak", "plants": ["P"], "duration_min": 30,
        "feed_strength_mg_l": 50});
    let events = [
        // 2026-06-15 is the Monday of week 25.
        ("15T06:00", round(300.0)),
        ("22T06:00", flush),
        ("23T06:00", soak.clone()),
        ("24T06:00", soak),
    ];
    let text = account(potted(), &events, "2026-06-30T06:00:00Z").to_text();
    assert!(text.starts_with("Ledger from ") && text.contains("\nP Cattleya\n"), "{text}");
    let week = |name: &str| text.lines().find(|l| l.trim().starts_with(name)).unwrap();
    // 20 mL of 300 mg/L are 6 mg, of which one part in 1.5 stays (`spray_waste` of practice.csv).
    let fed: Vec<&str> = week("2026-W25").split_whitespace().collect();
    assert_eq!(fed[1], "4", "{text}");
    for (name, flushed, soaks) in [("2026-W25", false, ""), ("2026-W26", true, "2 soaks")] {
        assert_eq!(week(name).contains("flushed"), flushed, "{text}");
        assert!(week(name).contains(soaks) && (!soaks.is_empty() || !week(name).contains("soaks")));
    }
}

/// Where nothing was given there is no scale to name.
#[test]
fn a_plant_that_got_nothing_has_no_scale() {
    let svg = account(potted(), &[], "2026-06-30T06:00:00Z").to_svg();
    assert!(svg.contains("P Cattleya") && !svg.contains("0 mg<"), "{svg}");
    let fed = account(potted(), &[("15T06:00", round(300.0))], "2026-06-30T06:00:00Z").to_svg();
    assert!(fed.contains("4 mg<"), "{fed}");
}

#[test]
fn bounds_of_an_entry_are_within() {
    let refused = |event: &Value| {
        let checked = draft("2026-06-15T06:00:00Z", event).checked("x", "2026-07-01T00:00:00Z");
        checked.err().map(|e| e.pointer().to_owned())
    };
    // All of the feed may be nitrogen; more cannot be.
    let mut all_n = round(60.0);
    all_n["n_mg_l"] = json!(60.0);
    assert_eq!(refused(&all_n), None);
    all_n["n_mg_l"] = json!(60.1);
    assert_eq!(refused(&all_n).as_deref(), Some("/event/n_mg_l"));
    // Growth measures something or has a photo.
    assert_eq!(refused(&json!({"kind": "growth", "plants": ["P"], "photo": "p.jpg"})), None);
    let nothing = refused(&json!({"kind": "growth", "plants": ["P"]}));
    assert_eq!(nothing.as_deref(), Some("/event/measure"));
    // A name has 64 characters at most.
    let named = |n: usize| refused(&json!({"kind": "wipe", "plants": ["é".repeat(n)]}));
    assert_eq!(named(64), None);
    assert_eq!(named(65).as_deref(), Some("/event/plants/0"));
}
