//! What can go wrong with the file of a journal.

use guardcell::{Code, Error};
use std::path::Path;

/// Another program holds the journal.
pub(crate) fn busy(path: &Path, waited_ms: u64) -> Error {
    Error::new(
        Code::Busy,
        format!(
            "another program is writing to the journal and has not finished within {waited_ms} ms; \
             nothing was written"
        ),
        "try again",
    )
    .in_file(path.display().to_string())
}

/// The file or its folder cannot be written.
pub(crate) fn read_only(path: &Path) -> Error {
    storage(
        path,
        "the journal or its folder cannot be written; nothing was written",
        "SQLite needs to write both the file and its folder",
    )
}

/// There is no room left.
pub(crate) fn full(path: &Path) -> Error {
    storage(
        path,
        "there is no room left to write (disk full, or a size limit); the entry was not written, \
         all earlier ones are safe",
        "make room and try again",
    )
}

/// The file is damaged.
pub(crate) fn damaged(path: &Path, detail: impl std::fmt::Display) -> Error {
    storage(
        path,
        format!("the journal is damaged ({detail})"),
        "restore the last backup; this file is left as it is",
    )
}

/// No journal at this path.
pub(crate) fn missing(path: &Path) -> Error {
    storage(path, "there is no journal here", "check the path, or log an entry to start one")
}

/// The file is not a journal.
pub(crate) fn not_a_journal(path: &Path, found: &str) -> Error {
    malformed(
        path,
        format!("this is not a journal ({found}); it was left untouched"),
        "name a journal, or a new file",
    )
}

/// The file is not one of devices.
pub(crate) fn not_of_devices(path: &Path) -> Error {
    malformed(
        path,
        "this is not a file of paired devices; it was left untouched",
        "move it away; devices are then paired anew",
    )
}

/// Written by a newer version of the program.
pub(crate) fn newer(path: &Path, found: i64, known: i64) -> Error {
    malformed(
        path,
        format!(
            "written by a newer version (format {found}, this program knows {known}); it was left \
             untouched"
        ),
        "use the newer program",
    )
}

/// Written by an older version, and only open for reading.
pub(crate) fn older(path: &Path, found: i64, known: i64) -> Error {
    malformed(
        path,
        format!("written by an older version (format {found}, this program writes {known})"),
        "open it for writing once, by logging an entry, to bring it up to date",
    )
}

/// A backup or restore would overwrite a file.
pub(crate) fn exists(path: &Path) -> Error {
    malformed(path, "the file exists", "name another file, or replace it (`--replace`)")
}

/// A correction names an entry that the journal does not hold.
pub(crate) fn unknown_entry(id: &str) -> Error {
    Error::new(
        Code::Unknown,
        format!("the journal has no entry {id:?}"),
        "name one that `guardcell history entries` lists",
    )
    .at("/supersedes")
}

/// A correction names an entry that has already been corrected.
pub(crate) fn already_corrected(id: &str, by: &str) -> Error {
    Error::new(
        Code::Conflict,
        format!("{id:?} was already corrected or retracted by {by:?}"),
        format!("correct {by:?} instead"),
    )
    .at("/supersedes")
}

/// An entry with this identifier is there already and says something else.
pub(crate) fn conflict(id: &str) -> Error {
    Error::new(
        Code::DuplicateId,
        format!("{id:?} is in the journal already and says something else"),
        format!("entries are never changed: omit the id and set `supersedes` to {id:?}"),
    )
    .at("/id")
}

/// The reader or writer that was handed in failed.
pub(crate) fn stream(source: std::io::Error) -> Error {
    Error::new(Code::Io, source.to_string(), "").caused_by(source)
}

/// What `SQLite` reports, in words of this crate.
pub(crate) fn sqlite(path: &Path, waited_ms: u64, error: &rusqlite::Error) -> Error {
    use rusqlite::ErrorCode as Sqlite;
    let Some(code) = error.sqlite_error() else {
        return storage(path, error.to_string(), "");
    };
    match code.code {
        Sqlite::DatabaseBusy | Sqlite::DatabaseLocked => busy(path, waited_ms),
        Sqlite::ReadOnly | Sqlite::CannotOpen | Sqlite::PermissionDenied => read_only(path),
        Sqlite::DiskFull => full(path),
        // A write that fails in the middle is a full disk under another name: a quota or a file
        // size limit reports it so.
        Sqlite::SystemIoFailure
            if matches!(
                code.extended_code,
                rusqlite::ffi::SQLITE_IOERR_WRITE
                    | rusqlite::ffi::SQLITE_IOERR_SHMSIZE
                    | rusqlite::ffi::SQLITE_IOERR_TRUNCATE
            ) =>
        {
            full(path)
        }
        Sqlite::DatabaseCorrupt => damaged(path, error),
        Sqlite::NotADatabase => not_a_journal(path, "no SQLite file"),
        _ => storage(path, error.to_string(), ""),
    }
}

/// Whether a file is one that no program of this kind can open: damaged, or something else.
pub(crate) fn is_beyond_opening(error: &rusqlite::Error) -> bool {
    matches!(
        error.sqlite_error_code(),
        Some(rusqlite::ErrorCode::DatabaseCorrupt | rusqlite::ErrorCode::NotADatabase)
    )
}

pub(crate) fn io(path: &Path, source: std::io::Error) -> Error {
    match source.kind() {
        std::io::ErrorKind::StorageFull
        | std::io::ErrorKind::QuotaExceeded
        | std::io::ErrorKind::FileTooLarge => full(path),
        std::io::ErrorKind::PermissionDenied | std::io::ErrorKind::ReadOnlyFilesystem => {
            read_only(path)
        }
        std::io::ErrorKind::NotFound => missing(path),
        _ => Error::new(Code::Io, source.to_string(), "")
            .in_file(path.display().to_string())
            .caused_by(source),
    }
}

/// Something that `SQLite` or the file itself does not allow.
pub(crate) fn storage(path: &Path, detail: impl Into<String>, hint: &str) -> Error {
    Error::new(Code::Storage, detail, hint).in_file(path.display().to_string())
}

fn malformed(path: &Path, detail: impl Into<String>, hint: &str) -> Error {
    Error::new(Code::MalformedFile, detail, hint).in_file(path.display().to_string())
}
