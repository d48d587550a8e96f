//! What a run asks of the rows of a file, whatever its format.

use super::super::format::Formats;
use super::super::header;
use super::super::split::{Pieces, Splitter};
use super::answering::Tables;
use super::rows::Form;
use super::source::Source;
use super::write::head;
use crate::args::{Batch, BatchFormat};
use crate::error::{argument, bad_file, io};
use crate::print::{spreadsheet, terminal};
use arrow_schema::{DataType, Field, Schema, SchemaRef};
use guardcell::{Code, Error};
use guardcell_table::batch::{Asked, Options, REQUEST};
use guardcell_table::{Once, WHOLE};
use std::fs::File;
use std::io::{Read, Seek as _, SeekFrom};
use std::path::Path;
use std::sync::Arc;

/// A run that is ready to begin.
pub(crate) struct Opened {
    pub(crate) tables: Tables,
    pub(crate) pieces: Box<dyn Pieces>,
    /// What comes before all answers.
    pub(crate) head: Vec<u8>,
    /// Lines that the header of the input takes.
    pub(crate) lines: u64,
}

/// Opens the input where the next row begins: at a byte of a text, at a row of a table.
pub(crate) fn open(
    args: &Batch,
    formats: Formats,
    once: Once,
    done: Option<u64>,
) -> Result<Opened, Error> {
    let unread = |e| unreadable(&args.input, e);
    let given = [
        ("--site", args.site.is_some()),
        ("--label", args.label.is_some()),
        ("--water", args.water.is_some()),
    ];
    let mut options = Options::default();
    options.once = once;
    options.columns.clone_from(&args.columns);
    if formats.answers == BatchFormat::Ndjson {
        options.columns = vec![WHOLE.to_owned()];
    }
    let mut lines = 0;
    let (schema, form, mut source) = match formats.rows {
        BatchFormat::Csv => {
            let mut splitter = Splitter::new(input(&args.input)?, formats.rows, 0);
            splitter.skip_mark().map_err(unread)?;
            let (columns, taken) = header::columns(&mut splitter, args)?;
            lines = taken;
            let schema = texts(&columns);
            (Arc::clone(&schema), Form::Csv(schema), Rows::Text(Box::new(splitter)))
        }
        BatchFormat::Ndjson => {
            let mut splitter = Splitter::new(input(&args.input)?, formats.rows, 0);
            splitter.skip_mark().map_err(unread)?;
            let schema = texts(&[REQUEST.to_owned()]);
            (Arc::clone(&schema), Form::Ndjson(schema), Rows::Text(Box::new(splitter)))
        }
        BatchFormat::Arrow if args.input == Path::new("-") => {
            batches(Source::stream(std::io::stdin()).map_err(unread)?)
        }
        BatchFormat::Arrow => batches(Source::arrow(file(&args.input)?).map_err(unread)?),
        BatchFormat::Parquet if args.input == Path::new("-") => {
            return Err(argument(
                "--input",
                "Parquet is read from its end, which standard input does not have yet",
                "name a file, or send a stream of Arrow",
            ));
        }
        BatchFormat::Parquet => batches(Source::parquet(file(&args.input)?).map_err(unread)?),
    };
    let asked = Asked::new(args.function, &schema, options).map_err(|e| place(args, e))?;
    if let Some((flag, _)) = given.iter().find(|(_, given)| *given && asked.takes_requests()) {
        return Err(argument(
            *flag,
            "each row is a whole request",
            "leave it out, or give the fields of the request as columns",
        ));
    }
    if !args.quiet {
        let columns = asked.input().fields().iter().map(|f| f.name().as_str());
        let passed: Vec<&str> =
            columns.filter(|name| !asked.read().iter().any(|read| read == name)).collect();
        terminal::note(&header::told(asked.read(), &passed));
    }
    if let Some(done) = done {
        source.go_to(done, args, formats)?;
    }
    if let Rows::Batches(source) = &mut source {
        source.at_most(asked.rows_at_a_time());
    }
    let mut head = head(formats.answers, asked.schema())
        .map_err(|e| Error::internal(format!("the columns cannot be written: {e}")))?;
    if args.spreadsheet {
        head = spreadsheet::disarmed(&head)?.into_bytes();
    }
    let tables = Tables { asked, form, answers: formats.answers, spreadsheet: args.spreadsheet };
    let pieces: Box<dyn Pieces> = match source {
        Rows::Text(splitter) => splitter,
        Rows::Batches(source) => source,
    };
    Ok(Opened { tables, pieces, head, lines })
}

type Input = Box<dyn Read + Send>;

/// Where rows come from.
enum Rows {
    Text(Box<Splitter<Input>>),
    Batches(Box<Source>),
}

impl Rows {
    fn go_to(&mut self, done: u64, args: &Batch, formats: Formats) -> Result<(), Error> {
        match self {
            Self::Batches(source) => source.skip(done),
            Self::Text(splitter) => {
                let mut file = file(&args.input)?;
                file.seek(SeekFrom::Start(done)).map_err(|e| io(&args.input, e))?;
                let input: Input = Box::new(file);
                **splitter = Splitter::new(input, formats.rows, done);
            }
        }
        Ok(())
    }
}

fn batches(source: Source) -> (SchemaRef, Form, Rows) {
    (Arc::clone(source.schema()), Form::Batch, Rows::Batches(Box::new(source)))
}

fn texts(names: &[String]) -> SchemaRef {
    let fields = names.iter().map(|name| Field::new(name, DataType::Utf8, true));
    Arc::new(Schema::new(fields.collect::<Vec<_>>()))
}

fn file(path: &Path) -> Result<File, Error> {
    let file = File::open(path).map_err(|e| io(path, e))?;
    if file.metadata().map_err(|e| io(path, e))?.is_dir() {
        return Err(bad_file(path.display(), "this is a folder", "name a file"));
    }
    Ok(file)
}

fn input(path: &Path) -> Result<Input, Error> {
    Ok(if path == Path::new("-") { Box::new(std::io::stdin()) } else { Box::new(file(path)?) })
}

/// A file that is not of its format is bad input, one that cannot be read a fault of the system.
fn unreadable(path: &Path, e: std::io::Error) -> Error {
    if e.kind() == std::io::ErrorKind::Other && e.get_ref().is_some() {
        return bad_file(
            path.display(),
            format!("it cannot be read ({e})"),
            "give a whole file of the format that its name or --format says",
        );
    }
    io(path, e)
}

/// What does not fit is a flag, or the columns of the file.
fn place(args: &Batch, error: Error) -> Error {
    let flag = match (error.code(), error.pointer()) {
        (Code::Missing, "/site") => Some("--site"),
        (Code::Missing, "/label") => Some("--label"),
        (Code::Missing, "/water") => Some("--water"),
        (Code::Unknown, "") => Some("--columns"),
        _ => None,
    };
    match flag {
        Some(flag) => argument(flag, error.detail(), error.hint()),
        None => bad_file(args.input.display(), error.detail(), error.hint()),
    }
}
