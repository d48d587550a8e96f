//! Labels: one file or a folder of them.

use crate::error::bad_file;
use crate::input::{list, text};
use guardcell::Error;
use guardcell::solution::Label;
use guardcell_folder::LABEL_ENDINGS;
use std::path::Path;

/// Reads every label of a file or folder, in order of file name.
pub(crate) fn read(path: &Path) -> Result<Vec<Label>, Error> {
    if !path.is_dir() {
        return read_file(path);
    }
    let files = list::files(path, &LABEL_ENDINGS)?;
    if files.is_empty() {
        return Err(bad_file(
            path.display(),
            "the folder holds no label",
            "put labels in it as .toml, .json, .csv or .txt",
        ));
    }
    let mut labels = Vec::new();
    for f in files {
        labels.extend(read_file(&f)?);
    }
    Ok(labels)
}

fn read_file(path: &Path) -> Result<Vec<Label>, Error> {
    // A file of another kind is refused by its name, before it is read as text.
    let name = path.display().to_string();
    let known = path.extension().and_then(|e| e.to_str()).map(str::to_lowercase);
    if !known.is_some_and(|e| LABEL_ENDINGS.contains(&e.as_str())) {
        text::check_file(path)?;
        return guardcell_folder::labels(&name, "");
    }
    guardcell_folder::labels(&name, &text::read(path)?)
}
