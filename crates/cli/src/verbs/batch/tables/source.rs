//! Batches from a file of Arrow or Parquet, or a stream of Arrow.

use super::super::split::{Kind, Piece, Pieces};
use arrow_array::cast::AsArray;
use arrow_array::{Array, ArrayRef, RecordBatch, RecordBatchReader};
use arrow_ipc::reader::{FileReader, StreamReader};
use arrow_schema::{ArrowError, DataType, Field, Schema, SchemaRef};
use parquet::arrow::arrow_reader::ParquetRecordBatchReaderBuilder;
use std::fs::File;
use std::io::{BufReader, Error, Read, Seek as _, SeekFrom};
use std::sync::Arc;

/// How many rows are read at once.
const ROWS: usize = 8192;
/// What a file of Arrow begins with; a stream does not.
const MAGIC: &[u8] = b"ARROW1";

type Batches = Box<dyn Iterator<Item = Result<RecordBatch, ArrowError>> + Send>;

/// Rows that come in batches.
pub(crate) struct Source {
    batches: Batches,
    schema: SchemaRef,
    /// What is left of the last batch that was read.
    rest: Option<RecordBatch>,
    /// Rows that a run has answered before it was broken off.
    skip: u64,
    at: u64,
    most: usize,
}

impl Source {
    pub(crate) fn parquet(file: File) -> Result<Self, Error> {
        let reader = ParquetRecordBatchReaderBuilder::try_new(file)
            .and_then(|builder| builder.with_batch_size(ROWS).build())
            .map_err(Error::other)?;
        let schema = reader.schema();
        Ok(Self::new(schema, Box::new(reader)))
    }

    pub(crate) fn arrow(mut file: File) -> Result<Self, Error> {
        let mut begins = [0; MAGIC.len()];
        let found = file.read(&mut begins)?;
        file.seek(SeekFrom::Start(0))?;
        if begins.get(..found) == Some(MAGIC) {
            let reader = FileReader::try_new_buffered(file, None).map_err(Error::other)?;
            let schema = reader.schema();
            return Ok(Self::new(schema, Box::new(reader)));
        }
        Self::stream(file)
    }

    pub(crate) fn stream(stream: impl Read + Send + 'static) -> Result<Self, Error> {
        let reader = StreamReader::try_new(BufReader::new(stream), None).map_err(Error::other)?;
        let schema = reader.schema();
        Ok(Self::new(schema, Box::new(reader)))
    }

    fn new(schema: SchemaRef, batches: Batches) -> Self {
        Self { batches, schema: plain_schema(&schema), rest: None, skip: 0, at: 0, most: ROWS }
    }

    /// The columns, without dictionaries.
    pub(crate) fn schema(&self) -> &SchemaRef {
        &self.schema
    }

    /// Gives at most so many rows at a time. A run that goes on must find the same pieces, so that
    /// they count from the first row.
    pub(crate) fn at_most(&mut self, rows: usize) {
        self.most = rows.clamp(1, ROWS);
    }

    /// Leaves out rows that are answered.
    pub(crate) fn skip(&mut self, rows: u64) {
        (self.skip, self.at) = (rows, rows);
    }

    fn batch(&mut self) -> Result<Option<RecordBatch>, ArrowError> {
        loop {
            let batch = match self.rest.take() {
                Some(batch) => batch,
                None => match self.batches.next().transpose()? {
                    Some(batch) => batch,
                    None => return Ok(None),
                },
            };
            let rows = batch.num_rows();
            let left_out = usize::try_from(self.skip).unwrap_or(usize::MAX).min(rows);
            self.skip -= left_out as u64;
            if left_out == rows {
                continue;
            }
            let taken = (rows - left_out).min(self.most);
            let rest = left_out + taken;
            if rest < rows {
                self.rest = Some(batch.slice(rest, rows - rest));
            }
            return plain(&batch.slice(left_out, taken), &self.schema).map(Some);
        }
    }
}

impl Pieces for Source {
    fn rows(&mut self) -> std::io::Result<Option<Piece>> {
        let Some(batch) = self.batch().map_err(Error::other)? else { return Ok(None) };
        self.at += batch.num_rows() as u64;
        let (bytes, kind) = (Vec::new(), Kind::Rows);
        Ok(Some(Piece { bytes, kind, end: self.at, batch: Some(batch) }))
    }

    fn fill_again(&mut self, _: Vec<u8>) {}
}

/// Words of a dictionary become texts: a dictionary belongs to one file.
fn plain_schema(schema: &Schema) -> SchemaRef {
    let fields = schema.fields().iter().map(|field| match field.data_type() {
        DataType::Dictionary(_, values) => {
            Field::new(field.name(), (**values).clone(), field.is_nullable())
        }
        _ => (**field).clone(),
    });
    Arc::new(Schema::new(fields.collect::<Vec<_>>()))
}

fn plain(batch: &RecordBatch, schema: &SchemaRef) -> Result<RecordBatch, ArrowError> {
    let columns: Result<Vec<ArrayRef>, _> = batch.columns().iter().map(words).collect();
    let options = arrow_array::RecordBatchOptions::new().with_row_count(Some(batch.num_rows()));
    RecordBatch::try_new_with_options(Arc::clone(schema), columns?, &options)
}

fn words(column: &ArrayRef) -> Result<ArrayRef, ArrowError> {
    let DataType::Dictionary(..) = column.data_type() else { return Ok(Arc::clone(column)) };
    let words = column.as_any_dictionary();
    arrow_select::take::take(words.values(), words.keys(), None)
}
