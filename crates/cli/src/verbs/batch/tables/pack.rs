//! The stream of answers as a file of Arrow or Parquet.
//!
//! While a run goes on, answers are appended to a stream of Arrow: what is on disk holds whatever
//! comes later, so that a run that was broken off goes on at its end. When all rows are answered,
//! the stream is read once more and packed. The same rows give the same bytes.

use crate::args::BatchFormat;
use arrow_ipc::reader::StreamReader;
use arrow_ipc::writer::FileWriter;
use parquet::arrow::ArrowWriter;
use parquet::basic::Compression;
use parquet::file::properties::WriterProperties;
use std::fs::File;
use std::io::{BufReader, BufWriter, Write as _};

/// Rows of a group of Parquet: what a reader takes at once, and a writer keeps in memory.
const GROUP_ROWS: usize = 65_536;
/// The most bytes of a group; long answers are few.
const GROUP_BYTES: usize = 16 * 1024 * 1024;

/// Packs a stream into a file.
pub(crate) fn pack(format: BatchFormat, from: File, to: File) -> std::io::Result<File> {
    match format {
        BatchFormat::Parquet => parquet(from, to),
        _ => arrow(from, to),
    }
}

fn parquet(stream: File, file: File) -> Result<File, std::io::Error> {
    let other = std::io::Error::other::<parquet::errors::ParquetError>;
    let reader =
        StreamReader::try_new(BufReader::new(stream), None).map_err(std::io::Error::other)?;
    let properties = WriterProperties::builder()
        .set_compression(Compression::SNAPPY)
        .set_max_row_group_row_count(Some(GROUP_ROWS))
        .set_max_row_group_bytes(Some(GROUP_BYTES))
        .build();
    let mut writer =
        ArrowWriter::try_new(file, reader.schema(), Some(properties)).map_err(other)?;
    for batch in reader {
        writer.write(&batch.map_err(std::io::Error::other)?).map_err(other)?;
    }
    writer.into_inner().map_err(other)
}

fn arrow(stream: File, file: File) -> Result<File, std::io::Error> {
    let other = std::io::Error::other::<arrow_schema::ArrowError>;
    let reader = StreamReader::try_new(BufReader::new(stream), None).map_err(other)?;
    let mut writer = FileWriter::try_new(BufWriter::new(file), &reader.schema()).map_err(other)?;
    for batch in reader {
        writer.write(&batch.map_err(other)?).map_err(other)?;
    }
    writer.finish().map_err(other)?;
    let mut buffer = writer.into_inner().map_err(other)?;
    buffer.flush()?;
    buffer.into_inner().map_err(std::io::IntoInnerError::into_error)
}
