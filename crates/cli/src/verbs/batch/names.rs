//! The names of the files of a run, and their errors.

use crate::error::io;
use guardcell::Error;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// The files of a run.
pub(crate) struct Names {
    pub(crate) output: PathBuf,
    pub(crate) errors: PathBuf,
    pub(crate) output_part: PathBuf,
    pub(crate) errors_part: PathBuf,
    pub(crate) state: PathBuf,
}

impl Names {
    pub(crate) fn new(output: &Path, errors: Option<&Path>, ending: &str) -> Self {
        let errors =
            errors.map_or_else(|| with(output, &format!("errors.{ending}")), Path::to_path_buf);
        Self {
            output_part: with(output, "part"),
            errors_part: with(&errors, "part"),
            state: with(output, "state"),
            output: output.to_path_buf(),
            errors,
        }
    }
}

/// A path with one more ending.
pub(crate) fn with(path: &Path, ending: &str) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(".");
    name.push(ending);
    PathBuf::from(name)
}

/// The error of the operating system as that of a file.
pub(crate) fn failed(path: &Path) -> impl Fn(std::io::Error) -> Error + '_ {
    |source| io(path, source)
}
