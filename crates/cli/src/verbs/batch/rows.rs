//! One piece of the input answered.

use super::cut::{Next, Rows};
use super::done::Done;
use super::failed::{Failed, row_error};
use super::function::{self, Cells, Json, TableRow};
use super::split::{Kind, Piece};
#[cfg(feature = "tables")]
use super::tables;
use super::text::{newlines, not_utf8, of_kind, trimmed, unequal, without_ends};
use guardcell::{Code, Error};
use guardcell_table::Tree;
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// How rows are answered.
pub(crate) enum Answering {
    Ndjson(Json),
    Csv {
        answer: function::Table,
        columns: Tree,
        /// How many fields a row has.
        width: usize,
        /// Whether no cell may be run as a formula.
        spreadsheet: bool,
    },
    #[cfg(feature = "tables")]
    Table(tables::Tables),
}

/// Answers pieces on one thread.
pub(crate) struct Worker<'a> {
    answering: &'a Answering,
    table: Option<TableRow>,
    #[cfg(feature = "tables")]
    batches: Option<tables::Worker<'a>>,
    record: csv::ByteRecord,
    cells: Vec<Range<usize>>,
}

impl<'a> Worker<'a> {
    pub(crate) fn new(answering: &'a Answering) -> Self {
        let table = match answering {
            Answering::Csv { answer, .. } => Some(answer()),
            _ => None,
        };
        Self {
            answering,
            table,
            #[cfg(feature = "tables")]
            batches: match answering {
                Answering::Table(tables) => Some(tables::Worker::new(tables)),
                _ => None,
            },
            record: csv::ByteRecord::new(),
            cells: Vec::new(),
        }
    }

    /// Answers every row of a piece; `out` is what the answers are written into.
    pub(crate) fn answer(&mut self, mut piece: Piece, mut out: Vec<u8>) -> Done {
        out.clear();
        #[cfg(feature = "tables")]
        if let Some(batches) = &mut self.batches {
            let mut done = batches.answer(&mut piece, out);
            done.spent = piece.bytes;
            return done;
        }
        let mut done = self.answered(&mut piece, out);
        done.spent = piece.bytes;
        done
    }

    fn answered(&mut self, piece: &mut Piece, out: Vec<u8>) -> Done {
        let mut done =
            Done { out, lines: newlines(&piece.bytes), end: piece.end, ..Done::default() };
        if let Some(error) = of_kind(piece.kind) {
            if piece.kind == Kind::TooLong {
                done.lines = 1;
            }
            done.rows = 1;
            done.failed.push(Failed::new(1, Some(1), error, trimmed(&piece.bytes)));
            if matches!(self.answering, Answering::Ndjson(_)) {
                done.out.extend_from_slice(b"null\n");
            }
            return done;
        }
        match (self.answering, &mut self.table) {
            (Answering::Ndjson(answer), _) => lines(answer, &piece.bytes, &mut done),
            (Answering::Csv { columns, width, spreadsheet, .. }, Some(row)) => {
                let (record, cells) = (&mut self.record, &mut self.cells);
                Table { answer: row, columns, width: *width, record, cells, done: &mut done }
                    .rows(&piece.bytes);
                if *spreadsheet {
                    done.disarm();
                }
            }
            // `new` makes the one with the other.
            _ => {}
        }
        done
    }
}

/// A row that breaks the program costs that row; what it wrote is cut off like that of any error.
fn guarded(answer: impl FnOnce() -> Result<(), Error>) -> Result<(), Error> {
    catch_unwind(AssertUnwindSafe(answer))
        .unwrap_or_else(|_| Err(Error::internal("the row could not be processed")))
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
            Ok(_) => guarded(|| answer(line, &mut done.out)),
            // As in every face that takes a request as JSON.
            Err(_) => Err(not_utf8().with_code(Code::MalformedJson)),
        };
        if let Err(error) = answered {
            done.out.truncate(before);
            done.out.extend_from_slice(b"null\n");
            done.failed.push(Failed::new(done.rows, Some(i as u64 + 1), error, line));
        }
    }
}

/// The rows of one piece of a table.
struct Table<'a> {
    answer: &'a mut TableRow,
    columns: &'a Tree,
    width: usize,
    record: &'a mut csv::ByteRecord,
    cells: &'a mut Vec<Range<usize>>,
    done: &'a mut Done,
}

impl Table<'_> {
    /// Rows as RFC 4180 has them are read where they stand. From the first one on that is not, or
    /// where something is not UTF-8, the csv crate reads.
    fn rows(&mut self, bytes: &[u8]) {
        self.done.out.reserve(bytes.len() * 2);
        let Ok(text) = std::str::from_utf8(bytes) else { return self.by_record(bytes, 1) };
        let mut rows = Rows::new(bytes);
        let (mut line, mut counted) = (1, 0);
        loop {
            let (row, quotes, odd) = match rows.next(self.cells) {
                Next::End => return,
                Next::Row(row) => (row.at, row.quotes, false),
                Next::Odd(start) => (start..bytes.len(), false, true),
            };
            // Lines are counted only where an error needs them.
            let mut line_of = |start: usize| {
                line += newlines(bytes.get(counted..start).unwrap_or_default());
                counted = start;
                line
            };
            let raw = bytes.get(row.clone()).unwrap_or_default();
            if odd || (quotes && self.reads_quotes(text)) {
                let line = line_of(row.start);
                self.by_record(raw, line);
                if odd {
                    return;
                }
                continue;
            }
            self.done.rows += 1;
            let start = self.done.out.len();
            let answered = if self.cells.len() == self.width {
                self.done.out.extend_from_slice(raw);
                let cells = Cells { text, cells: self.cells };
                guarded(|| (self.answer)(self.columns, &cells, &mut self.done.out))
            } else {
                Err(unequal(self.cells.len(), self.width))
            };
            self.ended(answered, start, raw, || line_of(row.start));
        }
    }

    /// Whether a cell that is read contains a doubled quote.
    fn reads_quotes(&self, text: &str) -> bool {
        self.cells.iter().enumerate().any(|(i, cell)| {
            self.columns.reads(i) && text.get(cell.clone()).is_some_and(|c| c.contains('"'))
        })
    }

    fn ended(
        &mut self,
        answered: Result<(), Error>,
        start: usize,
        raw: &[u8],
        line: impl FnOnce() -> u64,
    ) {
        match answered {
            Ok(()) => self.done.out.push(b'\n'),
            Err(error) => {
                self.done.out.truncate(start);
                self.done.failed.push(Failed::new(self.done.rows, Some(line()), error, raw));
            }
        }
    }

    /// By the csv crate; `first` is the line at which `bytes` begin.
    fn by_record(&mut self, bytes: &[u8], first: u64) {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .buffer_capacity(bytes.len().clamp(64, 8192))
            .from_reader(bytes);
        loop {
            let before = reader.position().byte() as usize;
            let line = first - 1 + reader.position().line();
            match reader.read_byte_record(self.record) {
                Ok(true) => {}
                Ok(false) => return,
                // Reading a row of bytes from memory has nothing to fail on; were it otherwise,
                // the rest of the chunk is reported rather than lost.
                Err(e) => {
                    self.done.rows += 1;
                    let fault = row_error(format!("this is not CSV ({e})"), "write it by RFC 4180");
                    let rest = bytes.get(before..).unwrap_or_default();
                    self.done.failed.push(Failed::new(self.done.rows, Some(line), fault, rest));
                    return;
                }
            }
            let row = bytes.get(before..reader.position().byte() as usize).unwrap_or_default();
            self.done.rows += 1;
            let ends = row.iter().take_while(|b| matches!(b, b'\r' | b'\n')).count();
            let line = line + newlines(row.get(..ends).unwrap_or_default());
            let row = without_ends(row);
            let start = self.done.out.len();
            // Where the row is UTF-8, so are its cells, and one behind the other.
            let text = std::str::from_utf8(row).and(std::str::from_utf8(self.record.as_slice()));
            let answered = match text {
                _ if self.record.len() != self.width => Err(unequal(self.record.len(), self.width)),
                Err(_) => Err(not_utf8()),
                Ok(text) => {
                    self.cells.clear();
                    self.cells.extend((0..self.width).filter_map(|i| self.record.range(i)));
                    self.done.out.extend_from_slice(row);
                    let cells = Cells { text, cells: self.cells };
                    guarded(|| (self.answer)(self.columns, &cells, &mut self.done.out))
                }
            };
            self.ended(answered, start, row, || line);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::split::{Pieces as _, Splitter};
    use super::*;
    use crate::args::BatchFormat;

    #[test]
    fn a_row_that_breaks_the_program_costs_that_row() {
        let answering = Answering::Ndjson(Box::new(|row: &[u8], out: &mut Vec<u8>| {
            out.extend_from_slice(row);
            if row == b"2" {
                std::panic::panic_any("broken");
            }
            out.push(b'\n');
            Ok(())
        }));
        let text: &[u8] = b"1\n2\n3\n";
        let mut splitter = Splitter::new(text, BatchFormat::Ndjson, 0);
        let piece = splitter.rows().unwrap().unwrap();
        let done = Worker::new(&answering).answer(piece, Vec::new());
        assert_eq!(done.out, b"1\nnull\n3\n");
        assert_eq!((done.rows, done.failed.len(), done.failed[0].row), (3, 1, 2));
        assert_eq!(done.failed[0].error.code(), guardcell::Code::Internal);
    }
}
