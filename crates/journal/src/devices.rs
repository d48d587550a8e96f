//! Devices that may read and write the journal of a folder, in a file of their own beside it: a
//! backup of the journal holds no token, and a restore brings no revoked device back.
//!
//! A device is paired by a code that works once and for [`CODE_LASTS`], and then shows a token with
//! each request. Codes and tokens are random and kept as hashes.

use crate::error;
use crate::secret::{self, Hash};
use crate::store::{default_wait, prepare, sync_folder};
use guardcell::{Code, Error};
use jiff::{SignedDuration, Timestamp};
use rusqlite::{Connection, OpenFlags, OptionalExtension, TransactionBehavior, params};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

/// How long a pairing code works.
pub const CODE_LASTS: SignedDuration = SignedDuration::from_mins(10);
/// Devices of one folder, at most.
pub const MOST_DEVICES: usize = 64;
/// How much later a device was seen before that is written down.
const SEEN_EVERY: SignedDuration = SignedDuration::from_mins(1);
/// How far the clock may have gone back since a code was made.
const CLOCK_BACK: SignedDuration = SignedDuration::from_mins(1);
/// `GcDv` in the header of the file.
const APPLICATION_ID: i64 = 0x4763_4476;
const FORMAT: i64 = 1;

const TABLES: &str = "
    CREATE TABLE device (
        name     TEXT PRIMARY KEY,
        token    BLOB NOT NULL UNIQUE CHECK (length(token) = 32),
        created  TEXT NOT NULL,
        seen     TEXT NOT NULL
    ) STRICT;
    CREATE TABLE code (
        one      INTEGER PRIMARY KEY CHECK (one = 1),
        code     BLOB NOT NULL CHECK (length(code) = 32),
        name     TEXT,
        created  TEXT NOT NULL
    ) STRICT;";

/// The devices of a folder.
#[derive(Debug)]
pub struct Devices {
    connection: Connection,
    path: PathBuf,
    wait_ms: u64,
}

/// A device that is paired.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Device {
    /// Its name.
    pub name: String,
    /// When it was paired, RFC 3339.
    pub created: String,
    /// When it was last seen, RFC 3339, to about a minute.
    pub seen: String,
}

/// A pairing code, shown once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewCode {
    /// The code, in groups.
    pub code: String,
    /// Until when it works.
    pub until: Timestamp,
}

/// The token of a device that was just paired, shown once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewDevice {
    /// The token.
    pub token: String,
    /// The name under which the device is listed.
    pub name: String,
}

impl Devices {
    /// Opens the file of devices; creates it, readable by its owner only, if it is missing.
    ///
    /// # Errors
    /// For a file that is not one of devices or that a newer program wrote, and where it cannot be
    /// written.
    pub fn open(path: &Path) -> Result<Self, Error> {
        make_private(path)?;
        let wait = default_wait();
        let wait_ms = u64::try_from(wait.as_millis()).unwrap_or(u64::MAX);
        let failed = |e: rusqlite::Error| error::sqlite(path, wait_ms, &e);
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let mut connection = Connection::open_with_flags(path, flags).map_err(failed)?;
        prepare(&connection, wait).map_err(failed)?;
        let (mut id, mut format) = header(&connection).map_err(failed)?;
        if (id, format) == (0, 0) {
            let transaction = connection
                .transaction_with_behavior(TransactionBehavior::Immediate)
                .map_err(failed)?;
            (id, format) = header(&transaction).map_err(failed)?;
            let tables: i64 = transaction
                .query_row("SELECT count(*) FROM sqlite_schema", [], |r| r.get(0))
                .map_err(failed)?;
            if (id, format, tables) == (0, 0, 0) {
                (id, format) = (APPLICATION_ID, FORMAT);
                transaction
                    .execute_batch(TABLES)
                    .and_then(|()| transaction.pragma_update(None, "application_id", id))
                    .and_then(|()| transaction.pragma_update(None, "user_version", format))
                    .and_then(|()| transaction.commit())
                    .map_err(failed)?;
                sync_folder(path)?;
            }
        }
        match (id, format) {
            (APPLICATION_ID, FORMAT) => Ok(Self { connection, path: path.to_path_buf(), wait_ms }),
            (APPLICATION_ID, newer) => Err(error::newer(path, newer, FORMAT)),
            _ => Err(error::not_of_devices(path)),
        }
    }

    /// As [`Devices::open`]; `None` if there is no such file.
    ///
    /// # Errors
    /// As [`Devices::open`].
    pub fn open_existing(path: &Path) -> Result<Option<Self>, Error> {
        let there = path.try_exists().map_err(|e| error::io(path, e))?;
        if there { Self::open(path).map(Some) } else { Ok(None) }
    }

    /// Makes a pairing code, which replaces one that was made before. `name` is what the device will
    /// be called; without it the device says.
    ///
    /// # Errors
    /// For a name that is blank, too long or taken; where the file cannot be written.
    pub fn new_code(&mut self, name: Option<&str>, now: Timestamp) -> Result<NewCode, Error> {
        if let Some(name) = name {
            check_name(name)?;
            if self.find(name)?.is_some() {
                return Err(taken(name));
            }
        }
        self.room()?;
        let code = secret::code().map_err(|e| error::storage(&self.path, e, "try again"))?;
        self.connection
            .execute(
                "INSERT OR REPLACE INTO code (one, code, name, created) VALUES (1, ?1, ?2, ?3)",
                params![Hash::of_code(&code).bytes(), name, now.to_string()],
            )
            .map_err(|e| self.failed(&e))?;
        Ok(NewCode { code: secret::grouped(&code), until: now + CODE_LASTS })
    }

    /// Pairs a device that has the code, which is used up by that.
    ///
    /// # Errors
    /// [`Code::WrongCode`] for a code that is wrong, used up or too old; for a name that is blank or
    /// too long, or one device too many, with the code still good.
    pub fn pair(&mut self, code: &str, name: &str, now: Timestamp) -> Result<NewDevice, Error> {
        let given = Hash::of_code(&secret::letters(code));
        let (path, wait_ms) = (self.path.clone(), self.wait_ms);
        let failed = |e: rusqlite::Error| error::sqlite(&path, wait_ms, &e);
        let transaction = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(failed)?;
        let kept = transaction
            .query_row("SELECT code, name, created FROM code", [], |r| {
                Ok((r.get::<_, Vec<u8>>(0)?, r.get::<_, Option<String>>(1)?, r.get(2)?))
            })
            .optional()
            .map_err(failed)?;
        let Some((hash, wanted, created)) = kept else { return Err(wrong_code()) };
        if !given.is(&hash) || !is_fresh(created, now) {
            return Err(wrong_code());
        }
        check_name(name)?;
        let devices = list(&transaction).map_err(failed)?;
        if devices.len() >= MOST_DEVICES {
            return Err(too_many());
        }
        let name = free_name(wanted.as_deref().unwrap_or(name), &devices);
        let token = secret::token().map_err(|e| error::storage(&path, e, "try again"))?;
        let now = now.to_string();
        transaction
            .execute(
                "INSERT INTO device (name, token, created, seen) VALUES (?1, ?2, ?3, ?3)",
                params![name, Hash::of(&token).bytes(), now],
            )
            .and_then(|_| transaction.execute("DELETE FROM code", []))
            .and_then(|_| transaction.commit())
            .map_err(failed)?;
        Ok(NewDevice { token, name })
    }

    /// The device that has this token; notes that it was seen.
    ///
    /// # Errors
    /// [`Code::NotPaired`] for a token that no device has, such as a revoked one.
    pub fn with_token(&self, token: &str, now: Timestamp) -> Result<Device, Error> {
        let given = Hash::of(token);
        let mut statement = self
            .connection
            .prepare_cached("SELECT name, created, seen, token FROM device")
            .map_err(|e| self.failed(&e))?;
        let rows = statement
            .query_map([], |r| Ok((device(r)?, r.get::<_, Vec<u8>>(3)?)))
            .map_err(|e| self.failed(&e))?;
        let mut found = None;
        // All are compared, each in constant time.
        for row in rows {
            let (device, hash) = row.map_err(|e| self.failed(&e))?;
            if given.is(&hash) {
                found = Some(device);
            }
        }
        let device = found.ok_or_else(not_paired)?;
        let seen = device.seen.parse::<Timestamp>().ok();
        if seen.is_none_or(|seen| now.duration_since(seen).as_secs().abs() >= SEEN_EVERY.as_secs())
        {
            // It is for people: another program that writes is not waited for long, nor is this a
            // reason to refuse the device.
            let _ = self.connection.execute(
                "UPDATE device SET seen = ?1 WHERE name = ?2",
                params![now.to_string(), device.name],
            );
        }
        Ok(device)
    }

    /// Every device, in the order of names.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn list(&self) -> Result<Vec<Device>, Error> {
        list(&self.connection).map_err(|e| self.failed(&e))
    }

    /// Takes a device's token away, at once.
    ///
    /// # Errors
    /// [`Code::Unknown`] if no device has this name; where the file cannot be written.
    pub fn revoke(&mut self, name: &str) -> Result<(), Error> {
        let gone = self
            .connection
            .execute("DELETE FROM device WHERE name = ?1", [name])
            .map_err(|e| self.failed(&e))?;
        if gone > 0 {
            return Ok(());
        }
        let names: Vec<String> =
            self.list()?.into_iter().map(|d| format!("{:?}", d.name)).collect();
        let hint = if names.is_empty() {
            "no device is paired".to_owned()
        } else {
            format!("name one of {}", names.join(", "))
        };
        let detail = format!("no device is named {:?}", guardcell::excerpt(name, 80));
        Err(Error::new(Code::Unknown, detail, hint).at("/name"))
    }

    fn find(&self, name: &str) -> Result<Option<Device>, Error> {
        Ok(self.list()?.into_iter().find(|d| d.name == name))
    }

    fn room(&self) -> Result<(), Error> {
        if self.list()?.len() >= MOST_DEVICES { Err(too_many()) } else { Ok(()) }
    }

    fn failed(&self, e: &rusqlite::Error) -> Error {
        error::sqlite(&self.path, self.wait_ms, e)
    }
}

fn header(connection: &Connection) -> rusqlite::Result<(i64, i64)> {
    let one = |sql: &str| connection.query_row(sql, [], |row| row.get::<_, i64>(0));
    Ok((one("PRAGMA application_id")?, one("PRAGMA user_version")?))
}

fn device(row: &rusqlite::Row<'_>) -> rusqlite::Result<Device> {
    Ok(Device { name: row.get(0)?, created: row.get(1)?, seen: row.get(2)? })
}

fn list(connection: &Connection) -> rusqlite::Result<Vec<Device>> {
    let mut statement =
        connection.prepare("SELECT name, created, seen FROM device ORDER BY name")?;
    let rows = statement.query_map([], device)?;
    rows.collect()
}

/// A file that only its owner can read, before anything is in it.
fn make_private(path: &Path) -> Result<(), Error> {
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    match options.open(path) {
        Ok(_) => Ok(()),
        Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => Ok(()),
        Err(e) => Err(error::io(path, e)),
    }
}

/// Whether a code made then still works; a clock that was set back makes no code last longer.
fn is_fresh(created: String, now: Timestamp) -> bool {
    created
        .parse::<Timestamp>()
        .is_ok_and(|made| now < made + CODE_LASTS && made - CLOCK_BACK < now)
}

/// The name, with the first number that makes it free.
fn free_name(wanted: &str, devices: &[Device]) -> String {
    let is_free = |name: &String| !devices.iter().any(|d| d.name == *name);
    let short: String = wanted.chars().take(60).collect();
    let numbered = (2..).map(|n: u32| format!("{short} {n}"));
    std::iter::once(wanted.to_owned()).chain(numbered).find(is_free).unwrap_or_default()
}

fn check_name(name: &str) -> Result<(), Error> {
    let length = name.chars().count();
    let plain = name.trim() == name && !name.chars().any(guardcell::is_hidden);
    if (1..=64).contains(&length) && plain {
        return Ok(());
    }
    Err(Error::new(
        Code::InvalidText,
        format!("{:?} cannot be the name of a device", guardcell::excerpt(name, 80)),
        "give 1 to 64 characters, without blanks round them and without control characters",
    )
    .at("/name"))
}

fn taken(name: &str) -> Error {
    let hint = "give another name, or revoke that device first";
    Error::new(Code::DuplicateId, format!("a device is named {name:?} already"), hint).at("/name")
}

fn too_many() -> Error {
    let detail = format!("{MOST_DEVICES} devices are paired already");
    Error::new(Code::TooMany, detail, "revoke one with `guardcell pair --revoke NAME`")
}

fn wrong_code() -> Error {
    Error::new(
        Code::WrongCode,
        "this code does not pair: it is wrong, was used already, or is older than ten minutes",
        "run `guardcell pair` for a new one",
    )
    .at("/code")
}

fn not_paired() -> Error {
    Error::new(
        Code::NotPaired,
        "no paired device has this token",
        "pair the device with a code of `guardcell pair`",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Timestamp {
        text.parse().unwrap()
    }

    fn devices() -> (tempfile::TempDir, Devices) {
        let dir = tempfile::tempdir().unwrap();
        let devices = Devices::open(&dir.path().join("devices.db")).unwrap();
        (dir, devices)
    }

    #[test]
    fn a_code_works_once_and_for_ten_minutes() {
        let (_dir, mut devices) = devices();
        let made = at("2026-06-21T05:00:00Z");
        let soon = at("2026-06-21T05:09:59Z");
        let refused =
            |d: &mut Devices, code: &str, now| d.pair(code, "phone", now).unwrap_err().code();
        assert_eq!(refused(&mut devices, "34679-ACDEF", made), Code::WrongCode);

        let new = devices.new_code(None, made).unwrap();
        assert_eq!(new.until, at("2026-06-21T05:10:00Z"));
        assert_eq!(refused(&mut devices, &new.code, new.until), Code::WrongCode);
        // A clock that went back by an hour.
        assert_eq!(refused(&mut devices, &new.code, at("2026-06-21T04:00:00Z")), Code::WrongCode);
        let typed = new.code.to_lowercase().replace('-', " ");
        // A name that cannot be does not use the code up.
        assert_eq!(devices.pair(&typed, " ", soon).unwrap_err().pointer(), "/name");
        let paired = devices.pair(&typed, "phone", soon).unwrap();
        assert_eq!(paired.name, "phone");
        assert_eq!(refused(&mut devices, &new.code, soon), Code::WrongCode);

        // A new code replaces the one before.
        let old = devices.new_code(None, made).unwrap();
        let new = devices.new_code(None, made).unwrap();
        assert_eq!(refused(&mut devices, &old.code, soon), Code::WrongCode);
        assert_eq!(devices.pair(&new.code, "phone", soon).unwrap().name, "phone 2");
        let named = devices.new_code(Some("tablet"), made).unwrap();
        assert_eq!(devices.pair(&named.code, "phone", soon).unwrap().name, "tablet");
        assert_eq!(devices.new_code(Some("tablet"), made).unwrap_err().code(), Code::DuplicateId);
    }

    #[test]
    fn a_token_is_known_until_it_is_revoked() {
        let (dir, mut devices) = devices();
        let now = at("2026-06-21T05:00:00Z");
        let code = devices.new_code(None, now).unwrap().code;
        let paired = devices.pair(&code, "phone", now).unwrap();
        assert_eq!(paired.token.len(), 64);
        let later = at("2026-06-21T06:00:00Z");
        assert_eq!(devices.with_token(&paired.token, later).unwrap().name, "phone");
        assert_eq!(devices.list().unwrap()[0].seen, "2026-06-21T06:00:00Z");
        for wrong in ["", &paired.token[1..], &"0".repeat(64), &paired.token.to_uppercase()] {
            let e = devices.with_token(wrong, later).unwrap_err();
            assert_eq!(e.code(), Code::NotPaired, "{wrong}");
        }
        // Neither code nor token is in the file.
        let bytes = std::fs::read(dir.path().join("devices.db")).unwrap();
        let holds = |text: &str| bytes.windows(text.len()).any(|w| w == text.as_bytes());
        assert!(!holds(&paired.token) && !holds(&code) && !holds(&code.replace('-', "")));
        assert!(devices.revoke("tablet").unwrap_err().hint().contains("phone"));
        devices.revoke("phone").unwrap();
        assert_eq!(devices.with_token(&paired.token, later).unwrap_err().code(), Code::NotPaired);
    }

    #[test]
    fn other_files_are_left_alone() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("journal.db");
        drop(crate::Journal::open(&path).unwrap());
        let before = std::fs::read(&path).unwrap();
        assert_eq!(Devices::open(&path).unwrap_err().code(), Code::MalformedFile);
        assert_eq!(std::fs::read(&path).unwrap(), before);
        std::fs::write(&path, "name,token\n").unwrap();
        assert_eq!(Devices::open(&path).unwrap_err().code(), Code::MalformedFile);
        assert!(Devices::open_existing(&dir.path().join("none")).unwrap().is_none());
        let newer = dir.path().join("devices.db");
        Devices::open(&newer).unwrap().connection.pragma_update(None, "user_version", 9).unwrap();
        assert!(Devices::open(&newer).unwrap_err().detail().contains("newer"));
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt as _;
            let mode = std::fs::metadata(&newer).unwrap().permissions().mode();
            assert_eq!(mode & 0o777, 0o600);
        }
    }

    #[test]
    fn devices_have_an_end() {
        let (_dir, mut devices) = devices();
        let now = at("2026-06-21T05:00:00Z");
        for _ in 0..MOST_DEVICES {
            let code = devices.new_code(None, now).unwrap().code;
            devices.pair(&code, "phone", now).unwrap();
        }
        assert_eq!(devices.new_code(None, now).unwrap_err().code(), Code::TooMany);
        let names: std::collections::BTreeSet<_> =
            devices.list().unwrap().into_iter().map(|d| d.name).collect();
        assert!(names.contains("phone 64") && names.len() == 64);
    }
}
