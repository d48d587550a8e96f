//! One piece of the input answered.

use super::cells::Tree;
use super::fault::{Failed, Fault};
use super::function::{Cells, Json, Table, TableRow};
use super::split::{Kind, LONGEST_ROW, Piece};
use memchr::memchr_iter;

/// How rows are answered.
pub(crate) enum Answering {
    Ndjson(Json),
    Csv {
        answer: Table,
        columns: Tree,
        /// How many fields a row has.
        width: usize,
    },
}

/// A piece that has been answered.
#[derive(Default)]
pub(crate) struct Done {
    pub(crate) out: Vec<u8>,
    pub(crate) failed: Vec<Failed>,
    pub(crate) rows: u64,
    pub(crate) lines: u64,
    /// Where the next piece begins in the input.
    pub(crate) end: u64,
}

/// Answers pieces on one thread.
pub(crate) struct Worker<'a> {
    answering: &'a Answering,
    table: Option<TableRow>,
    record: csv::ByteRecord,
}

impl<'a> Worker<'a> {
    pub(crate) fn new(answering: &'a Answering) -> Self {
        let table = match answering {
            Answering::Csv { answer, .. } => Some(answer()),
            Answering::Ndjson(_) => None,
        };
        Self { answering, table, record: csv::ByteRecord::new() }
    }

    /// Answers every row of a piece.
    pub(crate) fn answer(&mut self, piece: &Piece) -> Done {
        let mut done = Done {
            lines: memchr_iter(b'\n', &piece.bytes).count() as u64,
            end: piece.end,
            ..Done::default()
        };
        let fault = match piece.kind {
            Kind::Rows => None,
            Kind::TooLong => {
                done.lines = 1;
                Some(Fault::row(
                    format!("the row is longer than {LONGEST_ROW} bytes"),
                    "give it apart from the others",
                ))
            }
            Kind::OpenQuote => Some(Fault::row(
                format!("a quote is opened and not closed within {LONGEST_ROW} bytes"),
                "close the quote, and write a quote within a quoted field twice",
            )),
        };
        if let Some(fault) = fault {
            done.rows = 1;
            done.failed.push(Failed::new(1, 1, fault, trimmed(&piece.bytes)));
            if matches!(self.answering, Answering::Ndjson(_)) {
                done.out.extend_from_slice(b"null\n");
            }
            return done;
        }
        match (self.answering, &mut self.table) {
            (Answering::Ndjson(answer), _) => lines(answer, &piece.bytes, &mut done),
            (Answering::Csv { columns, width, .. }, Some(row)) => {
                records(row, columns, *width, &mut self.record, &piece.bytes, &mut done);
            }
            // `new` makes the one with the other.
            (Answering::Csv { .. }, None) => {}
        }
        done
    }
}

fn not_utf8() -> Fault {
    Fault::row("the row is not UTF-8", "save the file as UTF-8")
}

fn trimmed(row: &[u8]) -> &[u8] {
    row.trim_ascii()
}

fn lines(answer: &Json, bytes: &[u8], done: &mut Done) {
    for (i, line) in bytes.split(|b| *b == b'\n').enumerate() {
        let line = trimmed(line);
        if line.is_empty() {
            continue;
        }
        done.rows += 1;
        let before = done.out.len();
        let answered = match std::str::from_utf8(line) {
            Ok(_) => answer(line, &mut done.out),
            Err(_) => Err(not_utf8()),
        };
        if let Err(fault) = answered {
            done.out.truncate(before);
            done.out.extend_from_slice(b"null\n");
            done.failed.push(Failed::new(done.rows, i as u64 + 1, fault, line));
        }
    }
}

fn records(
    answer: &mut TableRow,
    columns: &Tree,
    width: usize,
    record: &mut csv::ByteRecord,
    bytes: &[u8],
    done: &mut Done,
) {
    done.out.reserve(bytes.len() * 2);
    let all_utf8 = std::str::from_utf8(bytes).is_ok();
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(bytes);
    loop {
        let before = reader.position().byte() as usize;
        let line = reader.position().line();
        match reader.read_byte_record(record) {
            Ok(true) => {}
            Ok(false) => return,
            // Reading a row of bytes from memory has nothing to fail on; were it otherwise, the
            // rest of the piece is told rather than lost.
            Err(e) => {
                done.rows += 1;
                let fault = Fault::row(format!("this is not CSV ({e})"), "write it by RFC 4180");
                let rest = bytes.get(before..).unwrap_or_default();
                done.failed.push(Failed::new(done.rows, line, fault, rest));
                return;
            }
        }
        let row = bytes.get(before..reader.position().byte() as usize).unwrap_or_default();
        done.rows += 1;
        let newlines = row.iter().take_while(|b| matches!(b, b'\r' | b'\n'));
        let row_line = line + newlines.filter(|b| **b == b'\n').count() as u64;
        let row = without_ends(row);
        let start = done.out.len();
        let answered = if record.len() != width {
            Err(unequal(record.len(), width))
        } else if !all_utf8 && std::str::from_utf8(row).is_err() {
            Err(not_utf8())
        } else {
            done.out.extend_from_slice(row);
            answer(columns, &Cells(record), &mut done.out)
        };
        match answered {
            Ok(()) => done.out.push(b'\n'),
            Err(fault) => {
                done.out.truncate(start);
                done.failed.push(Failed::new(done.rows, row_line, fault, row));
            }
        }
    }
}

fn without_ends(mut row: &[u8]) -> &[u8] {
    while let [b'\r' | b'\n', rest @ ..] | [rest @ .., b'\r' | b'\n'] = row {
        row = rest;
    }
    row
}

fn unequal(has: usize, wanted: usize) -> Fault {
    Fault::row(
        format!("this row has {has} fields and the header has {wanted}"),
        "quote a field that holds a comma, and use a point as decimal mark",
    )
}
