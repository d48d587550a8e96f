//! The files of a folder.

use crate::error::io;
use guardcell::Error;
use std::path::{Path, PathBuf};

/// The files of a folder that have one of these endings, in order of name; hidden files are passed
/// over.
pub(crate) fn files(folder: &Path, endings: &[&str]) -> Result<Vec<PathBuf>, Error> {
    let failed = |what| io(folder, what);
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(failed)? {
        let path = entry.map_err(failed)?.path();
        let hidden = path.file_name().is_some_and(|n| n.to_string_lossy().starts_with('.'));
        let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default().to_lowercase();
        if !hidden && endings.contains(&ending.as_str()) && path.is_file() {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}
