//! `batch`: one function over every row of a file.

mod columns;
mod convert;
mod cut;
mod done;
mod failed;
mod files;
mod format;
mod function;
mod header;
mod names;
mod pipeline;
mod progress;
mod rows;
mod split;
mod state;
mod table;
#[cfg(feature = "tables")]
mod tables;
mod text;

use crate::args::{Batch, BatchFormat};
use crate::error::{argument, bad_file};
use crate::input::{label, site, water};
use crate::print::{spreadsheet, terminal};
use done::Done;
use files::Files;
use format::Formats;
use guardcell::Error;
use guardcell::advice::SiteDescription;
use guardcell::solution::Label;
use guardcell_table::{Given, Once};
use names::{Names, failed};
use pipeline::Stop;
use progress::{Progress, grouped};
use rows::Answering;
use split::{Pieces, Splitter};
use state::{Counts, Identity, State};
use std::fs::File;
use std::io::{Read, Seek as _, SeekFrom};
use std::path::Path;
use std::time::{Duration, Instant};

/// The longest time between two places to resume from; rows that take long are few.
const KEEP_AFTER: Duration = Duration::from_secs(10);

pub(crate) fn run(args: &Batch) -> Result<(), Error> {
    let formats = Formats::of(args)?;
    let errors = formats.errors().name();
    let names = Names::new(&args.output, args.errors.as_deref(), errors, formats.answers.packs())?;
    files_apart(args, &names)?;
    let from_stdin = args.input == Path::new("-");
    if from_stdin && args.resume {
        return Err(argument(
            "--resume",
            "standard input cannot be read again from the middle",
            "give the rows as a file",
        ));
    }
    if names.direct.is_some() && args.resume {
        return Err(argument(
            "--resume",
            "what was written to no regular file cannot be continued",
            "write to a file",
        ));
    }
    if formats.answers.needs_a_file() && names.direct.is_some() {
        return Err(argument(
            "--output",
            "Parquet cannot be written to what is no regular file",
            "name a file, or write a stream of Arrow with --format arrow",
        ));
    }
    let once = once(args, formats)?;
    let asked = asked(args, formats, &once)?;
    let kept = State::read(&names)?;
    let new = if from_stdin || names.direct.is_some() {
        None
    } else {
        Some(State::new(asked, Identity::of(&args.input)?))
    };
    let state = match (kept, new, args.resume) {
        (Some(_), _, false) => return Err(unfinished(&names)),
        (Some(kept), Some(new), true) => {
            kept.check(&new, &names, &args.input)?;
            Some(kept)
        }
        (_, new, _) => new,
    };
    if let Some(state) = state.as_ref().filter(|s| s.complete) {
        files::name(&names)?;
        return summary(args, &names, state.counts);
    }
    let counts = answer(args, formats, once, &names, state)?;
    summary(args, &names, counts)
}

/// Where the rows come from.
enum Source {
    File(File),
    Stdin(std::io::Stdin),
}

impl Source {
    fn open(path: &Path) -> Result<Self, Error> {
        if path == Path::new("-") {
            return Ok(Self::Stdin(std::io::stdin()));
        }
        let file = File::open(path).map_err(failed(path))?;
        if file.metadata().map_err(failed(path))?.is_dir() {
            return Err(bad_file(path.display(), "this is a folder", "name a file"));
        }
        Ok(Self::File(file))
    }
}

impl Read for Source {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        match self {
            Self::File(file) => file.read(buffer),
            Self::Stdin(stdin) => stdin.read(buffer),
        }
    }
}

/// A run that is ready to begin.
struct Opened {
    answering: Answering,
    pieces: Box<dyn Pieces>,
    /// What comes before all answers.
    head: Vec<u8>,
    /// Lines that the header of the input takes.
    lines: u64,
}

/// Opens the input where the next row begins; `done` is where that is, in a run that goes on.
fn open(args: &Batch, formats: Formats, once: Once, done: Option<u64>) -> Result<Opened, Error> {
    #[cfg(feature = "tables")]
    if !formats.same_text() {
        let tables::Opened { tables, pieces, head, lines } =
            tables::open(args, formats, once, done)?;
        return Ok(Opened { answering: Answering::Table(tables), pieces, head, lines });
    }
    if !formats.same_text() {
        return Err(argument(
            "--output",
            "this program writes answers in the format of the rows only",
            "give both the same, or use a program that was built with the feature `tables`",
        ));
    }
    let unread = |e| failed(&args.input)(e);
    let format = formats.rows;
    let mut splitter = Splitter::new(Source::open(&args.input)?, format, 0);
    splitter.skip_mark().map_err(unread)?;
    let (answering, head, lines) = match format {
        BatchFormat::Csv => {
            let header = table::open(&mut splitter, args, once)?;
            if !args.quiet {
                table::tell(&header);
            }
            (header.answering, header.written, header.lines)
        }
        _ => (Answering::Ndjson(function::json(args.function)), Vec::new(), 0),
    };
    if let Some(done) = done {
        let mut file = File::open(&args.input).map_err(failed(&args.input))?;
        file.seek(SeekFrom::Start(done)).map_err(unread)?;
        splitter = Splitter::new(Source::File(file), format, done);
    }
    Ok(Opened { answering, pieces: Box::new(splitter), head, lines })
}

/// Reads, answers and writes everything that is left to do.
fn answer(
    args: &Batch,
    formats: Formats,
    once: Once,
    names: &Names,
    mut state: Option<State>,
) -> Result<Counts, Error> {
    let unread = |e| failed(&args.input)(e);
    let done = state.as_ref().map(|s| s.input_bytes).filter(|done| *done > 0);
    let Opened { answering, pieces, head, lines } = open(args, formats, once, done)?;
    let mut errors = Vec::new();
    let mut counts = Counts { lines, ..Counts::default() };
    if formats.errors() == BatchFormat::Csv {
        errors.extend_from_slice(failed::HEADER.as_bytes());
    }
    let (output_bytes, errors_bytes) =
        state.as_ref().map_or((0, 0), |s| (s.output_bytes, s.errors_bytes));
    let mut files = Files::open(names, output_bytes, errors_bytes)?;
    match state.as_ref().filter(|s| s.input_bytes > 0) {
        Some(state) => counts = state.counts,
        None => files.write(&head, &errors)?,
    }
    // Rows of a table are counted, and their bytes are not known.
    let length = state.as_ref().map(State::length).filter(|_| formats.rows.is_text());
    let progress = Progress::new(args.quiet, length);
    let jobs = args.jobs.map_or_else(
        || std::thread::available_parallelism().map_or(1, usize::from),
        |jobs| usize::from(jobs.get()),
    );
    let (mut kept_rows, mut kept_at) = (counts.rows, Instant::now());
    let write = |done: &Done| -> Result<(), Error> {
        if let Some(error) = &done.broke {
            return Err(error.clone());
        }
        errors.clear();
        for failed in &done.failed {
            failed
                .write(counts.rows, counts.lines, formats.errors(), &mut errors)
                .map_err(names::failed(&names.errors_part))?;
        }
        if args.spreadsheet {
            errors = spreadsheet::disarmed(&errors)?.into_bytes();
        }
        files.write(&done.out, &errors)?;
        counts.rows += done.rows;
        counts.lines += done.lines;
        counts.failed += done.failed.len() as u64;
        progress.at(done.end, counts.rows);
        if let Some(state) = &mut state {
            state.input_bytes = done.end;
            state.counts = counts;
            let rows = counts.rows - kept_rows;
            if rows >= args.checkpoint.get() || kept_at.elapsed() >= KEEP_AFTER {
                files.keep(state)?;
                (kept_rows, kept_at) = (counts.rows, Instant::now());
            }
        }
        Ok(())
    };
    let ended = pipeline::run(pieces, &answering, jobs, write);
    progress.end();
    match ended {
        Ok(()) => {}
        Err(Stop::Input(e)) => return Err(unread(e)),
        Err(Stop::Output(e)) => return Err(e),
        Err(Stop::Panicked) => {
            let row = counts.rows + 1;
            return Err(Error::internal(format!("a row near row {row} could not be processed"))
                .in_file(args.input.display().to_string()));
        }
    }
    #[cfg(feature = "tables")]
    let pack = |part, file| tables::pack(formats.answers, part, file);
    #[cfg(not(feature = "tables"))]
    let pack = |_, file| Ok(file);
    files.finish(state.as_mut(), &pack)?;
    Ok(counts)
}

/// No file of the run may be another of them, least of all the input.
fn files_apart(args: &Batch, names: &Names) -> Result<(), Error> {
    let real = |path: &Path| std::fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    let all = [("--input", &args.input), ("--output", &names.output), ("--errors", &names.errors)];
    for (i, (flag, path)) in all.iter().enumerate() {
        // Standard input and output are two.
        if path.as_path() == Path::new("-") {
            continue;
        }
        if i > 0 && path.is_dir() {
            return Err(argument(*flag, "this is a folder", "name a file"));
        }
        if let Some((other, _)) = all.iter().take(i).find(|(_, p)| real(p) == real(path)) {
            return Err(argument(
                *flag,
                format!("it names the same file as {other}"),
                "name another",
            ));
        }
    }
    Ok(())
}

fn once(args: &Batch, formats: Formats) -> Result<Once, Error> {
    let f = args.function;
    let tabular = guardcell_table::tabular(f).filter(|_| formats.rows != BatchFormat::Ndjson);
    let columns = match formats.answers {
        BatchFormat::Csv => tabular.is_some() || !formats.same_text(),
        BatchFormat::Ndjson => false,
        #[cfg(feature = "tables")]
        BatchFormat::Arrow | BatchFormat::Parquet => true,
    };
    let spreadsheet = columns && formats.answers == BatchFormat::Csv;
    let takes = |given| tabular.as_ref().is_some_and(|t| t.takes.contains(&given));
    let flags = [
        ("--site", args.site.is_some(), takes(Given::Site)),
        ("--label", args.label.is_some(), takes(Given::Label)),
        ("--water", args.water.is_some(), takes(Given::Water)),
        ("--columns", !args.columns.is_empty(), columns),
        ("--spreadsheet", args.spreadsheet, spreadsheet),
    ];
    if let Some((flag, ..)) = flags.iter().find(|(_, given, of_use)| *given && !*of_use) {
        return Err(argument(
            *flag,
            format!("rows of {} as {} have no use for it", f.name(), formats.rows.name()),
            "leave it out; a row of NDJSON holds the whole request",
        ));
    }
    if let (Some(product), None) = (args.product.first(), &args.label) {
        return Err(argument(
            "--product",
            format!("{product:?} is named, and no label that it could be of"),
            "name the file or folder of its label with --label",
        ));
    }
    let site = args.site.as_deref().map(site::read).transpose()?;
    let label = match &args.label {
        Some(path) => Some(feed(label::read(path)?, &args.product, site.as_ref())?),
        None => None,
    };
    let water = args.water.as_deref().map(water::read).transpose()?;
    Ok(Once { site, label, water })
}

/// The one label: of the product named, of what the site usually feeds, or the only one.
fn feed(
    mut labels: Vec<Label>,
    named: &[String],
    site: Option<&SiteDescription>,
) -> Result<Label, Error> {
    let mut names = named.to_vec();
    if let Some(site) = site {
        if names.is_empty() {
            names.extend(guardcell_folder::usual_feed(site));
        }
        labels = guardcell_folder::with_supplements(site, labels, &names)?;
        names = names.iter().map(|n| guardcell_folder::product_named(site, n)).collect();
    }
    guardcell_folder::choose_one(labels, &names, None)
}

/// The fingerprint of everything but the rows that decides what is written.
fn asked(args: &Batch, formats: Formats, once: &Once) -> Result<String, Error> {
    let formats = (formats.rows.name(), formats.answers.name());
    let asked = (args.function.name(), formats, &args.columns, args.spreadsheet, once);
    let text = serde_json::to_vec(&asked)
        .map_err(|e| Error::internal(format!("what is given for all rows: {e}")))?;
    Ok(state::fnv(&text))
}

fn unfinished(names: &Names) -> Error {
    bad_file(
        names.output_part.display(),
        "this is of a run that was broken off",
        format!("go on with --resume, or begin anew: delete it and {}", names.state.display()),
    )
}

/// What was done, on standard error; rows that could not be answered are an error of the input.
fn summary(args: &Batch, names: &Names, counts: Counts) -> Result<(), Error> {
    let rows = match counts.rows {
        1 => "1 row".to_owned(),
        n => format!("{} rows", grouped(n)),
    };
    if counts.failed > 0 {
        let failed = grouped(counts.failed);
        return Err(bad_file(
            args.input.display(),
            format!("{failed} of {rows} could not be answered"),
            format!(
                "see {} for the reasons; {} contains the other answers",
                names.errors.display(),
                names.output.display()
            ),
        ));
    }
    if !args.quiet {
        terminal::note(&format!("{rows} answered in {}", names.output.display()));
    }
    Ok(())
}
