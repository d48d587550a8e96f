//! `page`: the page as a static site that needs no server of guardcell.

use crate::args;
use crate::error::{argument, io};
use crate::print::Out;
use guardcell::{Code, Error};
use guardcell_server::{Engine, PageFile, static_page};
use std::fs;
use std::path::Path;

/// How the worker of such a site begins.
const OURS: &[u8] = b"// Keeps the page for times without a connection.";

pub(crate) fn run(args: &args::Page, out: &mut Out) -> Result<(), Error> {
    let engine = match args.engine.as_deref() {
        Some(folder) => Some(engine(folder)?),
        None => Engine::built_in(),
    };
    let engine = engine.ok_or_else(|| {
        argument(
            "--engine",
            "this program was built without the engine that such a page calculates with",
            "make one with `cargo xtask wasm --output engine`, then give --engine engine; or build \
             the program with GUARDCELL_ENGINE set to the full path of that folder",
        )
    })?;
    let mut files = static_page(&engine);
    // Last, so that who has the page already gets the new one once it is whole.
    files.sort_by_key(|file| file.name == "worker.js");
    check(&args.output, &files)?;
    fs::create_dir_all(&args.output).map_err(|e| io(&args.output, e))?;
    for file in &files {
        let path = args.output.join(file.name);
        fs::write(&path, &file.body).map_err(|e| io(&path, e))?;
    }
    let bytes: usize = files.iter().map(|file| file.body.len()).sum();
    out.line(format!(
        "{}: {} files, {:.1} MB. Any server of files can send them; over https, or from this machine, \
         the page can be installed and works without a connection after the first visit.",
        args.output.display(),
        files.len(),
        bytes as f64 / 1e6
    ));
    Ok(())
}

/// The engine in a folder.
pub(super) fn engine(folder: &Path) -> Result<Engine, Error> {
    let read = |name: &str| {
        let path = folder.join(name);
        fs::read(&path).map_err(|e| {
            let hint = "give the folder that `cargo xtask wasm --output FOLDER` wrote";
            io(&path, e).with_hint(hint)
        })
    };
    Engine::new(read(Engine::SCRIPT)?, read(Engine::MODULE)?)
}

/// Refuses a folder that has anything but an earlier page in it.
fn check(folder: &Path, files: &[PageFile]) -> Result<(), Error> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        Err(e) => return Err(io(folder, e)),
    };
    let mut any = false;
    for entry in entries {
        let entry = entry.map_err(|e| io(folder, e))?;
        any = true;
        let name = entry.file_name();
        let plain = entry.file_type().is_ok_and(|kind| kind.is_file());
        if !plain || !files.iter().any(|file| name == file.name) {
            return Err(foreign(folder, &name.to_string_lossy()));
        }
    }
    let worker = folder.join("worker.js");
    let ours = !any || fs::read(&worker).is_ok_and(|text| text.starts_with(OURS));
    if ours { Ok(()) } else { Err(foreign(folder, "its worker.js")) }
}

fn foreign(folder: &Path, name: &str) -> Error {
    Error::new(
        Code::Usage,
        format!(
            "{} has something that is not of an earlier page: {}",
            folder.display(),
            guardcell::excerpt(name, 60)
        ),
        "name a new folder, or empty this one",
    )
    .of_argument("--output")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files() -> Vec<PageFile> {
        static_page(&Engine::new("export {};", &b"\0asm\x01\0\0\0"[..]).unwrap())
    }

    #[test]
    fn an_earlier_page_is_replaced_and_anything_else_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let there = folder.path().join("site");
        assert!(check(&there, &files()).is_ok());
        fs::create_dir(&there).unwrap();
        assert!(check(&there, &files()).is_ok());
        for file in files() {
            fs::write(there.join(file.name), &file.body).unwrap();
        }
        assert!(check(&there, &files()).is_ok());
        fs::write(there.join("thesis.odt"), "years").unwrap();
        let error = check(&there, &files()).unwrap_err();
        assert!(error.detail().contains("thesis.odt"), "{error}");
    }

    #[test]
    fn a_site_of_somebody_else_with_the_same_names_stays() {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("index.html"), "mine").unwrap();
        assert!(check(folder.path(), &files()).is_err());
        fs::write(folder.path().join("worker.js"), "// mine").unwrap();
        assert!(check(folder.path(), &files()).is_err());
    }
}
