//! How far a run has come, and of which input.

use super::names::{Names, failed};
use crate::error::{argument, bad_file};
use guardcell::Error;
use serde::{Deserialize, Serialize};
use std::fs::{self, File};
use std::io::Read;
use std::path::Path;
use std::time::UNIX_EPOCH;

const VERSION: u32 = 1;
/// How much of the beginning of the input is compared.
const BEGINNING: u64 = 64 * 1024;

/// The input by its looks: a file that was changed has another length, time or beginning.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Identity {
    bytes: u64,
    modified_ns: u128,
    beginning: String,
}

impl Identity {
    pub(crate) fn of(path: &Path) -> Result<Self, Error> {
        let failed = failed(path);
        let file = File::open(path).map_err(&failed)?;
        let about = file.metadata().map_err(&failed)?;
        let modified = about.modified().map_err(&failed)?;
        let mut beginning = Vec::new();
        file.take(BEGINNING).read_to_end(&mut beginning).map_err(&failed)?;
        Ok(Self {
            bytes: about.len(),
            modified_ns: modified.duration_since(UNIX_EPOCH).map_or(0, |d| d.as_nanos()),
            beginning: fnv(&beginning),
        })
    }
}

/// A fingerprint (FNV-1a, 64 bits): against mistakes, not against malice.
pub(crate) fn fnv(bytes: &[u8]) -> String {
    const BASIS: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    let hash = bytes.iter().fold(BASIS, |h, b| (h ^ u64::from(*b)).wrapping_mul(PRIME));
    format!("{hash:016x}")
}

/// What is kept on disk while a run is on its way.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct State {
    version: u32,
    /// The version of the program: another one may answer in other words.
    program: String,
    /// The fingerprint of what was asked.
    asked: String,
    input: Identity,
    /// Where the next row begins in the input.
    pub(crate) input_bytes: u64,
    pub(crate) output_bytes: u64,
    pub(crate) errors_bytes: u64,
    pub(crate) counts: Counts,
    /// Whether only the names are missing.
    pub(crate) complete: bool,
}

/// Rows and lines so far.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Counts {
    pub(crate) rows: u64,
    pub(crate) lines: u64,
    pub(crate) failed: u64,
}

impl State {
    pub(crate) fn new(asked: String, input: Identity) -> Self {
        Self {
            version: VERSION,
            program: env!("CARGO_PKG_VERSION").to_owned(),
            asked,
            input,
            input_bytes: 0,
            output_bytes: 0,
            errors_bytes: 0,
            counts: Counts::default(),
            complete: false,
        }
    }

    /// The length of the input.
    pub(crate) const fn length(&self) -> u64 {
        self.input.bytes
    }

    /// The state of an interrupted run; `None` if no state file exists.
    pub(crate) fn read(names: &Names) -> Result<Option<Self>, Error> {
        let text = match fs::read_to_string(&names.state) {
            Ok(text) => text,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(None),
            Err(e) => return Err(failed(&names.state)(e)),
        };
        serde_json::from_str(&text).map(Some).map_err(|e| {
            bad_file(
                names.state.display(),
                format!("it does not say how far a run has come ({e})"),
                format!("begin anew: delete it and {}", names.output_part.display()),
            )
        })
    }

    pub(crate) fn to_json(&self) -> Result<String, Error> {
        serde_json::to_string_pretty(self)
            .map_err(|e| Error::internal(format!("the state cannot be written: {e}")))
    }

    /// Whether this is the run that `new` begins, so that it can go on.
    pub(crate) fn check(&self, new: &Self, names: &Names, input: &Path) -> Result<(), Error> {
        let what = if (self.version, &self.program) != (new.version, &new.program) {
            format!("{} was begun by version {}", names.output_part.display(), self.program)
        } else if self.input != new.input {
            format!("{} was changed since the run was broken off", input.display())
        } else if self.asked != new.asked {
            "the run that was broken off was asked something else: another function, format or \
             column, or another label, water or site"
                .to_owned()
        } else {
            return Ok(());
        };
        Err(argument(
            "--resume",
            what,
            format!(
                "begin anew: delete {} and {}",
                names.output_part.display(),
                names.state.display()
            ),
        ))
    }
}
