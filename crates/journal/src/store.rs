//! The journal as a file: opening, appending, reading.

use crate::checksum::checksum;
use crate::error;
use crate::schema::{self, Header};
use guardcell::Error;
use guardcell::ledger::{Draft, Entry, Moment};
use guardcell::reference::parameters::journal;
use jiff::Timestamp;
use jiff::tz::Offset;
use rusqlite::{
    Connection, OpenFlags, OptionalExtension, Transaction, TransactionBehavior, params,
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// An open journal.
///
/// ```
/// use guardcell::ledger::Draft;
/// use guardcell_journal::{Journal, Selection};
/// let dir = tempfile::tempdir().unwrap();
/// let mut journal = Journal::open(&dir.path().join("house.journal")).unwrap();
/// let draft: Draft = serde_json::from_str(
///     r#"{"at": "2026-06-21T05:10:00+01:00", "site": "Fernhollow",
///         "event": {"kind": "round", "plants": [{"plant": "F012", "volume_ml": 12}],
///                   "feed_strength_mg_l": 300}}"#,
/// ).unwrap();
/// let receipt = journal.append(draft).unwrap();
/// let entries = journal.entries(&Selection::default()).unwrap();
/// assert_eq!(entries[0].id, receipt.id);
/// ```
#[derive(Debug)]
pub struct Journal {
    pub(crate) connection: Connection,
    pub(crate) path: PathBuf,
    pub(crate) wait_ms: u64,
}

/// That an entry is safe on the disk.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Receipt {
    /// The identifier of the entry.
    pub id: String,
    /// Its place in the order of recording, from 1.
    pub sequence: i64,
    /// Whether it was there already, word for word, and so was not written again.
    pub already_there: bool,
}

/// Which entries to read. Everything not given is not asked for.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Selection {
    /// Only this site.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub site: Option<String>,
    /// Only entries that name this plant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plant: Option<String>,
    /// Only entries from this time on, RFC 3339 with offset.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// Only entries before this time, RFC 3339 with offset.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Also entries that have been corrected, and retractions, in the order of recording;
    /// otherwise only what stands, in the order of time.
    #[serde(default)]
    pub with_corrected: bool,
}

impl Journal {
    /// Opens the journal at `path`; creates it if missing.
    ///
    /// # Errors
    /// For a file that is not a journal or that a newer program wrote, with the file untouched; for
    /// one that cannot be written, or that another program holds.
    pub fn open(path: &Path) -> Result<Self, Error> {
        Self::open_waiting(path, default_wait())
    }

    /// As [`Journal::open`], waiting this long for other programs to finish writing.
    ///
    /// # Errors
    /// As [`Journal::open`].
    pub fn open_waiting(path: &Path, wait: Duration) -> Result<Self, Error> {
        let wait_ms = u64::try_from(wait.as_millis()).unwrap_or(u64::MAX);
        look(path, wait_ms)?;
        let failed = |e: rusqlite::Error| error::sqlite(path, wait_ms, &e);
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
            | OpenFlags::SQLITE_OPEN_CREATE
            | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let mut connection = Connection::open_with_flags(path, flags).map_err(failed)?;
        prepare(&connection, wait).map_err(failed)?;
        // The switch to WAL does not wait by itself where another program is at it too.
        retry(wait, || {
            connection.query_row("PRAGMA journal_mode = WAL", [], |r| r.get::<_, String>(0))
        })
        .map_err(failed)?;
        schema::migrate(&mut connection).map_err(failed)?.map_err(|h| refused(path, h))?;
        sync_folder(path)?;
        Ok(Self { connection, path: path.to_path_buf(), wait_ms })
    }

    /// Opens an existing journal; never starts one.
    ///
    /// # Errors
    /// If there is none; else as [`Journal::open`].
    pub fn open_existing(path: &Path) -> Result<Self, Error> {
        if !path.try_exists().map_err(|e| error::io(path, e))? {
            return Err(error::missing(path));
        }
        Self::open(path)
    }

    /// Opens an existing journal only to read it: nothing is written, and a file or folder that
    /// cannot be written is not a hindrance. Recording through it fails.
    ///
    /// # Errors
    /// If there is none, or if it must first be opened for writing once; else as
    /// [`Journal::open`].
    pub fn open_to_read(path: &Path) -> Result<Self, Error> {
        if !path.try_exists().map_err(|e| error::io(path, e))? {
            return Err(error::missing(path));
        }
        let wait = default_wait();
        let wait_ms = u64::try_from(wait.as_millis()).unwrap_or(u64::MAX);
        look(path, wait_ms)?;
        let failed = |e: rusqlite::Error| error::sqlite(path, wait_ms, &e);
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let read = |connection: Connection| -> rusqlite::Result<(Connection, Header)> {
            prepare(&connection, wait)?;
            let header = Header::read(&connection)?;
            Ok((connection, header))
        };
        let opened = Connection::open_with_flags(path, flags).and_then(read).or_else(|e| {
            // A log that cannot be made beside the file; where there is none, there is no need.
            let denied = matches!(
                e.sqlite_error_code(),
                Some(rusqlite::ErrorCode::CannotOpen | rusqlite::ErrorCode::ReadOnly)
            );
            if !denied || !wal_is_empty(path) {
                return Err(e);
            }
            let uri = format!("file:{}?immutable=1", percent(path));
            Connection::open_with_flags(uri, flags | OpenFlags::SQLITE_OPEN_URI).and_then(read)
        });
        let (connection, header) = opened.map_err(failed)?;
        if header.application_id != schema::APPLICATION_ID || header.format > schema::NEWEST {
            return Err(refused(path, header));
        }
        if header.format < schema::NEWEST {
            return Err(error::older(path, header.format, schema::NEWEST));
        }
        Ok(Self { connection, path: path.to_path_buf(), wait_ms })
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Records an entry. When this returns, the entry is on the disk and survives a crash of the
    /// program or the machine.
    ///
    /// # Errors
    /// Where the draft cannot be right, with the pointer to it; where the file cannot be written
    /// or another program holds it. On an error nothing was recorded.
    pub fn append(&mut self, draft: Draft) -> Result<Receipt, Error> {
        let mut receipts = self.append_all(vec![draft])?;
        // `append_all` gives one receipt for each draft.
        receipts.pop().ok_or_else(|| error::storage(&self.path, "no receipt", ""))
    }

    /// Records several entries, all or none.
    ///
    /// # Errors
    /// As [`Journal::append`]; the pointer does not say which draft it was.
    pub fn append_all(&mut self, drafts: Vec<Draft>) -> Result<Vec<Receipt>, Error> {
        let wrap = |e: rusqlite::Error, path: &Path, ms| error::sqlite(path, ms, &e);
        let (path, ms) = (self.path.clone(), self.wait_ms);
        let mut writer = Writer::begin(self)?;
        let mut receipts = Vec::with_capacity(drafts.len());
        for draft in drafts {
            receipts.push(writer.add(draft)?);
        }
        writer.transaction.commit().map_err(|e| wrap(e, &path, ms))?;
        Ok(receipts)
    }

    /// Reads entries: those that stand, in the order of time; or all, in the order of recording.
    ///
    /// # Errors
    /// For a time that cannot be read, or a damaged file.
    pub fn entries(&self, selection: &Selection) -> Result<Vec<Entry>, Error> {
        let failed = |e: rusqlite::Error| error::sqlite(&self.path, self.wait_ms, &e);
        let micros = |pointer: &str, text: &Option<String>| {
            text.as_deref()
                .map(|t| Moment::parse(pointer, t).map(|m| m.instant.as_microsecond()))
                .transpose()
        };
        let (from, to) = (micros("/from", &selection.from)?, micros("/to", &selection.to)?);
        let sql = query(selection);
        let mut statement = self.connection.prepare(&sql).map_err(failed)?;
        let mut rows =
            statement.query(params![selection.site, selection.plant, from, to]).map_err(failed)?;
        let mut entries = Vec::new();
        while let Some(row) = rows.next().map_err(failed)? {
            let body: String = row.get(0).map_err(failed)?;
            entries.push(decode(&self.path, &body)?);
        }
        Ok(entries)
    }

    /// Every plant that an entry names, by id.
    ///
    /// # Errors
    /// For a damaged file.
    pub fn plants(&self) -> Result<Vec<String>, Error> {
        let failed = |e: rusqlite::Error| error::sqlite(&self.path, self.wait_ms, &e);
        let mut statement = self
            .connection
            .prepare("SELECT DISTINCT plant FROM entry_plant ORDER BY plant")
            .map_err(failed)?;
        let rows = statement.query_map([], |r| r.get(0)).map_err(failed)?;
        rows.collect::<rusqlite::Result<_>>().map_err(failed)
    }

    /// The entry that was recorded last, if there is any.
    ///
    /// # Errors
    /// For a damaged file.
    pub fn latest(&self) -> Result<Option<Entry>, Error> {
        self.connection
            .query_row("SELECT body FROM entry ORDER BY seq DESC LIMIT 1", [], |r| {
                r.get::<_, String>(0)
            })
            .optional()
            .map_err(|e| error::sqlite(&self.path, self.wait_ms, &e))?
            .map(|body| decode(&self.path, &body))
            .transpose()
    }

    /// One entry, and those that led to it: the entry as it stands first, then what it corrected,
    /// back to the first.
    ///
    /// # Errors
    /// If the journal has no such entry.
    pub fn chain(&self, id: &str) -> Result<Vec<Entry>, Error> {
        let failed = |e: rusqlite::Error| error::sqlite(&self.path, self.wait_ms, &e);
        let mut head = id.to_owned();
        while let Some(newer) = corrected_by(&self.connection, &head).map_err(failed)? {
            head = newer;
        }
        let mut chain = Vec::new();
        let mut next = Some(head);
        while let Some(id) = next {
            let body = body_of(&self.connection, &id)
                .map_err(failed)?
                .ok_or_else(|| error::unknown_entry(&id))?;
            let entry = decode(&self.path, &body)?;
            next = entry.supersedes.clone();
            chain.push(entry);
        }
        Ok(chain)
    }
}

/// The query of a selection, with site, plant, start and end as its parameters.
fn query(selection: &Selection) -> String {
    // Entries of one plant come from the index of plants; the rest of the journal is not read.
    let of_plant = match &selection.plant {
        Some(_) => "entry_plant p JOIN entry e ON e.seq = p.seq WHERE p.plant = ?2",
        None => "entry e WHERE ?2 IS NULL",
    };
    let which = if selection.with_corrected {
        "ORDER BY e.seq"
    } else {
        "AND e.kind <> 'retraction'
         AND NOT EXISTS (SELECT 1 FROM entry c WHERE c.supersedes = e.id)
         ORDER BY e.at_us, e.seq"
    };
    format!(
        "SELECT e.body FROM {of_plant} AND (?1 IS NULL OR e.site = ?1)
         AND (?3 IS NULL OR e.at_us >= ?3) AND (?4 IS NULL OR e.at_us < ?4) {which}"
    )
}

/// Appends within one transaction.
pub(crate) struct Writer<'a> {
    pub(crate) transaction: Transaction<'a>,
    path: PathBuf,
    wait_ms: u64,
}

impl<'a> Writer<'a> {
    pub(crate) fn begin(journal: &'a mut Journal) -> Result<Self, Error> {
        let (path, wait_ms) = (journal.path.clone(), journal.wait_ms);
        let transaction = journal
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(|e| error::sqlite(&path, wait_ms, &e))?;
        Ok(Self { transaction, path, wait_ms })
    }

    pub(crate) fn commit(self) -> Result<(), Error> {
        let (path, wait_ms) = (self.path, self.wait_ms);
        self.transaction.commit().map_err(|e| error::sqlite(&path, wait_ms, &e))
    }

    pub(crate) fn add(&mut self, draft: Draft) -> Result<Receipt, Error> {
        let (path, wait_ms) = (self.path.clone(), self.wait_ms);
        let failed = |e: rusqlite::Error| error::sqlite(&path, wait_ms, &e);
        let id = match &draft.id {
            Some(id) => id.clone(),
            None => self
                .transaction
                .query_row("SELECT lower(hex(randomblob(8)))", [], |r| r.get(0))
                .map_err(failed)?,
        };
        let there = body_of(&self.transaction, &id).map_err(failed)?;
        let recorded = match (&draft.recorded, &there) {
            (Some(recorded), _) => recorded.clone(),
            // Sent again without a time of recording: compare the rest.
            (None, Some(body)) => decode(&path, body)?.recorded,
            (None, None) => now().rfc3339(),
        };
        let entry = draft.checked(&id, &recorded)?;
        let body = encode(&path, &entry)?;
        if let Some(old) = there {
            if old != body {
                return Err(error::conflict(&entry.id));
            }
            let sequence = self
                .transaction
                .query_row("SELECT seq FROM entry WHERE id = ?1", [&entry.id], |r| r.get(0))
                .map_err(failed)?;
            return Ok(Receipt { id: entry.id, sequence, already_there: true });
        }
        if let Some(old) = &entry.supersedes {
            if body_of(&self.transaction, old).map_err(failed)?.is_none() {
                return Err(error::unknown_entry(old));
            }
            if let Some(by) = corrected_by(&self.transaction, old).map_err(failed)? {
                return Err(error::already_corrected(old, &by));
            }
        }
        let at = Moment::parse("/at", &entry.at)?.instant.as_microsecond();
        self.transaction
            .prepare_cached(
                "INSERT INTO entry (id, recorded, at, at_us, site, kind, supersedes, body)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
            )
            .and_then(|mut s| {
                s.execute(params![
                    entry.id,
                    entry.recorded,
                    entry.at,
                    at,
                    entry.site,
                    entry.event.kind(),
                    entry.supersedes,
                    body
                ])
            })
            .map_err(failed)?;
        let sequence = self.transaction.last_insert_rowid();
        self.transaction
            .prepare_cached("INSERT INTO entry_checksum (seq, crc) VALUES (?1, ?2)")
            .and_then(|mut s| s.execute(params![sequence, checksum(sequence, &body)]))
            .map_err(failed)?;
        for plant in entry.event.plants() {
            self.transaction
                .prepare_cached("INSERT INTO entry_plant (plant, seq) VALUES (?1, ?2)")
                .and_then(|mut s| s.execute(params![plant, sequence]))
                .map_err(failed)?;
        }
        Ok(Receipt { id: entry.id, sequence, already_there: false })
    }
}

fn body_of(connection: &Connection, id: &str) -> rusqlite::Result<Option<String>> {
    connection
        .prepare_cached("SELECT body FROM entry WHERE id = ?1")?
        .query_row([id], |r| r.get(0))
        .optional()
}

fn corrected_by(connection: &Connection, id: &str) -> rusqlite::Result<Option<String>> {
    connection
        .prepare_cached("SELECT id FROM entry WHERE supersedes = ?1")?
        .query_row([id], |r| r.get(0))
        .optional()
}

pub(crate) fn encode(path: &Path, entry: &Entry) -> Result<String, Error> {
    serde_json::to_string(entry).map_err(|e| error::storage(path, e.to_string(), ""))
}

pub(crate) fn decode(path: &Path, body: &str) -> Result<Entry, Error> {
    serde_json::from_str(body)
        .map_err(|e| error::damaged(path, format_args!("an entry cannot be read: {e}")))
}

/// Now, to the millisecond, in UTC.
pub(crate) fn now() -> Moment {
    let now = Timestamp::now();
    let instant = Timestamp::from_millisecond(now.as_millisecond()).unwrap_or(now);
    Moment { instant, offset: Offset::UTC }
}

pub(crate) fn default_wait() -> Duration {
    Duration::from_secs_f64(journal::BUSY_WAIT.ms() / 1000.0)
}

/// The settings of every connection. FULL: a commit returns only once it is on the disk.
pub(crate) fn prepare(connection: &Connection, wait: Duration) -> rusqlite::Result<()> {
    connection.busy_timeout(wait)?;
    connection.execute_batch(
        "PRAGMA synchronous = FULL; PRAGMA fullfsync = ON; PRAGMA checkpoint_fullfsync = ON;
         PRAGMA foreign_keys = ON; PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON;",
    )
}

fn retry<T>(wait: Duration, work: impl Fn() -> rusqlite::Result<T>) -> rusqlite::Result<T> {
    let start = std::time::Instant::now();
    loop {
        match work() {
            Err(e)
                if e.sqlite_error_code() == Some(rusqlite::ErrorCode::DatabaseBusy)
                    && start.elapsed() < wait =>
            {
                std::thread::sleep(Duration::from_millis(10));
            }
            done => return done,
        }
    }
}

/// Looks at a file before it is opened for writing, so that one that is not for this program
/// stays as it is: by its header where that is the whole truth, else through a reader.
pub(crate) fn look(path: &Path, wait_ms: u64) -> Result<(), Error> {
    let header = match head(path)? {
        Head::Nothing => return Ok(()),
        Head::Foreign(found) => {
            return Err(error::not_a_journal(path, &found));
        }
        Head::Journal(header) => header,
    };
    // Without a log the header is the whole truth; with one, only a reader knows.
    let header = if wal_is_empty(path) {
        let new = header.application_id == 0 && header.format == 0;
        Header { bare: new, ..header } // Whether it truly is bare, `migrate` looks.
    } else {
        let failed = |e: rusqlite::Error| error::sqlite(path, wait_ms, &e);
        let reader =
            Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY).map_err(failed)?;
        reader.busy_timeout(Duration::from_millis(wait_ms)).map_err(failed)?;
        Header::read(&reader).map_err(failed)?
    };
    let ours = header.application_id == schema::APPLICATION_ID || header.is_new();
    if ours && header.format <= schema::NEWEST { Ok(()) } else { Err(refused(path, header)) }
}

/// A path as a URI holds it.
fn percent(path: &Path) -> String {
    let mut out = String::new();
    for c in path.to_string_lossy().chars() {
        match c {
            '%' => out.push_str("%25"),
            '?' => out.push_str("%3f"),
            '#' => out.push_str("%23"),
            c => out.push(c),
        }
    }
    out
}

fn wal_is_empty(path: &Path) -> bool {
    std::fs::metadata(sidecar(path, "-wal")).map_or(true, |m| m.len() == 0)
}

/// The name of a file that `SQLite` keeps beside the journal.
pub(crate) fn sidecar(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}

enum Head {
    Nothing,
    Foreign(String),
    Journal(Header),
}

/// The first hundred bytes, as the file format of `SQLite` lays them out (offsets 60 and 68).
fn head(path: &Path) -> Result<Head, Error> {
    use std::io::Read as _;
    let file = match std::fs::File::open(path) {
        Ok(file) => file,
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(Head::Nothing),
        Err(e) => return Err(error::io(path, e)),
    };
    if file.metadata().map_err(|e| error::io(path, e))?.is_dir() {
        return Ok(Head::Foreign("a folder".into()));
    }
    let mut bytes = Vec::with_capacity(100);
    file.take(100).read_to_end(&mut bytes).map_err(|e| error::io(path, e))?;
    if bytes.is_empty() {
        return Ok(Head::Nothing);
    }
    if !bytes.starts_with(b"SQLite format 3\0") {
        return Ok(Head::Foreign("no SQLite file".into()));
    }
    let word = |at: usize| -> Option<i64> {
        let four: [u8; 4] = bytes.get(at..at + 4)?.try_into().ok()?;
        Some(i64::from(i32::from_be_bytes(four)))
    };
    match (word(68), word(60)) {
        (Some(application_id), Some(format)) => {
            Ok(Head::Journal(Header { application_id, format, bare: false }))
        }
        _ => Ok(Head::Foreign("a cut-off SQLite file".into())),
    }
}

pub(crate) fn refused(path: &Path, header: Header) -> Error {
    if header.application_id == schema::APPLICATION_ID && header.format > schema::NEWEST {
        return error::newer(path, header.format, schema::NEWEST);
    }
    error::not_a_journal(path, "an SQLite file of another program")
}

/// Makes the name of a file last through a power cut.
pub(crate) fn sync_folder(path: &Path) -> Result<(), Error> {
    if cfg!(unix) {
        let folder = folder_of(path);
        std::fs::File::open(folder).and_then(|f| f.sync_all()).map_err(|e| error::io(folder, e))?;
    }
    Ok(())
}

pub(crate) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `SQLite` itself says how it finds the entries: by the index of plants, then row by row.
    #[test]
    fn entries_of_one_plant_are_not_searched_for_in_all() {
        let mut connection = Connection::open_in_memory().unwrap();
        schema::migrate(&mut connection).unwrap().unwrap();
        let plan = |selection: &Selection| -> Vec<String> {
            let sql = format!("EXPLAIN QUERY PLAN {}", query(selection));
            let mut statement = connection.prepare(&sql).unwrap();
            let nothing: [Option<String>; 4] = [None, Some("P".into()), None, None];
            let rows = statement.query_map(nothing, |r| r.get(3)).unwrap();
            rows.map(Result::unwrap).collect()
        };
        let of_plant = plan(&Selection { plant: Some("P".into()), ..Selection::default() });
        assert!(of_plant.iter().any(|l| l.contains("SEARCH p USING PRIMARY KEY")), "{of_plant:?}");
        assert!(!of_plant.iter().any(|l| l.contains("SCAN")), "{of_plant:?}");
        assert!(plan(&Selection::default()).iter().any(|l| l.contains("SCAN e")));
    }
}
