//! What a device sends, what it makes of answers and pages.
#![allow(clippy::unwrap_used, missing_docs, reason = "a test")]

use guardcell_error::{Code, Error};
use guardcell_ledger::sync::{
    DeviceJournal, EntriesPage, EntriesTaken, HeldState, MOST_PLANTS_SENT, MOST_SENT, Taken,
};
use guardcell_ledger::{Draft, Entry};

fn entry(id: &str, supersedes: Option<&str>, plants: usize) -> Entry {
    let plants: Vec<String> = (0..plants).map(|i| format!("F{i}")).collect();
    let draft: Draft = serde_json::from_value(serde_json::json!({
        "id": id, "at": "2026-06-21T05:10:00+01:00", "site": "Fernhollow",
        "supersedes": supersedes, "event": { "kind": "wipe", "plants": plants },
    }))
    .unwrap();
    draft.checked(id, "2026-06-21T04:11:00Z").unwrap()
}

fn one(id: &str) -> Entry {
    entry(id, None, 1)
}

fn page(since: &str, entries: Vec<Entry>, cursor: &str, more: bool) -> EntriesPage {
    let (since, cursor) = (since.to_owned(), cursor.to_owned());
    EntriesPage { since, entries, cursor, more, restarted: false }
}

fn answer(results: Vec<Taken>) -> EntriesTaken {
    EntriesTaken { results }
}

fn refused(id: &str, code: Code) -> Taken {
    Taken::refused(Some(id.to_owned()), Error::new(code, "no", "").at("/supersedes"))
}

fn sent(device: &DeviceJournal) -> Vec<String> {
    let list = device.to_send().map_or_else(Vec::new, |s| s.entries);
    list.into_iter().map(|e| e.id.unwrap()).collect()
}

fn state(device: &DeviceJournal, id: &str) -> Option<HeldState> {
    device.get(id).map(|h| h.state)
}

#[test]
fn it_sends_in_the_order_of_recording_within_bounds() {
    let mut device = DeviceJournal::default();
    for i in (0..MOST_SENT + 7).rev() {
        device.record(one(&format!("e{i}"))).unwrap();
    }
    assert_eq!(sent(&device).len(), MOST_SENT);
    assert_eq!(sent(&device)[0], format!("e{}", MOST_SENT + 6));
    let all = sent(&device).into_iter().map(|id| Taken::kept(id, 1, false)).collect();
    device.answered(&answer(all));
    assert_eq!(sent(&device).len(), 7);
    assert_eq!(device.waiting(), 7);

    let mut device = DeviceJournal::default();
    for i in 0..20 {
        device.record(entry(&format!("e{i}"), None, 9_000)).unwrap();
    }
    let first = device.to_send().unwrap();
    let plants: usize = first.entries.iter().map(|e| e.event.plants().len()).sum();
    assert!(plants <= MOST_PLANTS_SENT && !first.entries.is_empty(), "{plants}");
    // It stays below the body that a server takes, 4 MiB.
    assert!(serde_json::to_vec(&first).unwrap().len() < 4 << 20);
}

#[test]
fn the_same_entry_is_recorded_once_and_another_under_its_id_is_refused() {
    let mut device = DeviceJournal::default();
    device.record(one("a")).unwrap();
    device.record(one("a")).unwrap();
    assert_eq!(device.entries().len(), 1);
    let e = device.record(entry("a", None, 2)).unwrap_err();
    assert_eq!((e.code(), e.pointer()), (Code::DuplicateId, "/id"));
    let wrong = Entry { site: String::new(), ..one("b") };
    assert_eq!(device.record(wrong).unwrap_err().pointer(), "/site");
    assert_eq!(device.entries().len(), 1);
}

#[test]
fn what_is_refused_for_good_is_kept_aside_and_the_rest_goes_again() {
    let mut device = DeviceJournal::default();
    for e in [one("a"), one("b"), one("c"), entry("d", Some("b"), 1), entry("e", Some("a"), 1)] {
        device.record(e).unwrap();
    }
    device.answered(&answer(vec![
        Taken::kept("a".into(), 1, false),
        refused("b", Code::Storage),
        refused("c", Code::OutOfRange),
        refused("d", Code::Unknown),
        refused("e", Code::Conflict),
        Taken::kept("unknown".into(), 9, false),
    ]));
    // The disk may have room again; d waits for b.
    assert_eq!(sent(&device), ["b", "d"]);
    let aside: Vec<&str> = device.aside().iter().map(|a| a.entry.id.as_str()).collect();
    assert_eq!(aside, ["c", "e"]);
    assert_eq!(device.take_aside("e").unwrap().error.code(), Code::Conflict);
    assert!(device.take_aside("e").is_none());
    // b is refused after all, and then d cannot be either.
    device.answered(&answer(vec![refused("b", Code::OutOfRange), refused("d", Code::Unknown)]));
    assert_eq!((device.waiting(), device.aside().len()), (0, 3));
    // A late refusal of what was taken changes nothing.
    device.answered(&answer(vec![refused("a", Code::Busy)]));
    assert_eq!(state(&device, "a"), Some(HeldState::Acknowledged));
}

#[test]
fn pages_add_and_never_take_away() {
    let mut device = DeviceJournal::default();
    device.record(one("mine")).unwrap();
    device.record(one("both")).unwrap();
    device.arrived(&page("0", vec![one("theirs"), one("both")], "x-2", true));
    assert_eq!(device.cursor(), "x-2");
    assert_eq!(sent(&device), ["mine"]);
    // One that was asked for from elsewhere moves no cursor, but what it says is true.
    device.arrived(&page("0", vec![one("theirs"), one("more")], "x-1", false));
    assert_eq!((device.cursor(), device.entries().len()), ("x-2", 4));
    // The journal has the last word; what the device had is kept aside.
    device.record(entry("clash", None, 2)).unwrap();
    device.arrived(&page("x-2", vec![one("clash")], "x-3", false));
    assert_eq!(device.get("clash").unwrap().entry, one("clash"));
    assert_eq!(device.aside()[0].entry, entry("clash", None, 2));
}

#[test]
fn what_the_journal_lost_is_sent_again() {
    let mut device = DeviceJournal::default();
    device.record(one("a")).unwrap();
    device.answered(&answer(vec![Taken::kept("a".into(), 1, false)]));
    assert!(sent(&device).is_empty());
    device.arrived(&page("0", vec![one("b")], "x-1", true));
    assert!(sent(&device).is_empty(), "not before the last page");
    device.arrived(&page("x-1", vec![], "x-1", false));
    assert_eq!(sent(&device), ["a"]);

    // Another life of the journal, which has b and not a any more.
    device.answered(&answer(vec![Taken::kept("a".into(), 2, false)]));
    device.arrived(&page("x-1", vec![one("a")], "x-2", false));
    assert_eq!(state(&device, "a"), Some(HeldState::Shared));
    let again = EntriesPage { restarted: true, ..page("x-2", vec![one("b")], "y-1", false) };
    device.arrived(&again);
    assert_eq!((sent(&device), device.cursor()), (vec!["a".to_owned()], "y-1"));
}

#[test]
fn it_is_stored_and_read_as_it_is() {
    let mut device = DeviceJournal::default();
    device.record(one("a")).unwrap();
    device.arrived(&page("0", vec![one("b")], "x-1", false));
    device.answered(&answer(vec![refused("a", Code::OutOfRange)]));
    let text = serde_json::to_string(&device).unwrap();
    assert_eq!(serde_json::from_str::<DeviceJournal>(&text).unwrap(), device);
}
