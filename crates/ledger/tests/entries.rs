//! From plain entries to the next strength: what each look is about, which entries stand, and
//! that every order of the same entries leads to the same number.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test ends where it fails")]

use guardcell_advice::AdviceRequest;
use guardcell_ledger::{
    Changed, Entry, Finding, NextStrength, ReviewRequest, StrengthReason, ThresholdResponse,
    add_entries, review, threshold_of_entries,
};
use jiff::ToSpan as _;
use jiff::civil::{Date, date};
use proptest::prelude::*;
use serde_json::{Value, json};

/// Every third day of the year from 1 January on.
fn day(n: usize) -> Date {
    date(2026, 1, 1).saturating_add((3 * i64::try_from(n).unwrap()).days())
}

fn entry(id: &str, at: String, event: Value, more: Value) -> Entry {
    let mut entry =
        json!({"id": id, "recorded": at, "at": at, "site": "Fernhollow", "event": event});
    entry.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    serde_json::from_value(entry).unwrap()
}

/// A round in the morning at this strength; the model gives 0.0161 g/m² at 300 mg/L.
fn round(n: usize, strength: f64, product: &str) -> Entry {
    let event = json!({"kind": "round", "plants": [{"plant": "P"}, {"plant": "Q"}],
        "feed_strength_mg_l": strength, "product": product,
        "conditions": {"residue_g_m2": 0.0161 / 300.0 * strength}});
    entry(&format!("r{n}"), format!("{}T06:00:00Z", day(n)), event, json!({}))
}

/// A look in the evening of the same day.
fn look(n: usize, level: &str, more: Value) -> Entry {
    let mut event = json!({"kind": "residue", "plants": ["P"], "level": level});
    event.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    entry(&format!("l{n}"), format!("{}T18:00:00Z", day(n)), event, json!({}))
}

/// Rounds at 300 mg/L with a look after each.
fn looks(levels: &[&str]) -> Vec<Entry> {
    let each = |(n, level): (usize, &&str)| [round(n, 300.0, "Mist"), look(n, level, json!({}))];
    levels.iter().enumerate().flat_map(each).collect()
}

fn asked(entries: &[Entry]) -> ReviewRequest {
    asked_at(entries, "2026-12-01T12:00:00Z")
}

fn asked_at(entries: &[Entry], at: &str) -> ReviewRequest {
    ReviewRequest::new(entries.to_vec(), at)
}

/// What the entries teach, asked for in the evening of the last of them.
fn site(entries: &[Entry]) -> ThresholdResponse {
    let last = entries.iter().map(|e| e.at.clone()).max().unwrap();
    let request = asked_at(entries, &last.replace("T18", "T20"));
    threshold_of_entries(&request, None, None, false).unwrap()
}

fn next(entries: &[Entry]) -> NextStrength {
    site(entries).next.unwrap()
}

fn proposed(entries: &[Entry]) -> f64 {
    next(entries).proposed_mg_l.unwrap_or(0.0)
}

// The rule of practice: at the first white at most half, and again at the next.
#[test]
fn white_halves_and_another_white_halves_again() {
    let mut levels = vec!["none"; 8];
    assert_eq!(proposed(&looks(&levels)), 300.0);
    levels.extend(["clear"; 3]);
    let mut entries = looks(&levels);
    let after = next(&entries);
    assert!(after.proposed_mg_l.unwrap() <= 150.0, "{after:?}");
    assert_eq!(after.guard.unwrap().white_at_mg_l, 300.0);
    // Followed: at 150, and white again.
    entries.extend([round(11, 150.0, "Mist"), look(11, "faint", json!({}))]);
    let again = next(&entries);
    assert!(again.proposed_mg_l.unwrap_or(0.0) <= 75.0, "{again:?}");
}

/// Fifteen white looks in a row with another product, after thirty clean ones.
#[test]
fn fifteen_white_looks_with_another_product_change_something() {
    let mut entries = looks(&["none"; 30]);
    assert_eq!(proposed(&entries), 300.0);
    for n in 30..45 {
        entries.extend([round(n, 300.0, "Other"), look(n, "clear", json!({}))]);
    }
    let answer = site(&entries);
    let next = answer.next.unwrap();
    // The simulation study of this design has 65 mg/L after three.
    assert!(next.allowed_mg_l.unwrap_or(0.0) <= 65.0, "{next:?}");
    assert_eq!(answer.changes.len(), 1);
    assert_eq!(
        (answer.changes[0].what, answer.changes[0].to.as_str()),
        (Changed::Product, "Other")
    );
    assert_eq!(answer.changes[0].day, day(30).to_string());
}

#[test]
fn water_wetting_agent_and_sprayer_are_changes_too() {
    for (field, what) in [
        ("water", Changed::Water),
        ("wetting_agent", Changed::WettingAgent),
        ("sprayer", Changed::Sprayer),
    ] {
        let mut entries = looks(&["none"; 6]);
        for e in entries.iter_mut().filter(|e| e.id.starts_with('r')) {
            let mut event = serde_json::to_value(&e.event).unwrap();
            event[field] = json!(if e.id.as_str() < "r3" { "old" } else { "new" });
            e.event = serde_json::from_value(event).unwrap();
        }
        let answer = site(&entries);
        let found: Vec<_> = answer.changes.iter().map(|c| (c.what, c.to.as_str())).collect();
        assert_eq!(found, [(what, "new")]);
    }
}

#[test]
fn white_on_leaves_that_were_not_wiped_is_white_since_the_last_wipe() {
    // White at 300; the grower goes down to 150 and looks without having wiped.
    let start = [round(0, 300.0, "Mist"), look(0, "clear", json!({"wiped": true}))];
    let second = |wiped: Value| {
        let more = [round(1, 150.0, "Mist"), look(1, "clear", json!({"wiped": wiped}))];
        start.iter().cloned().chain(more).collect::<Vec<_>>()
    };
    // It may be the white of 300: no further halving. After wiping it is that of 150.
    let old = next(&second(json!(false)));
    assert_eq!(old.guard.unwrap().ceiling_mg_l, 150.0);
    for wiped in [json!(true), Value::Null] {
        assert_eq!(next(&second(wiped)).guard.unwrap().ceiling_mg_l, 75.0);
    }
    // Once wiped before the round of a look, what was before does not count.
    let mut later = second(json!(true));
    later.extend([round(2, 75.0, "Mist"), look(2, "clear", json!({"wiped": false}))]);
    let guard = next(&later).guard.unwrap();
    assert_eq!((guard.white_at_mg_l, guard.ceiling_mg_l), (150.0, 75.0));
    // The residue and the strength are those of the heaviest round since, and no look is lost.
    for (entries, since) in
        [(later, [300.0, 150.0, 150.0].as_slice()), (second(json!(false)), &[300.0; 2])]
    {
        let answer = site(&entries);
        assert!(answer.not_used.is_empty(), "{:?}", answer.not_used);
        assert_eq!(answer.evidence.len(), since.len());
        for (e, strength) in answer.evidence.iter().zip(since) {
            assert_eq!(e.observation.feed_strength_mg_l, Some(*strength));
            assert_eq!(e.observation.feed_g_m2, Some(0.0161 / 300.0 * strength));
        }
    }
}

#[test]
fn corrected_retracted_and_late_entries_are_as_if_written_right_at_once() {
    let clean = looks(&["none"; 6]);
    let right = serde_json::to_value(site(&clean)).unwrap();
    // A white that was a mistake, taken back later.
    let mut entries = looks(&["none", "none", "heavy", "none", "none", "none"]);
    // Half of 300, and one step of 1.4 after three clean looks.
    assert!(proposed(&entries) <= 210.0);
    let mistake = entries.iter_mut().find(|e| e.id == "l2").unwrap();
    mistake.id = "wrong".into();
    let at = mistake.at.clone();
    let with =
        |event: Value, id: &str| entry(id, at.clone(), event, json!({"supersedes": "wrong"}));
    let fix = json!({"kind": "residue", "plants": ["P"], "level": "none"});
    entries.push(with(fix, "l2"));
    assert_eq!(serde_json::to_value(site(&entries)).unwrap()["next"], right["next"]);
    // Taken back altogether: as if nobody had looked.
    let last = entries.pop().unwrap();
    entries.push(with(json!({"kind": "retraction"}), "gone"));
    let without: Vec<Entry> = clean.iter().filter(|e| e.id != "l2").cloned().collect();
    assert_eq!(site(&entries).next, site(&without).next);
    drop(last);
    // Given in any order.
    let mut turned = clean;
    turned.reverse();
    turned.swap(0, 5);
    assert_eq!(site(&turned).next.map(|n| n.proposed_mg_l), Some(Some(300.0)));
}

#[test]
fn entries_after_the_moment_do_not_count() {
    let mut entries = looks(&["none"; 8]);
    entries.extend([round(8, 300.0, "Mist"), look(8, "clear", json!({}))]);
    let request = asked_at(&entries, &format!("{}T12:00:00Z", day(8)));
    let before = threshold_of_entries(&request, None, None, false).unwrap();
    assert_eq!(before.next.unwrap().proposed_mg_l, Some(300.0));
}

fn plants() -> Value {
    json!([
        {"id": "P", "name": "Phalaenopsis", "area": "house", "setting": "mounted",
         "standing": "established"},
        {"id": "Q", "name": "Phalaenopsis", "area": "house", "setting": "mounted",
         "standing": "weak"}
    ])
}

fn advice(at: &str) -> AdviceRequest {
    serde_json::from_value(json!({
        "site": {"name": "Fernhollow", "latitude_deg": 38.5, "longitude_deg": -28.5,
            "time_zone": "Etc/UTC", "areas": []},
        "readings": [], "plants": plants(), "at": at
    }))
    .unwrap()
}

/// The review of a plant and the request for advice hold the same number.
#[test]
fn review_and_advice_hold_the_same_number() {
    let mut entries = looks(&["none", "none", "none", "clear"]);
    let at = format!("{}T20:00:00Z", day(3));
    let mut request = advice(&at);
    let known = add_entries(&mut request, &entries, None).unwrap().unwrap();
    let site = known.threshold.next.unwrap();
    assert_eq!((site.proposed_mg_l, site.reason), (Some(150.0), StrengthReason::Guard));
    assert_eq!(request.site.grower.next_strength_mg_l, Some(150.0));
    assert_eq!(request.site.grower.next_strength_after_white_at_mg_l, Some(300.0));
    let answer =
        review(&asked_at(&entries, &at).with_plants(serde_json::from_value(plants()).unwrap()))
            .unwrap();
    let of = |i: usize| answer.plants[i].next.clone().unwrap();
    assert_eq!(of(0).proposed_mg_l, Some(150.0));
    assert_eq!(answer.plants[0].finding, Finding::TooStrong);
    // A weak plant gets no more than 100 anyhow (common practice, no source).
    assert_eq!((of(1).proposed_mg_l, of(1).reason), (Some(100.0), StrengthReason::Cap));
    // Nobody looked: nothing is held to anything.
    entries.retain(|e| e.id.starts_with('r'));
    let mut request = advice(&at);
    add_entries(&mut request, &entries, None).unwrap();
    assert_eq!(request.site.grower.next_strength_mg_l, None);
    assert!(request.plants[0].last_fed.is_some());
}

/// A start is read as the advice reads it: with an offset, without one, or as a date.
#[test]
fn entries_are_used_whatever_the_form_of_the_start() {
    let entries = looks(&["none", "none", "none", "clear"]);
    for at in [format!("{}T20:00:00Z", day(3)), format!("{}T20:00", day(3)), day(4).to_string()] {
        let mut request = advice(&at);
        assert!(add_entries(&mut request, &entries, None).unwrap().is_some(), "{at}");
        assert_eq!(request.site.grower.next_strength_mg_l, Some(150.0), "{at}");
    }
    assert!(add_entries(&mut advice("tomorrow"), &entries, None).unwrap().is_none());
}

/// A group with looks enough has a strength of its own, for its plants alone.
#[test]
fn a_group_with_eight_looks_has_its_own_strength() {
    let mut entries = looks(&["none"; 9]);
    for (n, e) in entries.iter_mut().filter(|e| e.id.starts_with('l')).enumerate() {
        let level = if n == 8 { "clear" } else { "none" };
        *e = look(n, level, json!({"group": "dark"}));
    }
    for n in 0..9 {
        let event = json!({"kind": "residue", "plants": ["Q"], "group": "pale", "level": "none"});
        entries.push(entry(&format!("q{n}"), format!("{}T18:30:00Z", day(n)), event, json!({})));
    }
    let mut request = advice(&format!("{}T20:00:00Z", day(8)));
    let known = add_entries(&mut request, &entries, None).unwrap().unwrap();
    assert_eq!(known.groups.len(), 2);
    let own = &request.site.grower.next_strengths;
    let of = |plant: &str| own.iter().find(|g| g.plants == [plant]).unwrap().next_strength_mg_l;
    assert_eq!(of("P"), Some(150.0));
    assert_eq!(of("Q"), None);
    let few = add_entries(&mut request, &entries, Some("striped")).unwrap_err();
    assert_eq!(few.pointer(), "/group");
}

/// A grower who states that only white is logged: rounds without a look count half, and it is said.
#[test]
fn silence_counts_half_and_is_said() {
    let mut entries = looks(&["clear"]);
    entries.extend((1..7).map(|n| round(n, 150.0, "Mist")));
    let at = format!("{}T20:00:00Z", day(6));
    let ask = |logs_only_white| {
        let request = asked_at(&entries, &at).with_logs_only_white(logs_only_white);
        threshold_of_entries(&request, None, None, false).unwrap()
    };
    let (silent, plain) = (ask(true), ask(false));
    assert_eq!((silent.counted_as_clean, plain.counted_as_clean), (6, 0));
    // Six halves are three clean looks: one step of 1.4 up from 150.
    assert_eq!(silent.next.as_ref().unwrap().guard.as_ref().unwrap().ceiling_mg_l, 210.0);
    assert_eq!(plain.next.unwrap().guard.unwrap().ceiling_mg_l, 150.0);
    assert!(silent.to_text().contains("6 rounds without a look count as half a clean look"));
}

#[test]
fn faults_are_named_with_their_place() {
    let mut bad = looks(&["none"]);
    bad[1].at = "noon".into();
    let e = review(&asked(&bad)).unwrap_err();
    assert_eq!(e.pointer(), "/entries/1/at");
    let e = review(&asked(&[]).with_only(vec!["X".into()])).unwrap_err();
    assert_eq!(e.pointer(), "/only/0");
    let e = review(&asked(&[]).with_tolerance(0.9)).unwrap_err();
    assert_eq!(e.pointer(), "/tolerance");
}

fn level() -> impl Strategy<Value = usize> {
    prop_oneof![3 => Just(0_usize), 1 => 1_usize..4]
}

const LEVELS: [&str; 4] = ["none", "faint", "clear", "heavy"];

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    /// A look made heavier never raises the strength, whatever was wiped, fed and changed; and the
    /// order in which entries are given is nothing.
    #[test]
    fn heavier_never_means_more(
        rounds in proptest::collection::vec((level(), 0_usize..3, 0_usize..3, any::<bool>()), 2..14),
        which in any::<prop::sample::Index>(),
        turn in any::<prop::sample::Index>(),
    ) {
        let wiped = [Value::Null, json!(true), json!(false)];
        let make = |levels: &[usize]| -> Vec<Entry> {
            let mut out = Vec::new();
            for (n, (_, strength, w, other)) in rounds.iter().enumerate() {
                let product = if *other { "Other" } else { "Mist" };
                out.push(round(n, [300.0, 150.0, 75.0][*strength], product));
                out.push(look(n, LEVELS[levels[n]], json!({"wiped": wiped[*w]})));
            }
            out
        };
        let levels: Vec<usize> = rounds.iter().map(|r| r.0).collect();
        let entries = make(&levels);
        let before = proposed(&entries);
        let i = which.index(levels.len());
        for heavier in levels[i] + 1..4 {
            let mut worse = levels.clone();
            worse[i] = heavier;
            prop_assert!(proposed(&make(&worse)) <= before);
        }
        let mut turned = entries;
        let by = turn.index(turned.len());
        turned.rotate_left(by);
        prop_assert_eq!(proposed(&turned), before);
    }
}
