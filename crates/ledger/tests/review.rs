//! From entries to what is said of each plant, and to what the advice is asked with.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test ends where it fails")]

use guardcell_advice::AdviceRequest;
use guardcell_ledger::{
    Entry, Finding, LedgerRequest, ReviewRequest, ReviewResponse, ThresholdResponse, add_entries,
    ledger, review, threshold_of_entries,
};
use jiff::ToSpan as _;
use jiff::civil::date;
use serde_json::{Value, json};

/// Every third day from 1 January on.
fn day(n: usize) -> String {
    date(2026, 1, 1).saturating_add((3 * i64::try_from(n).unwrap()).days()).to_string()
}

fn entry(id: &str, at: &str, event: Value) -> Entry {
    let entry = json!({"id": id, "recorded": at, "at": at, "site": "Fernhollow", "event": event});
    serde_json::from_value(entry).unwrap()
}

/// A round in the morning that leaves so much for each mg/L; 0.0161 g/m² at 300 mg/L in damp air.
fn round_on(plant: &str, n: usize, strength: f64, g_m2_per_mg_l: f64) -> Entry {
    let event = json!({"kind": "round", "plants": [{"plant": plant}],
        "feed_strength_mg_l": strength,
        "conditions": {"residue_g_m2": g_m2_per_mg_l * strength}});
    entry(&format!("r{plant}{n}"), &format!("{}T06:00:00Z", day(n)), event)
}

fn round(n: usize, strength: f64) -> Entry {
    round_on("P", n, strength, 0.0161 / 300.0)
}

fn look(n: usize, level: &str) -> Entry {
    let event = json!({"kind": "residue", "plants": ["P"], "level": level});
    entry(&format!("l{n}"), &format!("{}T18:00:00Z", day(n)), event)
}

/// Rounds with a look after each.
fn looked(rounds: &[(f64, &str)]) -> Vec<Entry> {
    rounds
        .iter()
        .enumerate()
        .flat_map(|(n, (strength, level))| [round(n, *strength), look(n, level)])
        .collect()
}

fn collection() -> Value {
    json!([{"id": "P", "name": "Phalaenopsis", "area": "house", "setting": "potted",
        "standing": "established", "pot_l": 0.5}])
}

fn request(entries: &[Entry]) -> ReviewRequest {
    let last = entries.iter().map(|e| e.at.get(..10).unwrap()).max().unwrap();
    ReviewRequest::new(entries.to_vec(), format!("{last}T20:00:00Z"))
        .with_plants(serde_json::from_value(collection()).unwrap())
}

fn reviewed(entries: &[Entry]) -> ReviewResponse {
    review(&request(entries)).unwrap()
}

fn learned(entries: &[Entry], group: Option<&str>, influence: bool) -> ThresholdResponse {
    threshold_of_entries(&request(entries), group, None, influence).unwrap()
}

fn advice(entries: &[Entry], grower: &Value) -> AdviceRequest {
    serde_json::from_value(json!({
        "site": {"name": "Fernhollow", "latitude_deg": 38.5, "longitude_deg": -28.5,
            "time_zone": "Etc/UTC", "areas": [], "grower": grower},
        "readings": [], "plants": collection(), "at": request(entries).at
    }))
    .unwrap()
}

#[test]
fn a_strength_is_too_high_right_or_has_room() {
    // Fed at 100 and always clean, where the reports and practice allow much more.
    let answer = reviewed(&looked(&[(100.0, "none"); 10]));
    let (plant, proposed) = (&answer.plants[0], answer.plants[0].next.as_ref().unwrap());
    assert_eq!(plant.usual.map(|u| (u.rounds, u.feed_strength_mg_l)), Some((10, 100.0)));
    let more = proposed.proposed_mg_l.unwrap();
    assert!(more > 110.0, "{proposed:?}");
    assert_eq!(plant.finding, Finding::RoomForMore);
    assert!(plant.change[0].starts_with(&format!("The strength may go up to {more} mg/L")));

    // White at 300 and at all that half of it came to: half of the last 35 is less than the 25
    // that is worth giving (data/practice.csv).
    let whites = [(300.0, "clear"), (150.0, "clear"), (75.0, "clear"), (35.0, "clear")];
    let plant = &reviewed(&looked(&whites)).plants[0];
    assert_eq!(plant.next.as_ref().unwrap().proposed_mg_l, None);
    assert_eq!(plant.finding, Finding::TooStrong);
    assert_eq!(plant.change[0], "Plain water instead of feed.");

    // White once: half of 300.
    let plant = &reviewed(&looked(&[(300.0, "none"), (300.0, "none"), (300.0, "faint")])).plants[0];
    assert_eq!(plant.finding, Finding::TooStrong);
    assert_eq!(plant.change[0], "Feed at 150 mg/L instead.");

    // Nobody looked: nothing to propose from.
    let rounds: Vec<Entry> = (0..5).map(|n| round(n, 300.0)).collect();
    let answer = reviewed(&rounds);
    assert!(answer.site.next.is_none() && answer.plants[0].next.is_none());
    assert_eq!(answer.plants[0].finding, Finding::NotKnown);
    assert!(answer.plants[0].strength_says[1].starts_with("Nobody has looked for white yet"));
    let mut asked = advice(&rounds, &json!({}));
    let known = add_entries(&mut asked, &rounds, None).unwrap().unwrap();
    assert!(known.threshold.next.is_none());
    assert_eq!(asked.site.grower.next_strength_mg_l, None);
}

#[test]
fn what_the_grower_accepts_is_what_is_learned_with() {
    let entries = looked(&[(300.0, "none"); 4]);
    let proposed: Vec<f64> = [0.02, 0.1, 0.4]
        .iter()
        .map(|tolerance| {
            let mut asked = advice(&entries, &json!({"tolerance": tolerance}));
            let known = add_entries(&mut asked, &entries, None).unwrap().unwrap();
            let next = known.threshold.next.unwrap();
            assert_eq!(next.tolerance, *tolerance);
            let own = review(&request(&entries).with_tolerance(*tolerance)).unwrap();
            assert_eq!(own.site.next.as_ref(), Some(&next));
            next.proposed_mg_l.unwrap_or(0.0)
        })
        .collect();
    // Who accepts more is proposed no less, and between these more.
    assert!(proposed.windows(2).all(|w| w[0] <= w[1]) && proposed[0] < proposed[2], "{proposed:?}");
}

#[test]
fn silence_counts_where_the_grower_states_that_only_white_is_logged() {
    let mut entries = looked(&[(300.0, "clear")]);
    entries.extend((1..7).map(|n| round(n, 150.0)));
    // Six halves are three clean looks: one step of 1.4 up from half of 300 (data/journal.csv).
    for (states, clean, ceiling) in [(true, 6, 210.0), (false, 0, 150.0)] {
        let answer = review(&request(&entries).with_logs_only_white(states)).unwrap();
        let mut asked = advice(&entries, &json!({"logs_only_white": states}));
        let known = add_entries(&mut asked, &entries, None).unwrap().unwrap();
        for learned in [answer.site, known.threshold] {
            assert_eq!(learned.counted_as_clean, clean);
            assert_eq!(learned.next.unwrap().guard.unwrap().ceiling_mg_l, ceiling);
        }
    }
}

#[test]
fn each_look_pulls_to_its_side_and_is_said_where_asked_for() {
    let levels = ["none", "none", "clear", "none"];
    let entries = looked(&levels.map(|level| (300.0, level)));
    let answer = learned(&entries, None, true);
    assert_eq!(answer.evidence.len(), levels.len());
    for (e, level) in answer.evidence.iter().zip(levels) {
        let pull = e.influence.unwrap().pull_percent;
        assert!(if level == "none" { pull > 0.0 } else { pull < 0.0 }, "{level}: {pull}");
    }
    assert!(learned(&entries, None, false).evidence.iter().all(|e| e.influence.is_none()));
}

#[test]
fn the_usual_days_of_a_group_are_those_of_its_plants() {
    // Plant P hangs where three times as much stays as on Q. Eight rounds on P, nine on Q.
    let mut entries = Vec::new();
    let slope = 0.0161 / 300.0;
    for (plant, group, rounds, slope) in [("P", "dry", 8, 3.0 * slope), ("Q", "damp", 9, slope)] {
        for n in 0..rounds {
            entries.push(round_on(plant, n, 100.0, slope));
            let event = json!({"kind": "residue", "plants": [plant], "group": group,
                "level": "none"});
            let at = format!("{}T18:00:00Z", day(n));
            entries.push(entry(&format!("l{plant}{n}"), &at, event));
        }
    }
    let next = |group| learned(&entries, group, false).next.unwrap();
    let (dry, damp) = (next(Some("dry")), next(Some("damp")));
    assert_eq!((dry.usual_days, damp.usual_days), (8, 9));
    // At one strength three times the residue is seen more often.
    let least = |n: &guardcell_ledger::NextStrength| n.probability_least_useful.unwrap();
    assert!(least(&dry) > least(&damp), "{dry:?} {damp:?}");
    // All rounds of the last ten days (usual_rounds of data/journal.csv): on nine days both.
    assert_eq!(next(None).usual_days, 17);
    // A group whose plants had no round: those of the site stand for it.
    let event = |n: usize| json!({"kind": "residue", "plants": ["S"], "group": "new", "level": "none", "round": format!("rQ{n}")});
    for n in 0..8 {
        entries.push(entry(&format!("s{n}"), &format!("{}T19:00:00Z", day(n)), event(n)));
    }
    assert_eq!(learned(&entries, Some("new"), false).next.unwrap().usual_days, 17);
}

/// A pot of 0.5 L bears 175 mg a week (350 mg a litre, data/practice.csv): 500 mL of 350 mg/L are
/// just that, 501 mL are over it.
#[test]
fn the_ceiling_of_a_pot_may_be_reached_and_not_passed() {
    for (ml, over) in [(500.0, false), (501.0, true)] {
        let event = json!({"kind": "root_feed", "feed_strength_mg_l": 350,
            "plants": [{"plant": "P", "volume_ml": ml}]});
        let entries = [entry("f", &format!("{}T08:00:00Z", day(0)), event)];
        let at = request(&entries).at;
        let plants = serde_json::from_value(collection()).unwrap();
        let book = ledger(&LedgerRequest::new(entries.to_vec(), at).with_plants(plants)).unwrap();
        let week = &book.plants[0].weeks[0];
        assert_eq!((week.total_mg(), week.ceiling_mg), (ml * 0.35, Some(175.0)));
        assert_eq!(book.plants[0].warnings.iter().any(|w| w.code == "weekly-ceiling"), over);
        let change = &reviewed(&entries).plants[0].change;
        assert_eq!(change.iter().any(|c| c.starts_with("No more feed this week")), over);
        let mut asked = advice(&entries, &json!({}));
        let known = add_entries(&mut asked, &entries, None).unwrap().unwrap();
        assert_eq!(known.over_ceiling.len(), usize::from(over));
        // Over four weeks a quarter of it each week.
        assert_eq!(asked.plants[0].root_feed_mg_week, Some(ml * 0.35 / 4.0));
    }
}
