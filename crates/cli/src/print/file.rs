//! Files out: written beside their place first and moved there when complete, so that a fault
//! leaves no partial file.

use crate::error::CliError;
use std::fs;
use std::path::Path;

/// Writes a file whole or not at all.
pub(crate) fn write(path: &Path, text: &str) -> Result<(), CliError> {
    let io = |what| CliError::Io { path: path.to_path_buf(), what };
    let mut name = path.file_name().unwrap_or_default().to_os_string();
    name.push(format!(".{}.part", std::process::id()));
    let part = path.with_file_name(name);
    let written = fs::write(&part, text).and_then(|()| fs::rename(&part, path));
    if written.is_err() {
        // The first error is the one to tell.
        let _ = fs::remove_file(&part);
    }
    written.map_err(io)
}
