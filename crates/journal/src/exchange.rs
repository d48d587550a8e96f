//! The journal for other devices: entries taken one by one, and what is new since a cursor.
//!
//! A cursor is a place in the journal's own sequence, with the life that the sequence belongs to. A
//! journal begins a life when it is made, and another when a backup takes its place: sequences of
//! two lives do not mean the same entries.

use crate::error;
use crate::store::{Journal, Receipt, Writer};
use guardcell::ledger::Draft;
use guardcell::ledger::sync::START;
use guardcell::{Code, Error};
use rusqlite::params;
use std::collections::{HashMap, HashSet, VecDeque};

/// Entries from a cursor on, as they are on the disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changes {
    /// The entries as JSON, in the order of recording.
    pub bodies: Vec<String>,
    /// The cursor behind them.
    pub cursor: String,
    /// Whether there are more behind that.
    pub more: bool,
    /// Whether the cursor that was asked from is of another life: these begin with the first entry.
    pub restarted: bool,
}

impl Changes {
    /// What a journal has that does not exist yet.
    ///
    /// # Errors
    /// [`Code::InvalidText`] for a text that is no cursor.
    pub fn none(since: &str) -> Result<Self, Error> {
        let restarted = parse(since)?.is_some();
        Ok(Self { bodies: Vec::new(), cursor: START.to_owned(), more: false, restarted })
    }
}

impl Journal {
    /// Records each draft that can be recorded and says what became of it, in the order given. An
    /// entry that is there already, word for word, is passed over; one that corrects another of the
    /// list may come before it. When this returns, what was recorded is on the disk.
    ///
    /// # Errors
    /// Only where the file cannot be written or read; nothing was recorded then.
    pub fn take(&mut self, drafts: Vec<Draft>) -> Result<Vec<Result<Receipt, Error>>, Error> {
        let mut writer = Writer::begin(self)?;
        let mut results: Vec<Option<Result<Receipt, Error>>> =
            drafts.iter().map(|_| None).collect();
        let mut to_come: HashMap<String, usize> = HashMap::new();
        for id in drafts.iter().filter_map(|d| d.id.clone()) {
            *to_come.entry(id).or_default() += 1;
        }
        // What waits for the entry that it corrects.
        let mut waiting: HashMap<String, Vec<(usize, Draft)>> = HashMap::new();
        let mut queue: VecDeque<(usize, Draft)> = drafts.into_iter().enumerate().collect();
        let mut late = HashSet::new();
        while let Some((at, draft)) = queue.pop_front() {
            let id = draft.id.clone();
            if let Some(old) = &draft.supersedes
                && to_come.get(old).is_some_and(|left| *left > 0)
                && id.as_ref() != Some(old)
                && late.insert(at)
            {
                waiting.entry(old.clone()).or_default().push((at, draft));
                continue;
            }
            let result = match writer.add(draft) {
                Err(e) if is_of_the_file(&e) => return Err(e),
                result => result,
            };
            if let Some(slot) = results.get_mut(at) {
                *slot = Some(result);
            }
            let Some(id) = id else { continue };
            if let Some(left) = to_come.get_mut(&id) {
                *left -= 1;
            }
            for next in waiting.remove(&id).into_iter().flatten().rev() {
                queue.push_front(next);
            }
        }
        // Those that correct each other in a circle.
        let mut rest: Vec<_> = waiting.into_values().flatten().collect();
        rest.sort_unstable_by_key(|(at, _)| *at);
        for (at, draft) in rest {
            let old = draft.supersedes.unwrap_or_default();
            if let Some(slot) = results.get_mut(at) {
                *slot = Some(Err(error::unknown_entry(&old)));
            }
        }
        writer.commit()?;
        // Every draft was added or refused above.
        Ok(results.into_iter().flatten().collect())
    }

    /// Entries recorded after a cursor, at most so many and so many bytes, but at least one where
    /// there is one.
    ///
    /// # Errors
    /// [`Code::InvalidText`] for a text that is no cursor; for a damaged file.
    pub fn since(&self, cursor: &str, most: usize, most_bytes: usize) -> Result<Changes, Error> {
        let failed = |e: rusqlite::Error| error::sqlite(&self.path, self.wait_ms, &e);
        let asked = parse(cursor)?;
        // One state of the file for all that is read.
        let reading = self.connection.unchecked_transaction().map_err(failed)?;
        let life: String =
            reading.query_row("SELECT id FROM life", [], |r| r.get(0)).map_err(failed)?;
        let last: i64 = reading
            .query_row("SELECT coalesce(max(seq), 0) FROM entry", [], |r| r.get(0))
            .map_err(failed)?;
        let from = match asked {
            None => Some(0),
            Some((of, seq)) => (of == life && seq <= last).then_some(seq),
        };
        let (mut to, restarted) = (from.unwrap_or(0), from.is_none());
        let mut statement = reading
            .prepare_cached("SELECT seq, body FROM entry WHERE seq > ?1 ORDER BY seq")
            .map_err(failed)?;
        let mut rows = statement.query(params![to]).map_err(failed)?;
        let (mut bodies, mut bytes) = (Vec::new(), 0);
        while let Some(row) = rows.next().map_err(failed)? {
            let body: String = row.get(1).map_err(failed)?;
            bytes += body.len();
            if !bodies.is_empty() && (bodies.len() >= most || bytes > most_bytes) {
                break;
            }
            to = row.get(0).map_err(failed)?;
            bodies.push(body);
        }
        Ok(Changes { bodies, cursor: format!("{life}-{to}"), more: to < last, restarted })
    }
}

/// Whether it is the file that failed, and not the entry.
fn is_of_the_file(e: &Error) -> bool {
    matches!(e.code(), Code::Storage | Code::Io | Code::Busy | Code::Internal | Code::MalformedFile)
}

fn is_start(cursor: &str) -> bool {
    cursor.is_empty() || cursor == START
}

/// Life and sequence of a cursor; none for the start.
fn parse(cursor: &str) -> Result<Option<(&str, i64)>, Error> {
    if is_start(cursor) {
        return Ok(None);
    }
    cursor
        .split_once('-')
        .filter(|(life, seq)| {
            life.len() == 16
                && life.bytes().all(|b| b.is_ascii_hexdigit())
                && seq.bytes().all(|b| b.is_ascii_digit())
        })
        .and_then(|(life, seq)| Some(Some((life, seq.parse().ok()?))))
        .ok_or_else(|| {
            Error::new(
                Code::InvalidText,
                format!("{:?} is not a cursor", guardcell::excerpt(cursor, 60)),
                "give the `cursor` of the page before, or omit it to begin with the first entry",
            )
            .at("/since")
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draft(id: &str, supersedes: Option<&str>) -> Draft {
        let json = serde_json::json!({
            "id": id, "recorded": "2026-06-21T06:00:00Z", "at": "2026-06-21T05:10:00+01:00",
            "site": "Fernhollow", "event": {"kind": "flush", "plants": ["F012"]},
            "supersedes": supersedes,
        });
        serde_json::from_value(json).unwrap()
    }

    fn journal() -> (tempfile::TempDir, Journal) {
        let dir = tempfile::tempdir().unwrap();
        let journal = Journal::open(&dir.path().join("journal.db")).unwrap();
        (dir, journal)
    }

    fn codes(results: &[Result<Receipt, Error>]) -> Vec<Result<i64, Code>> {
        results.iter().map(|r| r.as_ref().map(|r| r.sequence).map_err(Error::code)).collect()
    }

    #[test]
    fn corrections_may_come_first_and_faults_hold_nothing_up() {
        let (_dir, mut journal) = journal();
        let list = vec![
            draft("c", Some("b")),
            draft("b", Some("a")),
            draft("x", Some("nobody")),
            draft("a", None),
            draft("", None),
            draft("a", None),
            draft("p", Some("q")),
            draft("q", Some("p")),
            draft("s", Some("s")),
            draft("d", None),
        ];
        let results = journal.take(list).unwrap();
        assert_eq!(
            codes(&results),
            [
                Ok(3),
                Ok(2),
                Err(Code::Unknown),
                Ok(1),
                Err(Code::InvalidText),
                Ok(1),
                Err(Code::Unknown),
                Err(Code::Unknown),
                Err(Code::Unknown),
                Ok(4),
            ]
        );
        assert!(results[5].as_ref().unwrap().already_there);
        assert!(journal.verify().unwrap().sound());
        let changed = Draft { note: "other".into(), ..draft("a", None) };
        let other = journal.take(vec![changed, draft("e", Some("a"))]).unwrap();
        assert_eq!(codes(&other), [Err(Code::DuplicateId), Err(Code::Conflict)]);
    }

    #[test]
    fn a_cursor_goes_on_where_it_was() {
        let (dir, mut journal) = journal();
        let begun = journal.since("", 10, 1000).unwrap();
        assert_eq!((begun.bodies.len(), begun.more, begun.restarted), (0, false, false));
        journal.take(["a", "b", "c"].map(|id| draft(id, None)).into()).unwrap();
        let page = journal.since(&begun.cursor, 2, 1_000_000).unwrap();
        assert_eq!((page.bodies.len(), page.more, page.restarted), (2, true, false));
        let rest = journal.since(&page.cursor, 2, 1_000_000).unwrap();
        assert_eq!((rest.bodies.len(), rest.more), (1, false));
        assert!(rest.bodies[0].contains(r#""id":"c""#));
        // One entry comes in any case.
        let small = journal.since("0", 10, 1).unwrap();
        assert_eq!((small.bodies.len(), small.more), (1, true));
        let none = |since: &str| Changes::none(since).map(|c| (c.cursor, c.restarted)).ok();
        assert_eq!(none(START), Some((START.to_owned(), false)));
        assert_eq!(none(&begun.cursor), Some((START.to_owned(), true)));
        assert_eq!(none("yesterday"), None);
        for wrong in ["x", "-1", "0123456789abcdef-", "0123456789abcdef--1", "0123456789abcdef-9e9"]
        {
            let e = journal.since(wrong, 1, 1).unwrap_err();
            assert_eq!((e.code(), e.pointer()), (Code::InvalidText, "/since"), "{wrong}");
        }

        // A backup put in its place is another life, even where it has as many entries.
        let backup = dir.path().join("backup");
        journal.backup(&backup, false).unwrap();
        journal.take(vec![draft("d", None)]).unwrap();
        let path = journal.path().to_path_buf();
        drop(journal);
        Journal::restore(&backup, &path, true).unwrap();
        let mut journal = Journal::open(&path).unwrap();
        journal.take(vec![draft("e", None)]).unwrap();
        let again = journal.since(&rest.cursor, 10, 1_000_000).unwrap();
        assert_eq!((again.bodies.len(), again.more, again.restarted), (4, false, true));
        assert!(journal.verify().unwrap().sound());
    }
}
