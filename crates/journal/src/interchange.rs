//! Export and import: JSON Lines and CSV, both byte-stable. What is exported, imported into an
//! empty journal and exported again is the same file.

use crate::csv_row::{self, COLUMNS};
use crate::error;
use crate::formula;
use crate::store::{Journal, Receipt, Writer, decode};
use guardcell::ledger::Draft;
use guardcell::{Code, Error};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::io::{BufRead, Read, Write};

/// The format of an export.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Format {
    /// JSON Lines: one entry a line, UTF-8, LF.
    Jsonl,
    /// CSV after RFC 4180 with LF line ends: one entry a row.
    Csv,
    /// The same for spreadsheets: a text that a spreadsheet would run as a formula begins with an
    /// apostrophe, which an import in this format takes away again.
    Spreadsheet,
}

/// What an import did.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Imported {
    /// Entries recorded.
    pub added: u64,
    /// Entries that were there already, word for word.
    pub already_there: u64,
}

impl Journal {
    /// Writes every entry, corrected ones too, in the order of recording; answers how many.
    ///
    /// # Errors
    /// If the writer fails, or the file is damaged.
    pub fn export(&self, format: Format, to: &mut impl Write) -> Result<u64, Error> {
        let failed = |e: rusqlite::Error| error::sqlite(&self.path, self.wait_ms, &e);
        let mut statement =
            self.connection.prepare("SELECT body FROM entry ORDER BY seq").map_err(failed)?;
        let mut rows = statement.query([]).map_err(failed)?;
        let mut count = 0;
        match format {
            Format::Jsonl => {
                while let Some(row) = rows.next().map_err(failed)? {
                    let body: String = row.get(0).map_err(failed)?;
                    to.write_all(body.as_bytes()).map_err(error::stream)?;
                    to.write_all(b"\n").map_err(error::stream)?;
                    count += 1;
                }
                to.flush().map_err(error::stream)?;
            }
            Format::Csv | Format::Spreadsheet => {
                let mut out = csv::WriterBuilder::new().from_writer(&mut *to);
                out.write_record(COLUMNS.iter().map(|c| c.0)).map_err(stream)?;
                while let Some(row) = rows.next().map_err(failed)? {
                    let body: String = row.get(0).map_err(failed)?;
                    let entry = decode(&self.path, &body)?;
                    let mut cells = csv_row::write(&entry);
                    if format == Format::Spreadsheet {
                        cells.iter_mut().for_each(formula::disarm);
                    }
                    out.write_record(cells).map_err(stream)?;
                    count += 1;
                }
                out.flush().map_err(error::stream)?;
            }
        }
        Ok(count)
    }

    /// Reads entries, all or none. An entry that is there already, word for word, is passed over,
    /// so the same file can be imported twice. Memory does not grow with the file.
    ///
    /// # Errors
    /// For a line that cannot be taken, with its number and the field; if the reader fails.
    pub fn import(&mut self, format: Format, from: impl Read) -> Result<Imported, Error> {
        self.import_each(format, from, |_| {})
    }

    /// As [`Journal::import`], and hands over the receipt of each entry as it is taken. The
    /// receipts hold only once this has returned without an error.
    ///
    /// # Errors
    /// As [`Journal::import`].
    pub fn import_each(
        &mut self,
        format: Format,
        from: impl Read,
        mut each: impl FnMut(Receipt),
    ) -> Result<Imported, Error> {
        let mut writer = Writer::begin(self)?;
        let mut done = Imported::default();
        let mut take = |draft, line, writer: &mut Writer<'_>| -> Result<(), Error> {
            let receipt = take(draft, line, writer)?;
            if receipt.already_there {
                done.already_there += 1
            } else {
                done.added += 1
            }
            each(receipt);
            Ok(())
        };
        match format {
            Format::Jsonl => jsonl(from, &mut writer, &mut take)?,
            Format::Csv => table(from, &mut writer, &mut take, None)?,
            Format::Spreadsheet => table(from, &mut writer, &mut take, Some(formula::rearm))?,
        }
        writer.commit()?;
        Ok(done)
    }
}

/// The longest line of an import: an entry with 10,000 plants stays below it.
const LINE_LONGEST: u64 = 8 * 1024 * 1024;

type Take<'t> = &'t mut dyn FnMut(Draft, u64, &mut Writer<'_>) -> Result<(), Error>;

fn jsonl(from: impl Read, writer: &mut Writer<'_>, take: Take<'_>) -> Result<(), Error> {
    let mut from = std::io::BufReader::new(from);
    let mut bytes = Vec::new();
    let mut line = 0;
    loop {
        bytes.clear();
        line += 1;
        let bad = |wrong: String| line_fault(line, wrong);
        if from.by_ref().take(LINE_LONGEST).read_until(b'\n', &mut bytes).map_err(error::stream)?
            == 0
        {
            return Ok(());
        }
        if bytes.len() as u64 >= LINE_LONGEST && bytes.last() != Some(&b'\n') {
            return Err(bad("it is longer than 8 MiB; give one entry a line".into()));
        }
        let text = std::str::from_utf8(&bytes)
            .map_err(|e| bad(format!("it is not UTF-8 from byte {} on", e.valid_up_to() + 1)))?;
        let text = if line == 1 { text.trim_start_matches('\u{feff}') } else { text };
        if text.trim().is_empty() {
            continue;
        }
        let draft: Draft = serde_json::from_str(text).map_err(|e| {
            bad(format!("column {}: {}", e.column(), without_place(&e.to_string())))
        })?;
        take(draft, line, writer)?;
    }
}

/// `serde_json` counts lines within the entry; the line of the file is what helps.
fn without_place(message: &str) -> &str {
    message.split(" at line ").next().unwrap_or(message)
}

fn table(
    from: impl Read,
    writer: &mut Writer<'_>,
    take: Take<'_>,
    cell: Option<fn(&str) -> String>,
) -> Result<(), Error> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(from);
    let mut record = csv::StringRecord::new();
    let mut columns: Option<csv_row::Columns> = None;
    loop {
        let more = reader.read_record(&mut record).map_err(|e| match e.into_kind() {
            csv::ErrorKind::Io(e) => error::stream(e),
            csv::ErrorKind::Utf8 { pos, err } => line_fault(
                pos.map_or(0, |p| p.line()),
                format!("field {}: it is not UTF-8", err.field() + 1),
            ),
            other => line_fault(0, format!("{other:?}")),
        })?;
        if !more {
            // Even an export of no entries has its header: a table without is not one of ours.
            return columns
                .map(|_| ())
                .ok_or_else(|| line_fault(1, "the table is empty; give a header and rows".into()));
        }
        let line = record.position().map_or(0, csv::Position::line);
        if let Some(cell) = cell {
            record = record.iter().map(cell).collect();
        }
        let bad = |wrong: String| line_fault(line, wrong);
        let Some(columns) = &columns else {
            columns = Some(csv_row::Columns::read(&record).map_err(bad)?);
            continue;
        };
        let draft = columns.draft(&record).map_err(bad)?;
        take(draft, line, writer)?;
    }
}

fn take(draft: Draft, line: u64, writer: &mut Writer<'_>) -> Result<Receipt, Error> {
    // What has no pointer is not a fault of the line.
    writer.add(draft).map_err(|e| if e.pointer().is_empty() { e } else { e.on_line(line) })
}

/// A line of a file that cannot be taken; nothing of the file was.
fn line_fault(line: u64, wrong: String) -> Error {
    let hint = "correct the line; nothing of the file was recorded";
    Error::new(Code::MalformedFile, wrong, hint).on_line(line)
}

fn stream(e: csv::Error) -> Error {
    match e.into_kind() {
        csv::ErrorKind::Io(e) => error::stream(e),
        other => error::stream(std::io::Error::other(format!("{other:?}"))),
    }
}
