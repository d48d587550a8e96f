//! Pieces answered as record batches.

use super::super::done::Done;
use super::super::failed::Failed;
use super::super::split::{Kind, Piece};
use super::super::text::newlines;
use super::rows::{Form, Rows};
use super::write::Writer;
use crate::args::BatchFormat;
use arrow_schema::ArrowError;
use guardcell::Error;
use guardcell_table::batch::{self, Asked, Values};

/// How rows of any format are answered.
pub(crate) struct Tables {
    pub(super) asked: Asked,
    pub(super) form: Form,
    pub(super) answers: BatchFormat,
    /// Whether no cell may be run as a formula.
    pub(super) spreadsheet: bool,
}

/// Answers pieces on one thread.
pub(crate) struct Worker<'t> {
    tables: &'t Tables,
    worker: batch::Worker,
    writer: Option<Writer>,
}

impl<'t> Worker<'t> {
    pub(crate) fn new(tables: &'t Tables) -> Self {
        Self { tables, worker: tables.asked.worker(), writer: None }
    }

    /// Answers every row of a piece; `out` is what the answers are written into.
    pub(crate) fn answer(&mut self, piece: &mut Piece, out: Vec<u8>) -> Done {
        let lines = if piece.kind == Kind::TooLong { 1 } else { newlines(&piece.bytes) };
        let mut done = Done { out, lines, end: piece.end, ..Done::default() };
        done.broke = self.answered(piece, &mut done).err();
        if self.tables.spreadsheet {
            done.disarm();
        }
        done
    }

    fn answered(&mut self, piece: &mut Piece, done: &mut Done) -> Result<(), Error> {
        let mut rows = Rows::read(&self.tables.form, piece).map_err(|e| not_made(&e))?;
        done.rows = rows.batch.num_rows() as u64;
        let broken = std::mem::take(&mut rows.broken);
        let answered = self.worker.answer(&rows.batch, broken)?;
        let schema = self.tables.asked.schema();
        let writer = match &mut self.writer {
            Some(writer) => writer,
            none => {
                none.insert(Writer::new(self.tables.answers, schema).map_err(|e| not_made(&e))?)
            }
        };
        writer.write(&answered, &mut done.out).map_err(|e| not_made(&e))?;
        let mut values = None;
        for (row, error) in answered.failed {
            let number = row as u64 + 1;
            done.failed.push(match rows.raw(piece, row) {
                Some((text, line)) => Failed::new(number, Some(line), error, text),
                None => {
                    let values = values.get_or_insert_with(|| Values::new(&rows.batch));
                    let text = values.row(row).to_string();
                    Failed::new(number, None, error, text.as_bytes())
                }
            });
        }
        Ok(())
    }
}

fn not_made(e: &ArrowError) -> Error {
    Error::internal(format!("the answers do not fit into their columns: {e}"))
}
