//! Entries as JSON Lines: what is read and written again is the same text.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test ends where it fails")]

use guardcell::ledger::Entry;
use guardcell_folder::{entry_lines, lines_of_entries};

const LINES: &str = concat!(
    r#"{"id":"a","recorded":"2026-06-21T06:00:00Z","at":"2026-06-21T05:10:00+01:00","site":"F","event":{"kind":"soak","plants":["A1"],"feed_strength_mg_l":50.0,"duration_min":20.0}}"#,
    "\n",
    r#"{"id":"b","recorded":"2026-06-21T06:00:00Z","at":"2026-06-21T05:10:00+01:00","site":"F","supersedes":"a","event":{"kind":"retraction"},"note":"<twice> \"typed\""}"#,
    "\n",
);

#[test]
fn what_is_written_is_what_was_read() {
    let read = entry_lines("journal.jsonl", LINES).unwrap().entries;
    assert_eq!(read.len(), 2);
    let entries: Vec<Entry> = read
        .into_iter()
        .map(|d| {
            let (id, recorded) = (d.id.clone().unwrap(), d.recorded.clone().unwrap());
            d.checked(&id, &recorded).unwrap()
        })
        .collect();
    assert_eq!(lines_of_entries(&entries).unwrap(), LINES);
}

#[test]
fn a_mark_of_the_byte_order_blank_lines_and_crlf_are_passed_over() {
    let text = format!("\u{feff}\r\n{}\r\n", LINES.replace('\n', "\r\n"));
    assert_eq!(entry_lines("a", &text).unwrap().entries.len(), 2);
    assert!(entry_lines("a", "").unwrap().entries.is_empty());
}

#[test]
fn a_line_that_is_no_entry_is_named() {
    let text = format!("{LINES}{{\"at\": 3}}\n");
    let error = entry_lines("mine.jsonl", &text).unwrap_err();
    let place = error.place().unwrap();
    assert_eq!((place.file.as_deref(), place.line), (Some("mine.jsonl"), Some(3)));
}
