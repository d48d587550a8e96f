//! Which formats rows and answers have.

use crate::args::{Batch, BatchFormat};
use crate::error::argument;
use guardcell::Error;
use std::path::Path;

/// The formats of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Formats {
    pub(crate) rows: BatchFormat,
    pub(crate) answers: BatchFormat,
}

impl Formats {
    /// The format of rows is the one that is given, or that the name of the input says; that of
    /// answers the one that the name of the output says, or that of the rows.
    pub(crate) fn of(args: &Batch) -> Result<Self, Error> {
        let rows = match args.format.map_or_else(|| by_name(&args.input), |f| Ok(Some(f)))? {
            Some(format) => format,
            None => {
                let names: Vec<String> =
                    BatchFormat::ALL.iter().map(|f| format!("--format {}", f.name())).collect();
                return Err(argument(
                    "--format",
                    format!("the name {} does not say the format", args.input.display()),
                    format!("add {}", names.join(" or ")),
                ));
            }
        };
        Ok(Self { rows, answers: by_name(&args.output)?.unwrap_or(rows) })
    }

    /// Whether rows are answered as they stand in the text.
    pub(crate) fn same_text(self) -> bool {
        self.rows == self.answers && matches!(self.rows, BatchFormat::Csv | BatchFormat::Ndjson)
    }

    /// The format of the file of errors.
    pub(crate) fn errors(self) -> BatchFormat {
        if [self.rows, self.answers].contains(&BatchFormat::Csv) {
            BatchFormat::Csv
        } else {
            BatchFormat::Ndjson
        }
    }
}

/// The format that the ending of a name says.
fn by_name(path: &Path) -> Result<Option<BatchFormat>, Error> {
    let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default();
    Ok(Some(match ending.to_ascii_lowercase().as_str() {
        "csv" => BatchFormat::Csv,
        "ndjson" | "jsonl" => BatchFormat::Ndjson,
        #[cfg(feature = "tables")]
        "parquet" => BatchFormat::Parquet,
        #[cfg(feature = "tables")]
        "arrow" | "arrows" | "feather" => BatchFormat::Arrow,
        #[cfg(not(feature = "tables"))]
        "parquet" | "arrow" | "arrows" | "feather" => {
            return Err(argument(
                "--format",
                format!("this program reads and writes no {ending} files"),
                "use CSV or NDJSON, or a program that was built with the feature `tables`",
            ));
        }
        _ => return Ok(None),
    }))
}
