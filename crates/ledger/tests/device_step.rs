//! The journal of a device as data, one step after the other.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test ends where it fails"
)]

use guardcell_error::{Code, Error};
use guardcell_ledger::sync::{DeviceJournal, DeviceResponse, device_step};
use serde_json::{Value, json};

fn step(device: Option<&DeviceJournal>, change: Value) -> Result<DeviceResponse, Error> {
    let mut request = change;
    if let Some(device) = device {
        request["device"] = serde_json::to_value(device).unwrap();
    }
    device_step(&serde_json::from_value(request).unwrap())
}

fn entry(id: &str, event: Value, supersedes: Option<&str>) -> Value {
    let mut entry = json!({"id": id, "recorded": "2026-06-21T06:00:00Z",
        "at": "2026-06-21T05:10:00+01:00", "site": "Fernhollow", "event": event});
    if let Some(old) = supersedes {
        entry["supersedes"] = old.into();
    }
    entry
}

fn wipe(id: &str) -> Value {
    entry(id, json!({"kind": "wipe", "plants": ["A"]}), None)
}

fn retraction(id: &str, old: &str) -> Value {
    entry(id, json!({"kind": "retraction"}), Some(old))
}

#[test]
fn what_was_recorded_waits_until_it_is_acknowledged_and_comes_back() {
    let first = step(None, json!({"record": [wipe("a"), wipe("b")]})).unwrap();
    assert_eq!((first.waiting, first.cursor.as_str()), (2, "0"));
    assert_eq!(first.send.as_ref().unwrap().entries.len(), 2);
    let answer = json!({"answered": {"results": [
        {"id": "a", "outcome": "accepted", "sequence": 1},
        {"id": "b", "outcome": "refused", "error":
            {"code": "conflict", "title": "t", "pointer": "", "detail": "no", "hint": "change it"}}]}});
    let sent = step(Some(&first.device), answer).unwrap();
    assert_eq!((sent.waiting, sent.send.is_none()), (0, true));
    assert_eq!(sent.device.aside().len(), 1);
    let page = json!({"arrived": {"since": "0", "entries": [wipe("a"), wipe("c")],
        "cursor": "x-2", "more": false, "restarted": false}});
    let read = step(Some(&sent.device), page).unwrap();
    assert_eq!((read.cursor.as_str(), read.device.entries().len()), ("x-2", 2));
    // What was refused is dropped when the grower says so.
    let dropped = step(Some(&read.device), json!({"dropped": ["b"]})).unwrap();
    assert!(dropped.device.aside().is_empty());
}

#[test]
fn a_correction_needs_an_entry_that_nothing_corrects() {
    let device = step(None, json!({"record": [wipe("a"), retraction("b", "a")]})).unwrap().device;
    for (draft, code) in
        [(retraction("c", "a"), Code::Conflict), (retraction("c", "z"), Code::Unknown)]
    {
        let error = step(Some(&device), json!({"record": [draft]})).unwrap_err();
        assert_eq!((error.code(), error.pointer()), (code, "/record/0/supersedes"));
    }
    // The same once more changes nothing.
    let again = step(Some(&device), json!({"record": [retraction("b", "a")]})).unwrap();
    assert_eq!(again.device, device);
}

#[test]
fn what_cannot_be_right_is_set_aside_and_the_rest_goes_on() {
    let device = step(None, json!({"record": [wipe("a"), wipe("b")]})).unwrap().device;
    let mut kept = serde_json::to_value(&device).unwrap();
    kept["held"]["a"]["entry"]["zone"] = json!("");
    let request = serde_json::from_value(json!({"device": kept})).unwrap();
    let mended = device_step(&request).unwrap();
    let pointers = |device: &DeviceJournal| {
        device.aside().iter().map(|a| a.error.pointer().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(pointers(&mended.device), ["/zone"]);
    assert_eq!((mended.waiting, mended.send.unwrap().entries.len()), (1, 1), "b is sent");
    let mut page = json!({"arrived": {"since": "0", "entries": [wipe("c"), wipe("d")],
        "cursor": "x-1", "more": false, "restarted": false}});
    page["arrived"]["entries"][0]["at"] = json!("yesterday");
    let read = step(Some(&mended.device), page.clone()).unwrap();
    assert_eq!(pointers(&read.device), ["/zone", "/at"]);
    assert_eq!((read.cursor.as_str(), read.device.entries().len()), ("x-1", 2));
    // The same page once more changes nothing.
    assert_eq!(step(Some(&read.device), page).unwrap().device, read.device);
    // What the server's journal says about it is taken.
    let again = json!({"arrived": {"since": "x-1", "entries": [wipe("a")], "cursor": "x-2",
        "more": false, "restarted": false}});
    assert_eq!(step(Some(&read.device), again).unwrap().device.entries().len(), 3);
}

#[test]
fn a_draft_that_cannot_be_right_records_nothing() {
    let bad = entry(
        "b",
        json!({"kind": "soak", "plants": ["A"], "feed_strength_mg_l": -1,
        "duration_min": 20}),
        None,
    );
    let error = step(None, json!({"record": [wipe("a"), bad]})).unwrap_err();
    assert_eq!(error.pointer(), "/record/1/event/feed_strength_mg_l");
    let mut nameless = wipe("a");
    nameless.as_object_mut().unwrap().remove("id");
    let error = step(None, json!({"record": [nameless]})).unwrap_err();
    assert_eq!((error.code(), error.pointer()), (Code::Missing, "/record/0/id"));
}
