//! The names of the files of a run, and their errors.

use crate::error::{argument, io};
use crate::print::file::Target;
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
    /// What the answers are packed into before they get their name, where their format needs it.
    pub(crate) packed: Option<PathBuf>,
    /// Whether the answers go to standard output, a device or a pipe: nothing is renamed, and a
    /// run that was broken off cannot go on.
    pub(crate) direct: Option<Target>,
}

impl Names {
    /// Links are followed: what they lead to is replaced, and its parts are beside it.
    pub(crate) fn new(
        output: &Path,
        errors: Option<&Path>,
        ending: &str,
        packs: bool,
    ) -> Result<Self, Error> {
        let (output, direct) = match Target::of(output).map_err(|e| io(output, e))? {
            Target::Replace(place) => (place, None),
            target => (output.to_path_buf(), Some(target)),
        };
        let errors = match errors {
            Some(path) => match Target::of(path).map_err(|e| io(path, e))? {
                Target::Replace(place) => place,
                _ => {
                    return Err(argument(
                        "--errors",
                        "this is not a regular file",
                        "name a file for the rows that cannot be answered",
                    ));
                }
            },
            None if direct.is_some() => {
                return Err(argument(
                    "--output",
                    "the answers go to no regular file, and the rows that cannot be answered need one",
                    "add --errors FILE",
                ));
            }
            None => with(&output, &format!("errors.{ending}")),
        };
        Ok(Self {
            output_part: with(&output, "part"),
            errors_part: with(&errors, "part"),
            state: with(&output, "state"),
            packed: packs.then(|| with(&output, "packed")),
            output,
            errors,
            direct,
        })
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
