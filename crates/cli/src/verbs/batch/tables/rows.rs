//! Rows of text as a record batch.

use super::super::failed::row_error;
use super::super::split::Piece;
use super::super::text::{newlines, not_utf8, of_kind, unequal, without_ends};
use arrow_array::builder::StringBuilder;
use arrow_array::{ArrayRef, RecordBatch};
use arrow_schema::{ArrowError, SchemaRef};
use guardcell::{Code, Error};
use std::ops::Range;
use std::sync::Arc;

/// How rows come.
pub(super) enum Form {
    Csv(SchemaRef),
    Ndjson(SchemaRef),
    Batch,
}

/// The rows of a piece.
pub(super) struct Rows {
    pub(super) batch: RecordBatch,
    /// Those that cannot be read.
    pub(super) broken: Vec<(usize, Error)>,
    /// Where each stands in the text, where there is one.
    at: Vec<Range<usize>>,
}

impl Rows {
    pub(super) fn read(form: &Form, piece: &mut Piece) -> Result<Self, ArrowError> {
        match (form, piece.batch.take()) {
            (_, Some(batch)) => Ok(Self { batch, broken: Vec::new(), at: Vec::new() }),
            (Form::Csv(schema), None) => table(schema, piece),
            (Form::Ndjson(schema), None) => lines(schema, piece),
            (Form::Batch, None) => {
                Err(ArrowError::InvalidArgumentError("a piece without rows".to_owned()))
            }
        }
    }

    /// A row as it stands in the text, and its line in the piece; `None` where there is no text.
    pub(super) fn raw<'p>(&self, piece: &'p Piece, row: usize) -> Option<(&'p [u8], u64)> {
        let at = self.at.get(row)?;
        let before = piece.bytes.get(..at.start).unwrap_or_default();
        let text = piece.bytes.get(at.clone()).unwrap_or_default();
        Some((text, newlines(before) + 1))
    }
}

/// One row that is broken as a whole.
fn one_broken(schema: &SchemaRef, piece: &Piece, error: Error) -> Result<Rows, ArrowError> {
    let columns = schema.fields().iter().map(|_| {
        let mut column = StringBuilder::new();
        column.append_null();
        Arc::new(column.finish()) as ArrayRef
    });
    Ok(Rows {
        batch: RecordBatch::try_new(Arc::clone(schema), columns.collect())?,
        broken: vec![(0, error)],
        at: vec![trimmed(&piece.bytes, 0)],
    })
}

/// Where a line that begins at `start` stands, without the blanks around it.
fn trimmed(line: &[u8], start: usize) -> Range<usize> {
    let before = line.len() - line.trim_ascii_start().len();
    start + before..start + before + line.trim_ascii().len()
}

fn lines(schema: &SchemaRef, piece: &Piece) -> Result<Rows, ArrowError> {
    if let Some(error) = of_kind(piece.kind) {
        return one_broken(schema, piece, error);
    }
    let (mut texts, mut broken, mut at) = (StringBuilder::new(), Vec::new(), Vec::new());
    let mut start = 0;
    for line in piece.bytes.split_inclusive(|b| *b == b'\n') {
        let text = line.trim_ascii();
        if !text.is_empty() {
            match std::str::from_utf8(text) {
                Ok(text) => texts.append_value(text),
                Err(_) => {
                    broken.push((at.len(), not_utf8().with_code(Code::MalformedJson)));
                    texts.append_null();
                }
            }
            at.push(trimmed(line, start));
        }
        start += line.len();
    }
    let batch = RecordBatch::try_new(Arc::clone(schema), vec![Arc::new(texts.finish())])?;
    Ok(Rows { batch, broken, at })
}

fn table(schema: &SchemaRef, piece: &Piece) -> Result<Rows, ArrowError> {
    if let Some(error) = of_kind(piece.kind) {
        return one_broken(schema, piece, error);
    }
    let width = schema.fields().len();
    let mut columns: Vec<StringBuilder> = (0..width).map(|_| StringBuilder::new()).collect();
    let (mut broken, mut at) = (Vec::new(), Vec::new());
    let bytes = piece.bytes.as_slice();
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .buffer_capacity(bytes.len().clamp(64, 64 * 1024))
        .from_reader(bytes);
    let mut record = csv::ByteRecord::new();
    loop {
        let start = reader.position().byte() as usize;
        let read = reader.read_byte_record(&mut record);
        let end = reader.position().byte() as usize;
        let row = at.len();
        let skipped = bytes.get(start..end).unwrap_or_default();
        let ends = skipped.iter().take_while(|b| matches!(b, b'\r' | b'\n')).count();
        let range = start + ends..start + ends + without_ends(skipped).len();
        let error = match read {
            Ok(false) => break,
            Ok(true) if record.len() != width => Some(unequal(record.len(), width)),
            Ok(true) => std::str::from_utf8(record.as_slice()).err().map(|_| not_utf8()),
            // Reading from memory has nothing to fail on; were it otherwise, the rest is reported.
            Err(e) => {
                broken.push((
                    row,
                    row_error(format!("this is not CSV ({e})"), "write it by RFC 4180"),
                ));
                columns.iter_mut().for_each(StringBuilder::append_null);
                at.push(start..bytes.len());
                break;
            }
        };
        match error {
            Some(error) => {
                columns.iter_mut().for_each(StringBuilder::append_null);
                broken.push((row, error));
            }
            None => {
                for (column, cell) in columns.iter_mut().zip(&record) {
                    // Where the record is UTF-8, so are its cells.
                    match std::str::from_utf8(cell) {
                        Ok(text) if !text.is_empty() => column.append_value(text),
                        _ => column.append_null(),
                    }
                }
            }
        }
        at.push(range);
    }
    let columns = columns.into_iter().map(|mut c| Arc::new(c.finish()) as ArrayRef).collect();
    let options = arrow_array::RecordBatchOptions::new().with_row_count(Some(at.len()));
    let batch = RecordBatch::try_new_with_options(Arc::clone(schema), columns, &options)?;
    Ok(Rows { batch, broken, at })
}
