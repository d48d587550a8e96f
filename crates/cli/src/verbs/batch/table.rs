//! The header of a table: which columns are read, which are passed along, which are added.

use super::columns;
use super::function;
use super::header::{self, fault, flag, told};
use super::rows::Answering;
use super::split::Splitter;
use crate::args::Batch;
use crate::error::argument;
use crate::print::{spreadsheet, terminal};
use guardcell::Error;
use guardcell_table::{Once, RowFunction, Tabular, Tree, answer_schema, has_path, names, tabular};
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
pub(crate) fn open<R: Read>(
    splitter: &mut Splitter<R>,
    args: &Batch,
    once: Once,
) -> Result<Header, Error> {
    let fault = |wrong: String, right: String| fault(args, wrong, right);
    let verb = args.function.name();
    let tabular = tabular(args.function).ok_or_else(|| {
        argument(
            "--format",
            format!("the request of {verb} is not a row of a table"),
            "write the rows as NDJSON",
        )
    })?;
    let paths = paths(args, &tabular)?;
    let function = tabular.function(once).map_err(|given| {
        argument(flag(given), format!("it is missing; rows of {verb} need it"), "name the file")
    })?;
    let (columns, lines) = header::columns(splitter, args)?;
    let (mut tree, mut read, mut passed) = (Tree::default(), Vec::new(), Vec::new());
    for (i, name) in columns.iter().enumerate() {
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
    for (i, name) in columns.iter().chain(&names(&paths, &columns)).enumerate() {
        if i > 0 {
            written.push(b',');
        }
        columns::text(name, &mut written);
    }
    written.push(b'\n');
    if args.spreadsheet {
        written = spreadsheet::disarmed(&written)?.into_bytes();
    }
    let answering = Answering::Csv {
        answer: function::csv(args.function, function, Arc::from(paths)),
        columns: tree,
        width: columns.len(),
        spreadsheet: args.spreadsheet,
    };
    Ok(Header { answering, written, lines, read, passed })
}

/// The columns of the answer that are asked for.
fn paths(args: &Batch, tabular: &Tabular) -> Result<Vec<String>, Error> {
    if args.columns.is_empty() {
        return Ok(tabular.usual.iter().map(|c| (*c).to_owned()).collect());
    }
    let schema = answer_schema(args.function);
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

/// Without a column that every row needs, no row could be answered.
fn complete(
    function: &RowFunction,
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

/// Says what is read and what only passes.
pub(crate) fn tell(header: &Header) {
    let passed: Vec<&str> = header.passed.iter().map(String::as_str).collect();
    terminal::note(&told(&header.read, &passed));
}
