//! The files of a run: parts that grow, a state that says how far they hold, and the final names,
//! under which nothing stands that is not complete.

use super::names::{Names, failed};
use super::state::State;
use crate::error::bad_file;
use crate::print::file::{Target, keep_permissions, put};
use guardcell::Error;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{BufWriter, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::thread::JoinHandle;

/// Small answers are gathered; the answers to a piece of input are mostly longer and go at once.
const BUFFER: usize = 64 * 1024;
/// So much is written before the disk is asked for it, while the run goes on: at its end little
/// is left to wait for.
const ASK_AFTER: u64 = 16 * 1024 * 1024;

/// A part that is written.
struct Part {
    path: PathBuf,
    file: BufWriter<File>,
    bytes: u64,
    asked: u64,
    asking: Option<JoinHandle<std::io::Result<()>>>,
}

impl Part {
    /// Opens a part that no other run has open, and cuts it to the length that holds.
    fn open(path: &Path, whole: &Path, bytes: u64) -> Result<Self, Error> {
        let failed = failed(path);
        let mut file = beside(path, whole).map_err(&failed)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                return Err(bad_file(
                    path.display(),
                    "another run writes this file",
                    "wait for it, or choose another output",
                ));
            }
            // Some file systems of a network have no locks; the run is no worse without.
            Err(TryLockError::Error(e)) if e.kind() == std::io::ErrorKind::Unsupported => {}
            Err(TryLockError::Error(e)) => return Err(failed(e)),
        }
        if file.metadata().map_err(&failed)?.len() < bytes {
            return Err(bad_file(
                path.display(),
                format!("it is shorter than the {bytes} bytes that were written"),
                "begin anew: delete it and the file of the same name that ends in .state",
            ));
        }
        file.set_len(bytes).map_err(&failed)?;
        file.seek(SeekFrom::Start(bytes)).map_err(&failed)?;
        Ok(Self::of(path, file, bytes))
    }

    /// Standard output, a device or a pipe.
    fn direct(path: &Path, target: &Target) -> Result<Self, Error> {
        let file = target.open().map_err(failed(path))?;
        Ok(Self { asked: u64::MAX, ..Self::of(path, file, 0) })
    }

    fn of(path: &Path, file: File, bytes: u64) -> Self {
        let file = BufWriter::with_capacity(BUFFER, file);
        Self { path: path.to_path_buf(), file, bytes, asked: bytes, asking: None }
    }

    fn write(&mut self, bytes: &[u8]) -> Result<(), Error> {
        self.file.write_all(bytes).map_err(failed(&self.path))?;
        self.bytes += bytes.len() as u64;
        if self.bytes.saturating_sub(self.asked) >= ASK_AFTER
            && self.asking.as_ref().is_none_or(JoinHandle::is_finished)
        {
            self.asked_for()?;
            self.asked = self.bytes;
            let file = self.file.get_ref().try_clone().map_err(failed(&self.path))?;
            self.asking = Some(std::thread::spawn(move || file.sync_data()));
        }
        Ok(())
    }

    /// The result of the last background sync: an error is reported only once.
    fn asked_for(&mut self) -> Result<(), Error> {
        match self.asking.take().map(JoinHandle::join) {
            Some(Ok(Err(e))) => Err(failed(&self.path)(e)),
            // A thread that broke down has written nothing and lost nothing: `sync` writes it.
            Some(Ok(Ok(())) | Err(_)) | None => Ok(()),
        }
    }

    fn sync(&mut self) -> Result<(), Error> {
        self.file.flush().map_err(failed(&self.path))?;
        self.asked_for()?;
        if self.asked == u64::MAX {
            // What is written directly lies with the system.
            return Ok(());
        }
        self.file.get_ref().sync_all().map_err(failed(&self.path))
    }
}

/// Opens a file that will replace another and is beside it until then.
fn beside(path: &Path, whole: &Path) -> std::io::Result<File> {
    let mut options = OpenOptions::new();
    options.read(true).write(true).create(true).truncate(false);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        // The name can be guessed: a link that waits there must lead nowhere.
        options.custom_flags(libc::O_NOFOLLOW);
    }
    let file = options.open(path)?;
    keep_permissions(whole, &file)?;
    Ok(file)
}

/// Makes the file of the answers from their part.
pub(crate) type Pack<'p> = &'p dyn Fn(File, File) -> std::io::Result<File>;

/// The files of a run that is on its way.
pub(crate) struct Files<'n> {
    names: &'n Names,
    output: Part,
    errors: Part,
}

impl<'n> Files<'n> {
    /// Opens both parts with the lengths that hold: none for a new run.
    pub(crate) fn open(names: &'n Names, output: u64, errors: u64) -> Result<Self, Error> {
        Ok(Self {
            output: match &names.direct {
                Some(target) => Part::direct(&names.output, target)?,
                None => Part::open(&names.output_part, &names.output, output)?,
            },
            errors: Part::open(&names.errors_part, &names.errors, errors)?,
            names,
        })
    }

    pub(crate) fn write(&mut self, output: &[u8], errors: &[u8]) -> Result<(), Error> {
        self.output.write(output)?;
        self.errors.write(errors)
    }

    /// Keeps what is written so far, so that a run can go on from here.
    pub(crate) fn keep(&mut self, state: &mut State) -> Result<(), Error> {
        self.output.sync()?;
        self.errors.sync()?;
        state.output_bytes = self.output.bytes;
        state.errors_bytes = self.errors.bytes;
        write_whole(&self.names.state, &state.to_json()?)
    }

    /// Gives the complete files their names. `pack` makes the file of the answers from its part.
    pub(crate) fn finish(mut self, state: Option<&mut State>, pack: Pack<'_>) -> Result<(), Error> {
        if let (Some(packed), None) = (&self.names.packed, &self.names.direct) {
            self.output.sync()?;
            let part = File::open(&self.output.path).map_err(failed(&self.output.path))?;
            let file = beside(packed, &self.names.output)
                .and_then(|file| file.set_len(0).map(|()| file))
                .and_then(|file| pack(part, file))
                .map_err(failed(packed))?;
            file.sync_all().map_err(failed(packed))?;
        }
        match state {
            Some(state) => {
                state.complete = true;
                self.keep(state)?;
            }
            None => {
                self.output.sync()?;
                self.errors.sync()?;
            }
        }
        name(self.names)
    }
}

/// Moves what is complete to its names; what has been moved already stays.
pub(crate) fn name(names: &Names) -> Result<(), Error> {
    let errors = (&names.errors_part, &names.errors);
    let part = names.packed.as_ref().unwrap_or(&names.output_part);
    let output = names.direct.is_none().then_some((part, &names.output));
    for (part, whole) in std::iter::once(errors).chain(output) {
        match fs::rename(part, whole) {
            Ok(()) => sync_folder(whole)?,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound && whole.exists() => {}
            Err(e) => return Err(failed(whole)(e)),
        }
    }
    if names.direct.is_some() {
        return Ok(());
    }
    // What was packed is left behind.
    for spent in [&names.output_part, &names.state] {
        match fs::remove_file(spent) {
            Err(e) if e.kind() != std::io::ErrorKind::NotFound => return Err(failed(spent)(e)),
            _ => {}
        }
    }
    sync_folder(&names.state)
}

/// Writes a small file whole or not at all.
fn write_whole(path: &Path, text: &str) -> Result<(), Error> {
    put(path, text).map_err(failed(path))?;
    sync_folder(path)
}

/// A new name is on disk only when its folder is.
fn sync_folder(path: &Path) -> Result<(), Error> {
    if cfg!(unix) {
        let folder = match path.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            _ => Path::new("."),
        };
        File::open(folder).and_then(|f| f.sync_all()).map_err(failed(folder))?;
    }
    Ok(())
}
