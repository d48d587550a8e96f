//! The header of a table: which columns are read, which are passed along, which are added.

use super::cells::Tree;
use super::columns;
use super::fields::has_path;
use super::function::{self, Once, TableFunction, Tabular};
use super::rows::Answering;
use super::split::{Kind, Splitter};
use crate::args::Batch;
use crate::error::{argument, bad_file, io};
use crate::print::{spreadsheet, terminal};
use guardcell::Error;
use std::io::Read;
use std::sync::Arc;

/// What a header says.
pub(crate) struct Header {
    pub(crate) answering: Answering,
    /// The header of the output.
    pub(crate) written: Vec<u8>,
    /// Lines it takes.
    pub(crate) lines: u64,
    read: Vec<String>,
    passed: Vec<String>,
}

/// Reads the header and makes ready what answers the rows below it.
pub(crate) fn header<R: Read>(
    splitter: &mut Splitter<R>,
    args: &Batch,
    once: Once,
) -> Result<Header, Error> {
    let place = if args.input.as_os_str() == "-" {
        "standard input".to_owned()
    } else {
        args.input.display().to_string()
    };
    let fault = |wrong: String, right: String| bad_file(&place, wrong, right).on_line(1);
    let verb = args.function.name();
    let tabular = function::tabular(args.function).ok_or_else(|| {
        argument(
            "--format",
            format!("the request of {verb} is not a row of a table"),
            "write the rows as NDJSON",
        )
    })?;
    let paths = paths(args, &tabular)?;
    let function = (tabular.table)(once, Arc::from(paths.as_slice())).map_err(|flag| {
        argument(flag, format!("it is missing; rows of {verb} need it"), "name the file")
    })?;
    let (names, lines) = first(splitter, args, &fault)?;
    let (mut tree, mut read, mut passed) = (Tree::default(), Vec::new(), Vec::new());
    for (i, name) in names.iter().enumerate() {
        if names.iter().take(i).any(|n| n == name) {
            return Err(fault(format!("duplicate column `{name}`"), "keep one of them".to_owned()));
        }
        let field = name.split('.').next().unwrap_or_default();
        if function.fields.iter().any(|f| f == field) {
            tree.add(name, i).map_err(|clash| {
                fault(
                    format!("the column `{}` is within another", clash.0),
                    "give the whole as JSON in one column, or each part in one of its own"
                        .to_owned(),
                )
            })?;
            read.push(name.clone());
        } else {
            passed.push(name.clone());
        }
    }
    complete(&function, &read, &passed, &fault)?;
    let mut written = Vec::new();
    for (i, name) in names.iter().enumerate() {
        if i > 0 {
            written.push(b',');
        }
        columns::text(name, &mut written);
    }
    let mut taken = names.clone();
    for path in &paths {
        let mut name = columns::name(path);
        while taken.contains(&name) {
            name.insert_str(0, "answer.");
        }
        written.push(b',');
        columns::text(&name, &mut written);
        taken.push(name);
    }
    written.push(b'\n');
    if args.spreadsheet {
        written = spreadsheet::disarmed(&written)?.into_bytes();
    }
    let answering = Answering::Csv {
        answer: function.answer,
        columns: tree,
        width: names.len(),
        spreadsheet: args.spreadsheet,
    };
    Ok(Header { answering, written, lines, read, passed })
}

/// The columns of the answer that are asked for.
fn paths(args: &Batch, tabular: &Tabular) -> Result<Vec<String>, Error> {
    if args.columns.is_empty() {
        return Ok(tabular.usual.iter().map(|c| (*c).to_owned()).collect());
    }
    let schema = function::answer_schema(args.function);
    for path in &args.columns {
        if !has_path(&schema, path) {
            return Err(argument(
                "--columns",
                format!("the answer of {} has no {path:?}", args.function.name()),
                format!(
                    "name fields of it, with points for those within others, such as {}",
                    tabular.usual.join(",")
                ),
            ));
        }
    }
    Ok(args.columns.clone())
}

/// The names of the columns and the lines they take.
fn first<R: Read>(
    splitter: &mut Splitter<R>,
    args: &Batch,
    fault: &impl Fn(String, String) -> Error,
) -> Result<(Vec<String>, u64), Error> {
    let mut lines = 0;
    loop {
        let piece = splitter.row().map_err(|what| io(&args.input, what))?.ok_or_else(|| {
            fault("the table is empty".to_owned(), "give a header and rows".to_owned())
        })?;
        lines += memchr::memchr_iter(b'\n', &piece.bytes).count() as u64;
        if piece.kind != Kind::Rows {
            return Err(fault(
                "the header is longer than a row may be, or opens a quote that is not closed"
                    .to_owned(),
                "write the names of the columns, separated by commas".to_owned(),
            ));
        }
        if piece.bytes.trim_ascii().is_empty() {
            continue;
        }
        let text = std::str::from_utf8(&piece.bytes).map_err(|_| {
            fault("the header is not UTF-8".to_owned(), "save the file as UTF-8".to_owned())
        })?;
        if !text.contains(',') && text.contains(';') {
            return Err(fault(
                "the columns are separated by semicolons".to_owned(),
                "save the table with commas between columns and a point as decimal mark".to_owned(),
            ));
        }
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(text.as_bytes());
        let record = reader.records().next().and_then(Result::ok).ok_or_else(|| {
            fault("the header is not CSV".to_owned(), "write it by RFC 4180".to_owned())
        })?;
        return Ok((record.iter().map(str::to_owned).collect(), lines));
    }
}

/// Without a column that every row needs, no row could be answered.
fn complete(
    function: &TableFunction,
    read: &[String],
    passed: &[String],
    fault: &impl Fn(String, String) -> Error,
) -> Result<(), Error> {
    let is_of = |name: &String, field: &String| {
        name.strip_prefix(field.as_str())
            .is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    };
    let missing = function.needed.iter().find(|field| !read.iter().any(|name| is_of(name, field)));
    match missing {
        None => Ok(()),
        Some(missing) => {
            let others = match passed {
                [] => String::new(),
                passed => format!("; not read are {}", passed.join(", ")),
            };
            Err(fault(
                format!("the column `{missing}` is missing{others}"),
                format!("the fields are {}", function.fields.join(", ")),
            ))
        }
    }
}

/// Says what is read and what only passes, so that a misspelt column is seen.
pub(crate) fn tell(header: &Header) {
    let mut line = format!("read: {}", header.read.join(", "));
    if !header.passed.is_empty() {
        line.push_str("; passed along: ");
        line.push_str(&header.passed.join(", "));
    }
    terminal::note(&line);
}
