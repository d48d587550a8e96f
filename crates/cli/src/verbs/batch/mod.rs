//! `batch`: one function over every row of a file.

mod cells;
mod columns;
mod convert;
mod cut;
mod failed;
mod fields;
mod files;
mod function;
mod names;
mod pipeline;
mod progress;
mod rows;
mod split;
mod state;
mod table;

use crate::args::{Batch, BatchFormat};
use crate::error::{argument, bad_file};
use crate::input::{label, site, water};
use crate::print::{spreadsheet, terminal};
use files::Files;
use function::{Given, Once};
use guardcell::Error;
use guardcell::advice::SiteDescription;
use guardcell::solution::Label;
use names::{Names, failed};
use pipeline::Stop;
use progress::{Progress, grouped};
use rows::{Answering, Done};
use split::Splitter;
use state::{Counts, Identity, State};
use std::fs::File;
use std::io::{Read, Seek as _, SeekFrom};
use std::path::Path;
use std::time::{Duration, Instant};

/// The longest time between two places to resume from; rows that take long are few.
const KEEP_AFTER: Duration = Duration::from_secs(10);

pub(crate) fn run(args: &Batch) -> Result<(), Error> {
    let format = format(args)?;
    let names = Names::new(&args.output, args.errors.as_deref(), format.name())?;
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
    let once = once(args, format)?;
    let asked = asked(args, format, &once)?;
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
    let source = Source::open(&args.input)?;
    let counts = answer(args, format, once, &names, source, state)?;
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

/// Reads, answers and writes everything that is left to do.
fn answer(
    args: &Batch,
    format: BatchFormat,
    once: Once,
    names: &Names,
    source: Source,
    mut state: Option<State>,
) -> Result<Counts, Error> {
    let unread = |e| failed(&args.input)(e);
    let mut splitter = Splitter::new(source, format, 0);
    splitter.skip_mark().map_err(unread)?;
    let mut errors = Vec::new();
    let mut counts = Counts::default();
    let (answering, head) = match format {
        BatchFormat::Ndjson => (Answering::Ndjson(function::json(args.function)), Vec::new()),
        BatchFormat::Csv => {
            errors.extend_from_slice(failed::HEADER.as_bytes());
            let header = table::header(&mut splitter, args, once)?;
            counts.lines = header.lines;
            if !args.quiet {
                table::tell(&header);
            }
            (header.answering, header.written)
        }
    };
    let (output_bytes, errors_bytes) =
        state.as_ref().map_or((0, 0), |s| (s.output_bytes, s.errors_bytes));
    let mut files = Files::open(names, output_bytes, errors_bytes)?;
    if let Some(state) = state.as_ref().filter(|s| s.input_bytes > 0) {
        counts = state.counts;
        let mut file = File::open(&args.input).map_err(failed(&args.input))?;
        file.seek(SeekFrom::Start(state.input_bytes)).map_err(unread)?;
        splitter = Splitter::new(Source::File(file), format, state.input_bytes);
    } else {
        files.write(&head, &errors)?;
    }
    let progress = Progress::new(args.quiet, state.as_ref().map(State::length));
    let jobs = args.jobs.map_or_else(
        || std::thread::available_parallelism().map_or(1, usize::from),
        |jobs| usize::from(jobs.get()),
    );
    let (mut kept_rows, mut kept_at) = (counts.rows, Instant::now());
    let write = |done: &Done| -> Result<(), Error> {
        errors.clear();
        for failed in &done.failed {
            failed
                .write(counts.rows, counts.lines, format, &mut errors)
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
    let ended = pipeline::run(splitter, &answering, jobs, write);
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
    files.finish(state.as_mut())?;
    Ok(counts)
}

/// The format that is said, or that the name of the input says.
fn format(args: &Batch) -> Result<BatchFormat, Error> {
    if let Some(format) = args.format {
        return Ok(format);
    }
    let ending = args.input.extension().and_then(|e| e.to_str()).unwrap_or_default();
    match ending.to_ascii_lowercase().as_str() {
        "csv" => Ok(BatchFormat::Csv),
        "ndjson" | "jsonl" => Ok(BatchFormat::Ndjson),
        _ => Err(argument(
            "--format",
            format!("the name {} does not say the format", args.input.display()),
            "add --format csv or --format ndjson",
        )),
    }
}

/// No file of the run may be another of them, least of all the input.
fn files_apart(args: &Batch, names: &Names) -> Result<(), Error> {
    let real = |path: &Path| std::fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    let all = [("--input", &args.input), ("--output", &names.output), ("--errors", &names.errors)];
    for (i, (flag, path)) in all.iter().enumerate() {
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

fn once(args: &Batch, format: BatchFormat) -> Result<Once, Error> {
    let f = args.function;
    let tabular = function::tabular(f).filter(|_| format == BatchFormat::Csv);
    let takes = |given| tabular.as_ref().is_some_and(|t| t.takes.contains(&given));
    let flags = [
        ("--site", args.site.is_some(), takes(Given::Site)),
        ("--label", args.label.is_some(), takes(Given::Label)),
        ("--water", args.water.is_some(), takes(Given::Water)),
        ("--columns", !args.columns.is_empty(), tabular.is_some()),
        ("--spreadsheet", args.spreadsheet, tabular.is_some()),
    ];
    if let Some((flag, ..)) = flags.iter().find(|(_, given, of_use)| *given && !*of_use) {
        return Err(argument(
            *flag,
            format!("rows of {} as {} have no use for it", f.name(), format.name()),
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
fn asked(args: &Batch, format: BatchFormat, once: &Once) -> Result<String, Error> {
    let asked = (args.function.name(), format.name(), &args.columns, args.spreadsheet, once);
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
