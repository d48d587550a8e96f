//! The tables, and how an older file is brought up to date.
//!
//! The body of an entry is kept as the JSON that goes over the wire, so that a file can always be
//! exported, by a newer program too; what is searched for stands beside it in columns. Triggers
//! hold the rule that an entry is never changed or removed.

use crate::checksum::checksum;
use rusqlite::{Connection, TransactionBehavior, params};

/// `GcJr` in the header of the file: tells a journal from any other `SQLite` file.
pub(crate) const APPLICATION_ID: i64 = 0x4763_4a72;

/// One step for each format, in order. A step that has been released is never edited.
const STEPS: [&str; 4] = [
    // 1: entries.
    "CREATE TABLE entry (
        seq        INTEGER PRIMARY KEY,
        id         TEXT NOT NULL UNIQUE,
        recorded   TEXT NOT NULL,
        at         TEXT NOT NULL,
        at_us      INTEGER NOT NULL,
        site       TEXT NOT NULL,
        kind       TEXT NOT NULL,
        supersedes TEXT UNIQUE REFERENCES entry (id),
        body       TEXT NOT NULL CHECK (json_valid(body)),
        CHECK (supersedes IS NULL OR supersedes <> id)
    ) STRICT;
    CREATE INDEX entry_by_time ON entry (at_us);
    CREATE TRIGGER entry_stays BEFORE UPDATE ON entry
        BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
    CREATE TRIGGER entry_is_kept BEFORE DELETE ON entry
        BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;",
    // 2: plants of an entry, for the history of one plant.
    "CREATE TABLE entry_plant (
        plant TEXT NOT NULL,
        seq   INTEGER NOT NULL REFERENCES entry (seq),
        PRIMARY KEY (plant, seq)
    ) STRICT, WITHOUT ROWID;
    INSERT INTO entry_plant (plant, seq)
        SELECT DISTINCT CASE p.type WHEN 'object' THEN p.value ->> '$.plant' ELSE p.value END, e.seq
        FROM entry e, json_each(e.body, '$.event.plants') p;
    CREATE TRIGGER entry_plant_stays BEFORE UPDATE ON entry_plant
        BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
    CREATE TRIGGER entry_plant_is_kept BEFORE DELETE ON entry_plant
        BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;",
    // 3: a checksum of each entry; those of older entries are added by `migrate`.
    "CREATE TABLE entry_checksum (
        seq INTEGER PRIMARY KEY REFERENCES entry (seq),
        crc INTEGER NOT NULL
    ) STRICT;
    CREATE TRIGGER entry_checksum_stays BEFORE UPDATE ON entry_checksum
        BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
    CREATE TRIGGER entry_checksum_is_kept BEFORE DELETE ON entry_checksum
        BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;",
    // 4: the life that the sequence belongs to; a restore begins another.
    "CREATE TABLE life (
        one INTEGER PRIMARY KEY CHECK (one = 1),
        id  TEXT NOT NULL
    ) STRICT;
    INSERT INTO life VALUES (1, lower(hex(randomblob(8))));",
];

/// Begins another life, in a file that has one: cursors of the old one do not hold any more.
pub(crate) fn begin_life(connection: &Connection) -> rusqlite::Result<()> {
    let lives: i64 = connection.query_row(
        "SELECT count(*) FROM sqlite_schema WHERE name = 'life'",
        [],
        |row| row.get(0),
    )?;
    if lives > 0 {
        connection.execute("UPDATE life SET id = lower(hex(randomblob(8)))", [])?;
    }
    Ok(())
}

/// Gives a checksum to every entry that has none.
fn add_checksums(connection: &Connection) -> rusqlite::Result<()> {
    let mut read = connection
        .prepare("SELECT seq, body FROM entry WHERE seq NOT IN (SELECT seq FROM entry_checksum)")?;
    let mut write = connection.prepare("INSERT INTO entry_checksum (seq, crc) VALUES (?1, ?2)")?;
    let mut rows = read.query([])?;
    while let Some(row) = rows.next()? {
        let (seq, body): (i64, String) = (row.get(0)?, row.get(1)?);
        write.execute(params![seq, checksum(seq, &body)])?;
    }
    Ok(())
}

/// The newest format this program knows.
pub(crate) const NEWEST: i64 = STEPS.len() as i64;

/// What the header says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Header {
    pub(crate) application_id: i64,
    pub(crate) format: i64,
    /// Whether there is no table at all.
    pub(crate) bare: bool,
}

impl Header {
    pub(crate) fn read(connection: &Connection) -> rusqlite::Result<Self> {
        let one = |sql: &str| connection.query_row(sql, [], |row| row.get::<_, i64>(0));
        Ok(Self {
            application_id: one("PRAGMA application_id")?,
            format: one("PRAGMA user_version")?,
            bare: one("SELECT count(*) FROM sqlite_schema")? == 0,
        })
    }

    /// A file that nobody has written to yet.
    pub(crate) const fn is_new(self) -> bool {
        self.application_id == 0 && self.format == 0 && self.bare
    }
}

/// Brings the file to the newest format in one transaction: after a crash it has the old format
/// or the new one, never something between. Returns the header that was found if it is not one
/// of ours.
pub(crate) fn migrate(connection: &mut Connection) -> rusqlite::Result<Result<(), Header>> {
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let header = Header::read(&transaction)?;
    let ours = header.is_new() || header.application_id == APPLICATION_ID;
    if !ours || !(0..=NEWEST).contains(&header.format) {
        return Ok(Err(header));
    }
    if header.format == NEWEST {
        return Ok(Ok(()));
    }
    let done = usize::try_from(header.format).unwrap_or(0);
    for step in STEPS.iter().skip(done) {
        transaction.execute_batch(step)?;
    }
    add_checksums(&transaction)?;
    transaction.pragma_update(None, "application_id", APPLICATION_ID)?;
    transaction.pragma_update(None, "user_version", NEWEST)?;
    transaction.commit()?;
    Ok(Ok(()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_old_file_gets_its_plants() {
        let mut c = Connection::open_in_memory().unwrap();
        c.execute_batch(STEPS[0]).unwrap();
        c.pragma_update(None, "application_id", APPLICATION_ID).unwrap();
        c.pragma_update(None, "user_version", 1).unwrap();
        for (id, body) in [
            ("a", r#"{"event":{"kind":"round","plants":[{"plant":"p1"},{"plant":"p2"}]}}"#),
            ("b", r#"{"event":{"kind":"flush","plants":["p2"]}}"#),
            ("c", r#"{"event":{"kind":"retraction"}}"#),
        ] {
            c.execute(
                "INSERT INTO entry (id, recorded, at, at_us, site, kind, body) VALUES (?1, '', '', 0, '', '', ?2)",
                [id, body],
            )
            .unwrap();
        }
        migrate(&mut c).unwrap().unwrap();
        let mut found = c.prepare("SELECT plant, seq FROM entry_plant ORDER BY 1, 2").unwrap();
        let rows: Vec<(String, i64)> = found
            .query_map([], |r| Ok((r.get(0)?, r.get(1)?)))
            .unwrap()
            .map(Result::unwrap)
            .collect();
        assert_eq!(rows, [("p1".into(), 1), ("p2".into(), 1), ("p2".into(), 2)]);
        assert_eq!(Header::read(&c).unwrap().format, NEWEST);
        let sums: i64 =
            c.query_row("SELECT count(*) FROM entry_checksum", [], |r| r.get(0)).unwrap();
        assert_eq!(sums, 3);
    }

    #[test]
    fn entries_cannot_be_changed_or_removed() {
        let mut c = Connection::open_in_memory().unwrap();
        migrate(&mut c).unwrap().unwrap();
        c.execute_batch(
            "INSERT INTO entry VALUES (1, 'a', '', '', 0, '', '', NULL, '{}');
             INSERT INTO entry_plant VALUES ('p', 1);
             INSERT INTO entry_checksum VALUES (1, 7);",
        )
        .unwrap();
        for sql in [
            "UPDATE entry SET site = 'x'",
            "DELETE FROM entry",
            "UPDATE entry_plant SET plant = 'q'",
            "DELETE FROM entry_plant",
            "UPDATE entry_checksum SET crc = 8",
            "DELETE FROM entry_checksum",
            "INSERT INTO entry VALUES (2, 'b', '', '', 0, '', '', 'nobody', '{}')",
            "INSERT INTO entry VALUES (2, 'b', '', '', 0, '', '', NULL, 'no json')",
        ] {
            assert!(c.execute_batch(sql).is_err(), "{sql}");
        }
    }

    #[test]
    fn a_newer_or_foreign_file_is_not_migrated() {
        for (id, format) in [(APPLICATION_ID, NEWEST + 1), (7, 0), (0, 3)] {
            let mut c = Connection::open_in_memory().unwrap();
            c.pragma_update(None, "application_id", id).unwrap();
            c.pragma_update(None, "user_version", format).unwrap();
            assert_eq!(migrate(&mut c).unwrap().unwrap_err().format, format);
            assert!(Header::read(&c).unwrap().bare);
        }
    }
}
