//! Damage that no format shows: a bit of an entry changed, an entry gone, the log cut off while the
//! journal is open, a clock that was set back.

use guardcell::ledger::Draft;
use guardcell_journal::{Journal, Selection};
use rusqlite::Connection;
use std::fs::File;
use std::path::Path;

fn draft(minute: u32, strength: u32, recorded: Option<&str>) -> Draft {
    let mut draft: Draft = serde_json::from_value(serde_json::json!({
        "at": format!("2026-06-21T05:{minute:02}:00+01:00"),
        "site": "Fernhollow",
        "event": {
            "kind": "round",
            "plants": [{"plant": "F012", "volume_ml": 12}],
            "feed_strength_mg_l": strength
        }
    }))
    .unwrap();
    draft.recorded = recorded.map(str::to_owned);
    draft
}

fn filled(path: &Path) {
    let mut journal = Journal::open(path).unwrap();
    for minute in 0..3 {
        journal.append(draft(minute, 300, None)).unwrap();
    }
    assert!(journal.verify().unwrap().sound());
}

/// What an edit of the file, past the triggers, makes `verify` say.
fn found_after(sql: &str) -> Vec<String> {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("j");
    filled(&path);
    let editor = Connection::open(&path).unwrap();
    editor.execute_batch("PRAGMA foreign_keys = OFF").unwrap();
    for trigger in ["entry_stays", "entry_is_kept", "entry_plant_is_kept", "entry_checksum_is_kept"]
    {
        editor.execute_batch(&format!("DROP TRIGGER {trigger}")).unwrap();
    }
    editor.execute_batch(sql).unwrap();
    drop(editor);
    Journal::open_existing(&path).unwrap().verify().unwrap().problems
}

#[test]
fn a_number_that_changed_is_found() {
    // 300 and 301 mg/L are both well formed, and no column repeats the strength.
    let found = found_after(
        "UPDATE entry SET body = replace(body, '\"feed_strength_mg_l\":300', '\"feed_strength_mg_l\":301')
         WHERE seq = 2",
    );
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].contains("entry 2") && found[0].contains("checksum"), "{found:?}");
    let found = found_after("DELETE FROM entry_checksum WHERE seq = 3");
    assert!(found.iter().any(|p| p.contains("checksum is missing")), "{found:?}");
}

#[test]
fn an_entry_that_is_gone_is_found() {
    let found = found_after(
        "DELETE FROM entry_plant WHERE seq = 2; DELETE FROM entry_checksum WHERE seq = 2;
         DELETE FROM entry WHERE seq = 2",
    );
    assert!(found.iter().any(|p| p.contains("1 entries before it are missing")), "{found:?}");
}

#[test]
fn a_log_that_is_cut_off_leaves_a_sound_beginning() {
    for keep in [0, 10, 32, 500, 4096 + 56] {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("j");
        filled(&path);
        let mut journal = Journal::open(&path).unwrap();
        for minute in 10..30 {
            journal.append(draft(minute, 150, None)).unwrap();
        }
        let log = dir.path().join("j-wal");
        File::options().write(true).open(&log).unwrap().set_len(keep).unwrap();
        // Whatever these answer, they end, and invent nothing.
        let _ = journal.append(draft(40, 100, None));
        let _ = journal.entries(&Selection::default());
        let _ = journal.verify();
        drop(journal);
        let Ok(again) = Journal::open_existing(&path) else { continue };
        let all = Selection { with_corrected: true, ..Selection::default() };
        let Ok(entries) = again.entries(&all) else { continue };
        for (entry, minute) in entries.iter().zip((0..3).chain(10..30).chain([40])) {
            assert!(entry.at.contains(&format!("05:{minute:02}:")), "{keep}: {entry:?}");
        }
        let verified = again.verify().unwrap();
        assert!(verified.sound(), "{keep}: {verified:?}");
    }
}

#[test]
fn a_clock_set_back_disturbs_no_order() {
    let dir = tempfile::tempdir().unwrap();
    let mut journal = Journal::open(&dir.path().join("j")).unwrap();
    journal.append(draft(30, 300, Some("2026-06-21T06:00:00Z"))).unwrap();
    // An hour earlier by the clock, and later by the order of recording.
    let second = journal.append(draft(10, 150, Some("2026-06-21T05:00:00Z"))).unwrap();
    journal.append(draft(20, 100, Some("1999-12-31T23:00:00Z"))).unwrap();
    let verified = journal.verify().unwrap();
    assert!(verified.sound(), "{verified:?}");
    assert_eq!(second.sequence, 2);
    assert_eq!(journal.latest().unwrap().unwrap().recorded, "1999-12-31T23:00:00Z");
    let by_time: Vec<_> = journal.entries(&Selection::default()).unwrap();
    assert!(by_time.is_sorted_by_key(|e| e.at.clone()));
    // A correction of an entry that the clock puts later.
    let mut correction = draft(10, 50, Some("1998-01-01T00:00:00Z"));
    correction.supersedes = Some(second.id.clone());
    journal.append(correction).unwrap();
    assert!(journal.verify().unwrap().sound());
    assert_eq!(journal.chain(&second.id).unwrap().len(), 2);
}
