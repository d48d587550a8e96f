//! `genus --all --format parquet`: every taxon as a row of Parquet, the columns of the CSV with their types.

use crate::error::{argument, output};
use crate::print::file;
use arrow_array::{ArrayRef, Float64Array, RecordBatch, StringArray, UInt16Array};
use guardcell::Error;
use guardcell::reference::export::{COLUMNS, TaxonRow, taxa};
use parquet::arrow::ArrowWriter;
use parquet::basic::Compression;
use parquet::file::properties::WriterProperties;
use std::fs::File;
use std::io::IsTerminal as _;
use std::path::Path;
use std::sync::Arc;

/// Writes the file to standard output.
pub(crate) fn write() -> Result<(), Error> {
    if std::io::stdout().is_terminal() {
        return Err(argument(
            "--format",
            "Parquet is no text for a terminal",
            "send the output to a file: `guardcell genus --all --format parquet > orchids.parquet`",
        ));
    }
    file::write_with(Path::new("-"), fill)
}

fn fill(to: &File) -> Result<(), Error> {
    let batch = rows(&taxa().collect::<Vec<_>>())?;
    let other = |e: parquet::errors::ParquetError| output(std::io::Error::other(e));
    let properties = WriterProperties::builder().set_compression(Compression::SNAPPY).build();
    let mut writer = ArrowWriter::try_new(to, batch.schema(), Some(properties)).map_err(other)?;
    writer.write(&batch).map_err(other)?;
    writer.close().map_err(other)?;
    Ok(())
}

/// The rows as columns. Probabilities and counts are numbers, null where the CSV is blank.
fn rows(taxa: &[TaxonRow]) -> Result<RecordBatch, Error> {
    let cells: Vec<[String; COLUMNS.len()]> = taxa.iter().map(TaxonRow::cells).collect();
    let share = |of: fn(&TaxonRow) -> Option<f64>| -> ArrayRef {
        Arc::new(taxa.iter().map(of).collect::<Float64Array>())
    };
    let count = |of: fn(&TaxonRow) -> Option<u16>| -> ArrayRef {
        Arc::new(taxa.iter().map(of).collect::<UInt16Array>())
    };
    let columns = COLUMNS.iter().enumerate().map(|(i, name)| {
        let column = match *name {
            "p_c3" => share(|r| r.p_c3),
            "p_weak_cam" => share(|r| r.p_weak_cam),
            "p_cam" => share(|r| r.p_cam),
            "cam_species" => count(|r| r.cam_species),
            "measured_species" => count(|r| r.measured_species),
            _ => Arc::new(cells.iter().map(|row| Some(row[i].as_str())).collect::<StringArray>()),
        };
        (*name, column, true)
    });
    RecordBatch::try_from_iter_with_nullable(columns)
        .map_err(|e| Error::internal("the rows cannot be written as columns").caused_by(e))
}
