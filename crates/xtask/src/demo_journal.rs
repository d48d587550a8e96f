//! `demo journal`: `demo-data/journal.jsonl`, the journal of the Fernhollow Conservatory for the
//! demo year, and `demo-data/journal-at-fernhollow.md`, what the program prints of it.
//!
//! The rounds are the program's own advice, given as advised. What was seen is invented by a
//! stated rule from a stated threshold with a generator of our own, so that the same program
//! makes the same journal.

mod looks;
mod play;

use crate::Generated;
use guardcell::ledger::Draft;
use guardcell_journal::{Format, Journal};
use std::error::Error;
use std::path::Path;
use std::process::Command;

const JOURNAL: &str = "demo-data/journal.jsonl";
const REPORT: &str = "demo-data/journal-at-fernhollow.md";

/// Makes both files.
pub(crate) fn made(root: &Path) -> Result<Vec<Generated>, Box<dyn Error>> {
    let folder = Folder::new()?;
    let path = folder.0.join("fernhollow.journal");
    let jsonl = played(root, &path)?;
    Ok(vec![(JOURNAL, jsonl), (REPORT, report(root, &path)?.into_bytes())])
}

/// A folder that goes when it is done with.
struct Folder(std::path::PathBuf);

impl Folder {
    fn new() -> Result<Self, std::io::Error> {
        let path = std::env::temp_dir().join(format!("guardcell-demo-{}", std::process::id()));
        std::fs::create_dir_all(&path)?;
        Ok(Self(path))
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // What cannot be removed is left to the system.
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn played(root: &Path, path: &Path) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut journal = Journal::open(path)?;
    play::year(&root.join("demo-data"), &mut journal)?;
    let mut bytes = Vec::new();
    journal.export(Format::Jsonl, &mut bytes)?;
    Ok(bytes)
}

/// Records a draft under the next number of the demo journal.
fn record(
    journal: &mut Journal,
    mut draft: Draft,
    number: &mut u32,
) -> Result<String, Box<dyn Error>> {
    *number += 1;
    draft.id = Some(format!("fh26-{number:04}"));
    draft.recorded = Some(draft.at.clone());
    Ok(journal.append(draft)?.id)
}

const HEAD: &str = "# The journal at Fernhollow\n\n\
What guardcell prints of a year of the invented Fernhollow Conservatory. Made by `cargo xtask demo \
journal`: the rounds are the program's own advice for a part of the collection, every fourth day; \
each was given as advised. What was seen on the leaves is made up by a rule: the volunteers see \
white from {truth} g/m² on, half of them a little earlier or later, the feed salts of a day are \
off their model by about 30 %, one report in thirty is a slip, and on {dry} the door stood open in a dry wind that no \
sensor saw. The program does not know that number; it learns it.\n\n\
Load it with `guardcell journal import demo-data/journal.jsonl --journal fernhollow.journal`.\n";

/// What the program prints at the end of the year.
fn report(root: &Path, journal: &Path) -> Result<String, Box<dyn Error>> {
    let mut out =
        HEAD.replace("{truth}", &looks::TRUTH_G_M2.to_string()).replace("{dry}", play::DRY_DAY);
    let at = ["--at", play::END];
    let collection = ["--collection", "demo-data/collection.csv"];
    let site = ["--site", "demo-data/site.toml"];
    for (title, verb) in [
        ("An established plant on a mount", &["history", "FH-011"][..]),
        ("A plant in a pot", &["history", "FH-036"][..]),
        ("Seedlings", &["history", "FH-014"][..]),
        ("What was learned", &["history", "threshold"][..]),
    ] {
        let mut args: Vec<&str> = verb.to_vec();
        args.extend(site.iter().chain(&collection).chain(&at));
        let shown = format!(
            "guardcell {} --site demo-data/site.toml \\\n    --collection demo-data/collection.csv --at {} --journal fernhollow.journal",
            verb.join(" "),
            play::END
        );
        out.push_str(&format!("\n## {title}\n\n```text\n$ {shown}\n\n"));
        out.push_str(run(root, &args, journal)?.trim_end());
        out.push_str("\n```\n");
    }
    Ok(out)
}

/// Runs the program of this workspace: the one that `GUARDCELL_PROGRAM` names, else as cargo builds it,
/// which compiles much again where the whole workspace was built.
fn run(root: &Path, args: &[&str], journal: &Path) -> Result<String, Box<dyn Error>> {
    let mut program = match std::env::var_os("GUARDCELL_PROGRAM") {
        Some(program) => Command::new(program),
        None => {
            let mut cargo = Command::new(std::env::var_os("CARGO").unwrap_or("cargo".into()));
            cargo.args(["run", "--quiet", "--package", "guardcell-cli", "--"]);
            cargo
        }
    };
    let done = program.args(args).arg("--journal").arg(journal).current_dir(root).output()?;
    if !done.status.success() {
        return Err(format!(
            "guardcell {}: {}",
            args.join(" "),
            String::from_utf8_lossy(&done.stderr)
        )
        .into());
    }
    Ok(String::from_utf8(done.stdout)?)
}
