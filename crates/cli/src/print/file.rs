//! Files out: a regular file is written beside its place and moved there when complete, so that an
//! error leaves no partial file; `-` is standard output; devices and pipes are written directly.

use crate::error::{io, output};
use guardcell::Error;
use std::fs::{self, File};
use std::io::Write as _;
use std::path::{Path, PathBuf};

/// Writes a text whole or not at all.
pub(crate) fn write(path: &Path, text: &str) -> Result<(), Error> {
    write_with(path, |mut file| file.write_all(text.as_bytes()).map_err(|e| io(path, e)))
}

/// As [`write`], for what is too long to keep in memory or has errors of its own.
pub(crate) fn write_with<T>(
    path: &Path,
    fill: impl FnOnce(&File) -> Result<T, Error>,
) -> Result<T, Error> {
    let failed = |e| io(path, e);
    match Target::of(path).map_err(failed)? {
        target @ (Target::Stdout | Target::Direct(_)) => {
            fill(&target.open().map_err(|e| match target {
                Target::Stdout => output(e),
                _ => failed(e),
            })?)
        }
        Target::Replace(place) => {
            let part = part_beside(&place).map_err(failed)?;
            let done = fill(part.as_file())?;
            keep_permissions(&place, part.as_file()).map_err(failed)?;
            part.as_file().sync_all().map_err(failed)?;
            part.persist(&place).map_err(|e| failed(e.error))?;
            Ok(done)
        }
    }
}

/// What a path that is written to names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Target {
    Stdout,
    /// A device, a pipe or a socket.
    Direct(PathBuf),
    /// A regular file, or one that does not exist yet; links are followed.
    Replace(PathBuf),
}

impl Target {
    pub(crate) fn of(path: &Path) -> std::io::Result<Self> {
        if path == Path::new("-") {
            return Ok(Self::Stdout);
        }
        match fs::metadata(path) {
            Ok(about) if about.is_file() => Ok(Self::Replace(fs::canonicalize(path)?)),
            Ok(about) if about.is_dir() => Err(std::io::ErrorKind::IsADirectory.into()),
            Ok(_) => Ok(Self::Direct(path.to_path_buf())),
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
                // A link to a file that does not exist yet creates that file.
                Ok(Self::Replace(match fs::read_link(path) {
                    Ok(target) => path.parent().unwrap_or(Path::new("")).join(target),
                    Err(_) => path.to_path_buf(),
                }))
            }
            Err(e) => Err(e),
        }
    }

    /// Opens what is written directly.
    pub(crate) fn open(&self) -> std::io::Result<File> {
        match self {
            Self::Stdout => stdout_file(),
            Self::Direct(path) | Self::Replace(path) => File::options().write(true).open(path),
        }
    }
}

/// Puts a text in the place of whatever has this name, a link too, whole or not at all.
pub(crate) fn put(path: &Path, text: &str) -> std::io::Result<()> {
    let mut part = part_beside(path)?;
    part.write_all(text.as_bytes())?;
    part.as_file().sync_all()?;
    part.persist(path).map_err(|e| e.error)?;
    Ok(())
}

/// A file in the same folder, created exclusively under a name that cannot be guessed; removed if
/// dropped. It has the permissions of any new file.
fn part_beside(place: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    let folder = match place.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".guardcell-").suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        // What the user allows new files is taken away by the system. A file that replaces a
        // private one must never have been readable.
        let private = fs::metadata(place).is_ok();
        let mode = if private { 0o600 } else { 0o666 };
        builder.permissions(fs::Permissions::from_mode(mode)).tempfile_in(folder)
    }
    #[cfg(not(unix))]
    builder.tempfile_in(folder)
}

/// A file that replaces another gets its permissions; a new one keeps those of any new file.
pub(crate) fn keep_permissions(place: &Path, part: &File) -> std::io::Result<()> {
    match fs::metadata(place) {
        Ok(about) => part.set_permissions(about.permissions()),
        Err(_) => Ok(()),
    }
}

#[cfg(unix)]
fn stdout_file() -> std::io::Result<File> {
    use std::os::fd::AsFd as _;
    Ok(File::from(std::io::stdout().as_fd().try_clone_to_owned()?))
}

#[cfg(windows)]
fn stdout_file() -> std::io::Result<File> {
    use std::os::windows::io::AsHandle as _;
    Ok(File::from(std::io::stdout().as_handle().try_clone_to_owned()?))
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::os::unix::fs::{PermissionsExt as _, symlink};

    #[test]
    fn a_link_stays_a_link_and_its_target_keeps_its_permissions() {
        let dir = tempfile::tempdir().unwrap();
        let (target, link) = (dir.path().join("target.csv"), dir.path().join("link.csv"));
        fs::write(&target, "old").unwrap();
        fs::set_permissions(&target, fs::Permissions::from_mode(0o600)).unwrap();
        symlink(&target, &link).unwrap();
        write(&link, "new").unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read_to_string(&target).unwrap(), "new");
        assert_eq!(fs::metadata(&target).unwrap().permissions().mode() & 0o777, 0o600);
        let dangling = dir.path().join("dangling.csv");
        symlink("later.csv", &dangling).unwrap();
        write(&dangling, "made").unwrap();
        assert_eq!(fs::read_to_string(dir.path().join("later.csv")).unwrap(), "made");
    }

    #[test]
    fn a_new_file_has_the_permissions_of_any_new_file() {
        let dir = tempfile::tempdir().unwrap();
        fs::write(dir.path().join("any"), "").unwrap();
        write(&dir.path().join("ours"), "x").unwrap();
        let mode = |name: &str| fs::metadata(dir.path().join(name)).unwrap().permissions().mode();
        assert_eq!(mode("ours"), mode("any"));
    }

    #[test]
    fn a_device_is_written_and_stays() {
        write(Path::new("/dev/null"), "anything").unwrap();
        assert!(!fs::metadata("/dev/null").unwrap().is_file());
    }

    #[test]
    fn an_error_leaves_the_old_file_and_no_other() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("a.csv");
        fs::write(&path, "old").unwrap();
        let error = Error::internal("no luck");
        assert!(write_with(&path, |_| Err::<(), _>(error.clone())).is_err());
        assert_eq!(fs::read_to_string(&path).unwrap(), "old");
        assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 1);
        assert!(write(dir.path(), "x").is_err());
    }
}
