//! New files only: nothing that is there is touched.

use crate::error::{argument, io};
use guardcell::Error;
use guardcell_folder::init::NewFile;
use std::fs::{self, File};
use std::io::Write as _;
use std::path::Path;

/// Writes every file, or none where one of them is there.
pub(super) fn all(folder: &Path, files: &[NewFile]) -> Result<(), Error> {
    for file in files {
        let path = folder.join(&file.name);
        if fs::symlink_metadata(&path).is_ok() {
            return Err(argument(
                "the folder",
                format!("{} is there already, and init overwrites nothing", path.display()),
                "move it away, or name another folder: guardcell init FOLDER",
            ));
        }
    }
    for file in files {
        let path = folder.join(&file.name);
        if let Some(parent) = path.parent().filter(|p| !p.as_os_str().is_empty()) {
            fs::create_dir_all(parent).map_err(|e| io(parent, e))?;
        }
        // Whoever made it in between keeps it.
        let mut new =
            File::options().write(true).create_new(true).open(&path).map_err(|e| io(&path, e))?;
        new.write_all(file.text.as_bytes())
            .and_then(|()| new.sync_all())
            .map_err(|e| io(&path, e))?;
    }
    Ok(())
}
