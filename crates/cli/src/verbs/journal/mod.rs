//! `journal`: the journal as a file.

pub(crate) mod learned;
pub(crate) mod open;

use crate::args::{Form, JournalArgs, JournalKind};
use crate::error::{argument, io};
use crate::home::Home;
use crate::input::text;
use crate::print::terminal::Escaping;
use crate::print::{Out, file, text as words};
use guardcell::{Code, Error};
use guardcell_journal::{Format, Journal, Kept, Verification};
use open::fault;
use std::fs::File;
use std::io::{IsTerminal as _, Write as _};
use std::path::Path;

pub(crate) fn run(args: &JournalArgs, home: &Home, out: &mut Out) -> Result<(), Error> {
    let path = open::path(&args.file, home)?;
    match &args.what {
        JournalKind::Verify => verify(&path, out),
        JournalKind::Backup { to, replace } => {
            let journal = Journal::open_to_read(&path).map_err(fault)?;
            kept("Backed up", &journal.backup(to, *replace).map_err(fault)?, out)
        }
        JournalKind::Restore { from, replace } => {
            kept("Restored", &Journal::restore(from, &path, *replace).map_err(fault)?, out)
        }
        JournalKind::Export { format, output } => export(&path, *format, output.as_deref(), out),
        JournalKind::Import { input, format } => import(&path, input, *format, out),
    }
}

fn verify(path: &Path, out: &mut Out) -> Result<(), Error> {
    let found: Verification =
        Journal::open_to_read(path).map_err(fault)?.verify().map_err(fault)?;
    if out.json() {
        out.value(&found)?;
    } else {
        out.line(format!("{} (format {})", found.path, found.format));
        let span = match (&found.first, &found.last) {
            (Some(first), Some(last)) => {
                format!(", from {} to {}", words::day_and_year(first), words::day_and_year(last))
            }
            _ => String::new(),
        };
        out.line(format!(
            "{}, {} of them standing{span}",
            words::count(found.entries as usize, "entry", "entries"),
            found.standing
        ));
        for problem in &found.problems {
            out.item("  - ", problem);
        }
        if found.sound() {
            out.line("Nothing is wrong.");
        }
    }
    if found.sound() {
        return Ok(());
    }
    out.finish()?;
    Err(Error::new(
        Code::Storage,
        words::count(found.problems.len(), "thing is wrong", "things are wrong"),
        "restore the last backup with `guardcell journal restore`; this file is left as it is",
    )
    .in_file(path.display().to_string()))
}

fn kept(done: &str, kept: &Kept, out: &mut Out) -> Result<(), Error> {
    if out.json() {
        return out.value(kept);
    }
    out.line(format!(
        "{done} {} to {}",
        words::count(kept.entries as usize, "entry", "entries"),
        kept.path
    ));
    if let Some(aside) = &kept.set_aside {
        out.line(format!("The journal that was there is kept as {aside}"));
    }
    Ok(())
}

const fn format(form: Form) -> Format {
    match form {
        Form::Jsonl => Format::Jsonl,
        Form::Csv => Format::Csv,
        Form::Spreadsheet => Format::Spreadsheet,
    }
}

fn export(path: &Path, form: Form, to: Option<&Path>, out: &mut Out) -> Result<(), Error> {
    let journal = Journal::open_to_read(path).map_err(fault)?;
    let Some(to) = to else {
        let stdout = std::io::stdout().lock();
        let exported = if stdout.is_terminal() {
            journal.export(format(form), &mut Escaping::new(stdout))
        } else {
            journal.export(format(form), &mut { stdout })
        };
        return exported.map(|_| ()).map_err(|e| of_stream(e, "standard output"));
    };
    let count = file::write_with(to, |part| {
        let mut writer = std::io::BufWriter::new(part);
        let count = journal
            .export(format(form), &mut writer)
            .map_err(|e| of_stream(e, &to.display().to_string()))?;
        writer.flush().map_err(|what| io(to, what))?;
        Ok(count)
    })?;
    out.line(format!(
        "Exported {} to {}",
        words::count(count as usize, "entry", "entries"),
        to.display()
    ));
    Ok(())
}

/// An error of the writer that was handed in, with the name of its file.
fn of_stream(e: Error, name: &str) -> Error {
    if e.code() == Code::Io && e.place().is_none() { e.in_file(name) } else { fault(e) }
}

fn import(path: &Path, input: &Path, form: Option<Form>, out: &mut Out) -> Result<(), Error> {
    let ending = input.extension().and_then(|e| e.to_str()).unwrap_or_default();
    let form = match (form, ending) {
        (Some(form), _) => form,
        (None, "csv") => Form::Csv,
        (None, "jsonl" | "ndjson") => Form::Jsonl,
        (None, _) => {
            return Err(argument(
                "--format",
                format!("the name of {} does not tell the format", input.display()),
                "say --format jsonl or --format csv",
            ));
        }
    };
    let place =
        if input == Path::new("-") { "standard input".into() } else { input.display().to_string() };
    let mut journal = if input == Path::new("-") {
        let mut journal = open::write(path)?;
        let done = journal.import(format(form), std::io::stdin().lock());
        return imported(path, done.map_err(|e| open::fault_in(&place, e))?, out);
    } else {
        text::check_file(input)?;
        open::write(path)?
    };
    let file = File::open(input).map_err(|what| io(input, what))?;
    let done = journal.import(format(form), file).map_err(|e| open::fault_in(&place, e))?;
    imported(path, done, out)
}

fn imported(path: &Path, done: guardcell_journal::Imported, out: &mut Out) -> Result<(), Error> {
    if out.json() {
        return out.value(&done);
    }
    out.line(format!(
        "Recorded {} in {}{}",
        words::count(done.added as usize, "entry", "entries"),
        path.display(),
        match done.already_there {
            0 => String::new(),
            n => format!("; {n} had been there already, word for word"),
        }
    ));
    Ok(())
}
