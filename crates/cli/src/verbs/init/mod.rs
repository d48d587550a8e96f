//! `init`: a new folder, from a few answers.

mod answers;
mod demo;
mod write;

use crate::args::{Cli, Init};
use crate::error::argument;
use crate::print::Out;
use answers::Talk;
use guardcell::Error;
use guardcell_folder::init::NewFile;
use guardcell_folder::layout;
use serde::Serialize;
use std::path::{Path, PathBuf};

/// What was written, for programs.
#[derive(Serialize)]
struct Made {
    folder: String,
    files: Vec<String>,
}

pub(crate) fn run(args: &Init, cli: &Cli, out: &mut Out) -> Result<(), Error> {
    let folder = args.folder.clone().or_else(|| cli.dir.clone()).unwrap_or_default();
    // Before anything is asked.
    refuse_a_made_folder(&folder)?;
    let files = if args.demo {
        demo::files()
    } else {
        let mut input = std::io::stdin().lock();
        let mut asks = std::io::stderr().lock();
        let mut talk = Talk::new(&mut input, &mut asks, !args.yes);
        match answers::files(args, &folder, &mut talk)? {
            Some(files) => files,
            None => return Ok(()),
        }
    };
    write::all(&folder, &files)?;
    if out.json() {
        return out.value(&Made {
            folder: folder.display().to_string(),
            files: files.into_iter().map(|f| f.name).collect(),
        });
    }
    say(&folder, &files, args.demo, out);
    Ok(())
}

/// A folder that has a site or a collection is somebody's already.
fn refuse_a_made_folder(folder: &Path) -> Result<(), Error> {
    for name in [layout::SITE, layout::COLLECTION] {
        let path = folder.join(name);
        if path.exists() {
            return Err(argument(
                "the folder",
                format!("{} is there already, and init overwrites nothing", path.display()),
                "edit it (`guardcell check` reads it), or name another folder: guardcell init FOLDER",
            ));
        }
    }
    Ok(())
}

fn say(folder: &Path, files: &[NewFile], demo: bool, out: &mut Out) {
    let names: Vec<&str> = files.iter().map(|f| f.name.as_str()).collect();
    out.item("Written: ", &names.join(", "));
    let here: PathBuf = folder.components().collect();
    let there = if here.as_os_str().is_empty() || here == Path::new(".") {
        String::new()
    } else {
        format!("cd {} and type ", folder.display())
    };
    match demo {
        false => {
            out.line(format!("Now {}guardcell", if there.is_empty() { "type " } else { &there }))
        }
        true => out.line(format!(
            "Now {}guardcell. Its air is that of 2026: guardcell --at 2026-06-21",
            if there.is_empty() { "type " } else { &there }
        )),
    }
}
