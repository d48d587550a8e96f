//! Files out: written beside their place first and moved there when complete, so that a fault
//! leaves no partial file.

use crate::error::io;
use guardcell::Error;
use std::fs::{self, File};
use std::path::Path;

/// Writes a file whole or not at all.
pub(crate) fn write(path: &Path, text: &str) -> Result<(), Error> {
    let failed = |what| io(path, what);
    let mut name = path.file_name().unwrap_or_default().to_os_string();
    name.push(format!(".{}.part", std::process::id()));
    let part = path.with_file_name(name);
    let written = fs::write(&part, text).and_then(|()| fs::rename(&part, path));
    if written.is_err() {
        // The first error is the one to tell.
        let _ = fs::remove_file(&part);
    }
    written.map_err(failed)
}

/// As [`write`], for what is too long to hold in memory or knows its own faults.
pub(crate) fn write_with<T>(
    path: &Path,
    fill: impl FnOnce(&File) -> Result<T, Error>,
) -> Result<T, Error> {
    let failed = |what| io(path, what);
    let mut name = path.file_name().unwrap_or_default().to_os_string();
    name.push(format!(".{}.part", std::process::id()));
    let part = path.with_file_name(name);
    let written = File::create(&part).map_err(failed).and_then(|file| {
        let done = fill(&file)?;
        file.sync_all().map_err(failed)?;
        fs::rename(&part, path).map_err(failed)?;
        Ok(done)
    });
    if written.is_err() {
        // The first error is the one to tell.
        let _ = fs::remove_file(&part);
    }
    written
}
