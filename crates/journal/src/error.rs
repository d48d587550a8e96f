//! What can go wrong with a journal, its entries and its files.

use std::path::PathBuf;

/// Why the journal refuses. Every message says what is wrong, where, and what would be right.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum JournalError {
    /// A value of an entry or a request is missing, out of range or of the wrong form.
    #[error("{pointer}: {wrong}; {right}")]
    Value {
        /// JSON Pointer to the value.
        pointer: String,
        /// What is wrong.
        wrong: String,
        /// What would be right.
        right: String,
    },
    /// A line of an imported file cannot be taken; nothing of the file was.
    #[error("line {line}: {wrong}; nothing of the file was imported")]
    Line {
        /// The line, counted from 1.
        line: u64,
        /// What is wrong and what would be right, with the column or JSON Pointer.
        wrong: String,
    },
    /// A correction names an entry that the journal does not hold.
    #[error("/supersedes: the journal holds no entry {id:?}; name one that `history` lists")]
    UnknownEntry {
        /// The identifier.
        id: String,
    },
    /// A correction names an entry that has already been corrected.
    #[error("/supersedes: {id:?} has already been corrected by {by:?}; correct {by:?} instead")]
    AlreadyCorrected {
        /// The entry named.
        id: String,
        /// The entry that corrects it.
        by: String,
    },
    /// An entry with this identifier is there already and says something else.
    #[error(
        "/id: {id:?} is in the journal already and says something else; entries are never changed: leave `id` out and set `supersedes` to {id:?} to correct it"
    )]
    Conflict {
        /// The identifier.
        id: String,
    },
    /// No journal at this path.
    #[error("{path}: there is no journal here; check the path, or log an entry to start one")]
    Missing {
        /// The path.
        path: PathBuf,
    },
    /// The file is not a journal.
    #[error("{path}: this is not a journal ({found}); it was left untouched")]
    NotAJournal {
        /// The file.
        path: PathBuf,
        /// What it seems to be.
        found: String,
    },
    /// The journal was written by a newer version of the program.
    #[error(
        "{path}: written by a newer version (format {found}, this program knows {known}); it was left untouched: use the newer program"
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its format.
        found: i64,
        /// The newest format this program knows.
        known: i64,
    },
    /// The journal was written by an older version, and is only open for reading.
    #[error(
        "{path}: written by an older version (format {found}, this program writes {known}); open it for writing once, by logging an entry, to bring it up to date"
    )]
    Older {
        /// The file.
        path: PathBuf,
        /// Its format.
        found: i64,
        /// The newest format this program knows.
        known: i64,
    },
    /// Another program holds the journal.
    #[error(
        "{path}: another program is writing to the journal and has not finished within {waited_ms} ms; nothing was written: try again"
    )]
    Busy {
        /// The file.
        path: PathBuf,
        /// How long it waited.
        waited_ms: u64,
    },
    /// The file or its folder cannot be written.
    #[error(
        "{path}: the journal or its folder cannot be written; nothing was written: SQLite needs to write both the file and its folder"
    )]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// There is no room left.
    #[error(
        "{path}: there is no room left to write (disk full, or a size limit); the entry was not written, all earlier ones are safe: make room and try again"
    )]
    Full {
        /// The file.
        path: PathBuf,
    },
    /// The file is damaged.
    #[error(
        "{path}: the journal is damaged ({detail}); restore the last backup, this file is left as it is"
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What was found.
        detail: String,
    },
    /// A backup or restore would overwrite a file.
    #[error("{path}: there is a file already; name another, or ask for it to be replaced")]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// Reading or writing failed.
    #[error("{path}: {source}")]
    Io {
        /// The file.
        path: PathBuf,
        /// The cause.
        source: std::io::Error,
    },
    /// The writer or reader handed in failed.
    #[error("the export could not be written or the import not be read: {0}")]
    Stream(#[from] std::io::Error),
    /// `SQLite` reports something else.
    #[error("{path}: {detail}")]
    Store {
        /// The file.
        path: PathBuf,
        /// What it reports.
        detail: String,
    },
}

impl JournalError {
    pub(crate) fn value(
        pointer: impl Into<String>,
        wrong: impl Into<String>,
        right: impl Into<String>,
    ) -> Self {
        Self::Value { pointer: pointer.into(), wrong: wrong.into(), right: right.into() }
    }

    /// What `SQLite` reports, in words of this crate.
    pub(crate) fn sqlite(path: &std::path::Path, waited_ms: u64, error: &rusqlite::Error) -> Self {
        use rusqlite::ErrorCode as Code;
        let path = path.to_path_buf();
        let Some(code) = error.sqlite_error() else {
            return Self::Store { path, detail: error.to_string() };
        };
        match code.code {
            Code::DatabaseBusy | Code::DatabaseLocked => Self::Busy { path, waited_ms },
            Code::ReadOnly | Code::CannotOpen | Code::PermissionDenied => Self::ReadOnly { path },
            Code::DiskFull => Self::Full { path },
            // A write that fails in the middle is a full disk under another name: a quota or a
            // file size limit reports it so.
            Code::SystemIoFailure
                if matches!(
                    code.extended_code,
                    rusqlite::ffi::SQLITE_IOERR_WRITE
                        | rusqlite::ffi::SQLITE_IOERR_SHMSIZE
                        | rusqlite::ffi::SQLITE_IOERR_TRUNCATE
                ) =>
            {
                Self::Full { path }
            }
            Code::DatabaseCorrupt => Self::Damaged { path, detail: error.to_string() },
            Code::NotADatabase => Self::NotAJournal { path, found: "no SQLite file".into() },
            _ => Self::Store { path, detail: error.to_string() },
        }
    }

    pub(crate) fn io(path: &std::path::Path, source: std::io::Error) -> Self {
        let path = path.to_path_buf();
        match source.kind() {
            std::io::ErrorKind::StorageFull
            | std::io::ErrorKind::QuotaExceeded
            | std::io::ErrorKind::FileTooLarge => Self::Full { path },
            std::io::ErrorKind::PermissionDenied | std::io::ErrorKind::ReadOnlyFilesystem => {
                Self::ReadOnly { path }
            }
            std::io::ErrorKind::NotFound => Self::Missing { path },
            _ => Self::Io { path, source },
        }
    }
}
