//! Verify, back up, restore.

use crate::checksum::checksum;
use crate::error;
use crate::schema::{self, Header};
use crate::store::{self, Journal, encode, folder_of, refused, sidecar, sync_folder};
use guardcell::Error;
use guardcell::ledger::{Draft, Moment};
use rusqlite::{Connection, OpenFlags, backup::Backup};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use std::time::Duration;
use tempfile::TempPath;

/// What a check of the whole journal found.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Verification {
    /// The file.
    pub path: String,
    /// Its format.
    pub format: i64,
    /// Entries in it, corrected ones too.
    pub entries: u64,
    /// Entries that stand.
    pub standing: u64,
    /// The time of the earliest entry.
    pub first: Option<String>,
    /// The time of the latest entry.
    pub last: Option<String>,
    /// What is wrong; empty where all is well.
    pub problems: Vec<String>,
}

impl Verification {
    /// Whether all is well.
    #[must_use]
    pub fn sound(&self) -> bool {
        self.problems.is_empty()
    }
}

/// Where a backup or an old journal went.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Kept {
    /// The file that was written.
    pub path: String,
    /// Entries in it.
    pub entries: u64,
    /// Where the file that was in its place is now, if there was one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub set_aside: Option<String>,
}

impl Journal {
    /// Checks the file page by page, every reference and every entry.
    ///
    /// # Errors
    /// Only where the file cannot be read at all; what is wrong in it is in the answer.
    pub fn verify(&self) -> Result<Verification, Error> {
        examine(&self.connection, &self.path, self.wait_ms)
    }

    /// Writes a copy that stands on its own, while the journal stays open: first under a
    /// temporary name, checked and flushed, then renamed. A file in its place is only replaced
    /// where `replace` is set.
    ///
    /// # Errors
    /// If there is a file already, if it cannot be written, or if the copy is not sound.
    pub fn backup(&self, to: &Path, replace: bool) -> Result<Kept, Error> {
        refuse_existing(to, replace)?;
        let place = followed(to);
        let private_as = if place.exists() { &place } else { &self.path };
        let copied = (&self.connection, Life::Same);
        let (temporary, entries) = copy(copied, &place, private_as, self.wait_ms)?;
        install(temporary, &place, replace)?;
        Ok(Kept { path: to.display().to_string(), entries, set_aside: None })
    }

    /// Puts a backup in the place of a journal. The backup is checked first. Where `replace` is
    /// set, a journal that is there is kept under a name with `.before-restore` and the time in
    /// it.
    ///
    /// # Errors
    /// If the backup is missing, damaged or no journal; if there is a file already; if the journal
    /// is open elsewhere.
    pub fn restore(backup: &Path, to: &Path, replace: bool) -> Result<Kept, Error> {
        refuse_existing(to, replace)?;
        if !backup.is_file() {
            return Err(error::missing(backup));
        }
        let wait = store::default_wait();
        let wait_ms = u64::try_from(wait.as_millis()).unwrap_or(u64::MAX);
        store::look(backup, wait_ms)?;
        let failed = |e: rusqlite::Error| error::sqlite(backup, wait_ms, &e);
        let source = Connection::open_with_flags(backup, OpenFlags::SQLITE_OPEN_READ_ONLY)
            .map_err(failed)?;
        source.busy_timeout(wait).map_err(failed)?;
        let header = Header::read(&source).map_err(failed)?;
        if header.application_id != schema::APPLICATION_ID {
            return Err(refused(backup, header));
        }
        let place = followed(to);
        let private_as = if place.exists() { place.as_path() } else { backup };
        let (temporary, entries) = copy((&source, Life::Another), &place, private_as, wait_ms)?;
        let set_aside = set_aside(&place, wait)?;
        install(temporary, &place, replace)?;
        Ok(Kept {
            path: to.display().to_string(),
            entries,
            set_aside: set_aside.map(|p| p.display().to_string()),
        })
    }
}

fn refuse_existing(to: &Path, replace: bool) -> Result<(), Error> {
    if !replace && to.try_exists().map_err(|e| error::io(to, e))? {
        return Err(error::exists(to));
    }
    Ok(())
}

/// Where a path leads: a link is followed, so that its target is replaced and not the link.
fn followed(path: &Path) -> PathBuf {
    std::fs::canonicalize(path)
        .or_else(|_| {
            std::fs::read_link(path)
                .map(|target| path.parent().unwrap_or(Path::new("")).join(target))
        })
        .unwrap_or_else(|_| path.to_path_buf())
}

/// Copies a journal beside `to` as one sound file of its own; answers its name and the number of
/// entries. The copy is created exclusively under a name that cannot be guessed, private until it
/// is complete, and then as open as the file that it takes after.
fn copy(
    source: (&Connection, Life),
    to: &Path,
    takes_after: &Path,
    wait_ms: u64,
) -> Result<(TempPath, u64), Error> {
    let temporary = tempfile::Builder::new()
        .prefix(".guardcell-")
        .suffix(".part")
        .tempfile_in(folder_of(to))
        .map_err(|e| error::io(to, e))?
        .into_temp_path();
    let entries = copy_into(source, &temporary, wait_ms).inspect_err(|_| remove(&temporary))?;
    std::fs::metadata(takes_after)
        .and_then(|about| std::fs::set_permissions(&temporary, about.permissions()))
        .map_err(|e| error::io(to, e))?;
    Ok((temporary, entries))
}

/// Whether cursors of devices go on in a copy.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Life {
    Same,
    Another,
}

fn copy_into((source, life): (&Connection, Life), to: &Path, wait_ms: u64) -> Result<u64, Error> {
    let failed = |e: rusqlite::Error| error::sqlite(to, wait_ms, &e);
    let mut target = Connection::open(to).map_err(failed)?;
    {
        let backup = Backup::new(source, &mut target).map_err(failed)?;
        backup.run_to_completion(1024, Duration::from_millis(5), None).map_err(failed)?;
    }
    // The copy must not need a log beside it.
    target
        .query_row("PRAGMA journal_mode = DELETE", [], |r| r.get::<_, String>(0))
        .map_err(failed)?;
    if life == Life::Another {
        schema::begin_life(&target).map_err(failed)?;
    }
    let found = examine(&target, to, wait_ms)?;
    target.close().map_err(|(_, e)| failed(e))?;
    if let Some(problem) = found.problems.first() {
        return Err(error::damaged(to, problem));
    }
    // Opened for writing: some systems flush nothing through a handle that only reads.
    std::fs::OpenOptions::new()
        .write(true)
        .open(to)
        .and_then(|f| f.sync_all())
        .map_err(|e| error::io(to, e))?;
    Ok(found.entries)
}

/// Gives the finished copy its name.
fn install(temporary: TempPath, to: &Path, replace: bool) -> Result<(), Error> {
    let done = if replace { temporary.persist(to) } else { temporary.persist_noclobber(to) };
    done.map_err(|e| match e.error.kind() {
        std::io::ErrorKind::AlreadyExists => error::exists(to),
        _ => error::io(to, e.error),
    })?;
    sync_folder(to)
}

/// Keeps the journal in the way under another name. One that opens is first made whole in one
/// file, under a lock that nobody else may hold; one that does not keeps its logs beside it.
fn set_aside(path: &Path, wait: Duration) -> Result<Option<PathBuf>, Error> {
    if !path.try_exists().map_err(|e| error::io(path, e))? {
        return Ok(None);
    }
    let wait_ms = u64::try_from(wait.as_millis()).unwrap_or(u64::MAX);
    let whole = || -> rusqlite::Result<()> {
        let c = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
        c.busy_timeout(wait)?;
        c.query_row("PRAGMA journal_mode = DELETE", [], |r| r.get::<_, String>(0))?;
        c.close().map_err(|(_, e)| e)
    };
    match whole() {
        Ok(()) => {}
        Err(e) if error::is_beyond_opening(&e) => {}
        Err(e) => return Err(error::sqlite(path, wait_ms, &e)),
    }
    let stamp = store::now().instant.strftime("%Y%m%dT%H%M%S%3fZ").to_string();
    let aside = sidecar(path, &format!(".before-restore-{stamp}"));
    // Logs first: a log beside another file would be replayed into it.
    for suffix in ["-wal", "-shm", "-journal"] {
        let from = sidecar(path, suffix);
        if from.exists() {
            std::fs::rename(&from, sidecar(&aside, suffix)).map_err(|e| error::io(&from, e))?;
        }
    }
    // A second name, so that the first is never without a file; the new one is renamed over it.
    std::fs::hard_link(path, &aside)
        .or_else(|_| std::fs::copy(path, &aside).map(|_| ()))
        .map_err(|e| error::io(&aside, e))?;
    sync_folder(path)?;
    Ok(Some(aside))
}

fn remove(path: &Path) {
    for suffix in ["", "-wal", "-shm", "-journal"] {
        // Nothing there is as good as removed.
        let _ = std::fs::remove_file(sidecar(path, suffix));
    }
}

fn examine(connection: &Connection, path: &Path, wait_ms: u64) -> Result<Verification, Error> {
    let failed = |e: rusqlite::Error| error::sqlite(path, wait_ms, &e);
    let header = Header::read(connection).map_err(failed)?;
    let mut problems = Vec::new();
    for line in lines(connection, "PRAGMA integrity_check").map_err(failed)? {
        if line != "ok" {
            problems.push(line);
        }
    }
    for line in lines(connection, "SELECT \"table\" || ' ' || rowid FROM pragma_foreign_key_check")
        .map_err(failed)?
    {
        problems.push(format!("a reference leads nowhere: {line}"));
    }
    let mut out = Verification {
        path: path.display().to_string(),
        format: header.format,
        entries: 0,
        standing: 0,
        first: None,
        last: None,
        problems,
    };
    if header.bare {
        return Ok(out);
    }
    entries(connection, path, &mut out).map_err(failed)?;
    Ok(out)
}

fn lines(connection: &Connection, sql: &str) -> rusqlite::Result<Vec<String>> {
    let mut statement = connection.prepare(sql)?;
    let rows =
        statement.query_map([], |r| Ok(r.get::<_, Option<String>>(0)?.unwrap_or_default()))?;
    rows.collect()
}

/// Every entry with what refers to it. The plants are gathered once: their table has no index by
/// entry.
const EVERY_ENTRY: &str = "
    SELECT e.seq, e.id, e.recorded, e.at, e.at_us, e.site, e.kind, e.supersedes, e.body, p.plants,
           (SELECT c.seq FROM entry c WHERE c.supersedes = e.id),
           (SELECT o.seq FROM entry o WHERE o.id = e.supersedes),
           (SELECT s.crc FROM entry_checksum s WHERE s.seq = e.seq)
    FROM entry e
    LEFT JOIN (SELECT seq, group_concat(plant, ';' ORDER BY plant) AS plants
                 FROM entry_plant GROUP BY seq) p ON p.seq = e.seq
    ORDER BY e.seq";

/// Reads every entry back and holds it against its columns and its plants.
fn entries(connection: &Connection, path: &Path, out: &mut Verification) -> rusqlite::Result<()> {
    let mut statement = connection.prepare(EVERY_ENTRY)?;
    let mut rows = statement.query([])?;
    let mut first: Option<(i64, String)> = None;
    let mut last: Option<(i64, String)> = None;
    let mut expected = 1;
    while let Some(row) = rows.next()? {
        let seq: i64 = row.get(0)?;
        let (id, at): (String, String) = (row.get(1)?, row.get(3)?);
        let (at_us, body): (i64, String) = (row.get(4)?, row.get(8)?);
        let mut wrong = |what: String| out.problems.push(format!("entry {seq} ({id}): {what}"));
        out.entries += 1;
        if seq != expected {
            wrong(format!("{} entries before it are missing", seq - expected));
        }
        expected = seq + 1;
        match row.get::<_, Option<i64>>(12)? {
            None => wrong("its checksum is missing".into()),
            Some(crc) if crc != checksum(seq, &body) => {
                wrong("its body is not what was recorded: the checksum differs".into());
            }
            Some(_) => {}
        }
        match serde_json::from_str::<Draft>(&body) {
            Err(e) => wrong(format!("its body cannot be read: {e}")),
            Ok(draft) => {
                let mut plants: Vec<String> =
                    draft.event.plants().into_iter().map(str::to_owned).collect();
                plants.sort();
                let plants = (!plants.is_empty()).then(|| plants.join(";"));
                let columns = (
                    row.get::<_, String>(2)?,
                    row.get::<_, String>(5)?,
                    row.get::<_, String>(6)?,
                    row.get::<_, Option<String>>(7)?,
                    row.get::<_, Option<String>>(9)?,
                );
                let says = (
                    draft.recorded.clone().unwrap_or_default(),
                    draft.site.clone(),
                    draft.event.kind().to_owned(),
                    draft.supersedes.clone(),
                    plants,
                );
                let instant = Moment::parse("/at", &draft.at).map(|m| m.instant.as_microsecond());
                if columns != says || draft.at != at || !matches!(instant, Ok(us) if us == at_us) {
                    wrong("its columns do not agree with its body".into());
                }
                let recorded = draft.recorded.clone().unwrap_or_default();
                match draft.checked(&id, &recorded) {
                    Err(e) => wrong(format!("it breaks a rule: {e}")),
                    Ok(entry) => {
                        if encode(path, &entry).is_ok_and(|b| b != body) {
                            wrong("its body is not in canonical form".into());
                        }
                    }
                }
            }
        }
        if row.get::<_, Option<i64>>(11)?.is_some_and(|old| old >= seq) {
            wrong("it corrects an entry that was recorded later".into());
        }
        let kind: String = row.get(6)?;
        if row.get::<_, Option<i64>>(10)?.is_none() && kind != "retraction" {
            out.standing += 1;
        }
        if first.as_ref().is_none_or(|(us, _)| at_us < *us) {
            first = Some((at_us, at.clone()));
        }
        if last.as_ref().is_none_or(|(us, _)| at_us >= *us) {
            last = Some((at_us, at));
        }
    }
    out.first = first.map(|(_, t)| t);
    out.last = last.map(|(_, t)| t);
    Ok(())
}

/// Makes sure that a folder for the journal is there.
///
/// # Errors
/// If it cannot be made.
pub fn make_folder(path: &Path) -> Result<(), Error> {
    let folder = folder_of(path);
    std::fs::create_dir_all(folder).map_err(|e| error::io(folder, e))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_table_is_read_once_an_entry() {
        let folder = tempfile::tempdir().unwrap();
        let journal = Journal::open(&folder.path().join("j.db")).unwrap();
        let mut plan =
            journal.connection.prepare(&format!("EXPLAIN QUERY PLAN {EVERY_ENTRY}")).unwrap();
        let steps: Vec<(i64, i64, String)> = plan
            .query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(3)?)))
            .unwrap()
            .collect::<rusqlite::Result<_>>()
            .unwrap();
        let of = |id: i64| steps.iter().find(|(own, ..)| *own == id).map(|(_, _, what)| what);
        for (_, above, what) in steps.iter().filter(|(.., what)| what.starts_with("SCAN ")) {
            let above = of(*above).map_or("", String::as_str);
            assert!(!above.contains("CORRELATED"), "{above}: {what}");
        }
        assert!(steps.iter().any(|(.., what)| what.starts_with("SEARCH p")), "{steps:?}");
    }
}
