//! A stream cut into pieces at the ends of rows, within bounded memory.
//!
//! Where a row ends never depends on how the stream was cut before: a run that goes on in the
//! middle finds the same rows as one from the beginning.

use crate::args::BatchFormat;
use memchr::{memchr, memrchr};
use std::io::{ErrorKind, Read};

/// Longest row that is taken.
pub(crate) const LONGEST_ROW: usize = 1024 * 1024;
/// About how much is given to a thread at once: what it makes of it stays near the processor until
/// it is written.
const PIECE: usize = 64 * 1024;
/// How much of a bad row is kept to be shown.
const SHOWN: usize = 4096;

/// A chunk of rows, or one malformed row.
pub(crate) struct Piece {
    pub(crate) bytes: Vec<u8>,
    pub(crate) kind: Kind,
    /// Where the next piece begins, in bytes from the beginning of the stream; rows where there is
    /// no text.
    pub(crate) end: u64,
    /// Rows that come as a batch and not as text.
    #[cfg(feature = "tables")]
    pub(crate) batch: Option<arrow_array::RecordBatch>,
}

impl Piece {
    const fn text(bytes: Vec<u8>, kind: Kind, end: u64) -> Self {
        Self {
            bytes,
            kind,
            end,
            #[cfg(feature = "tables")]
            batch: None,
        }
    }
}

/// Rows, piece by piece.
pub(crate) trait Pieces: Send {
    /// The next rows.
    fn rows(&mut self) -> std::io::Result<Option<Piece>>;
    /// Gives back what a piece stood in.
    fn fill_again(&mut self, bytes: Vec<u8>);
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Whole rows.
    Rows,
    /// The beginning of a row that is too long; the rest of it is left out.
    TooLong,
    /// A line that opens a quote which nothing closes.
    OpenQuote,
}

/// Cuts a stream into pieces.
pub(crate) struct Splitter<R> {
    stream: R,
    format: BatchFormat,
    buffer: Vec<u8>,
    /// Pieces that were answered, to be filled again.
    spent: Vec<Vec<u8>>,
    /// Where the buffer begins, in bytes from the beginning of the stream.
    start: u64,
    ended: bool,
    piece: usize,
}

impl<R: Read> Splitter<R> {
    /// Cuts what is left of `stream`, which stands at byte `start`.
    pub(crate) fn new(stream: R, format: BatchFormat, start: u64) -> Self {
        let (buffer, spent) = (Vec::new(), Vec::new());
        Self { stream, format, buffer, spent, start, ended: false, piece: PIECE }
    }

    /// Pieces of another size, to show that the size does not matter.
    #[cfg(test)]
    pub(crate) fn with_piece(mut self, bytes: usize) -> Self {
        self.piece = bytes.clamp(1, LONGEST_ROW);
        self
    }

    /// Takes the mark off that some programs write at the beginning of UTF-8.
    pub(crate) fn skip_mark(&mut self) -> std::io::Result<()> {
        self.fill(3)?;
        if self.buffer.starts_with(b"\xef\xbb\xbf") {
            self.take(3);
        }
        Ok(())
    }

    /// The next row alone.
    pub(crate) fn row(&mut self) -> std::io::Result<Option<Piece>> {
        self.cut(true)
    }

    fn cut(&mut self, one: bool) -> std::io::Result<Option<Piece>> {
        let mut wanted = self.piece;
        loop {
            self.fill(wanted)?;
            if self.buffer.is_empty() {
                return Ok(None);
            }
            let scan = match self.format {
                BatchFormat::Csv => csv_rows(&self.buffer, self.ended, one),
                _ => lines(&self.buffer, one),
            };
            if let Some(end) = scan.end {
                return Ok(Some(self.piece(end, Kind::Rows)));
            }
            if self.ended || self.buffer.len() >= LONGEST_ROW {
                return match (scan.open, self.ended && self.buffer.len() < LONGEST_ROW) {
                    (true, _) => self.open_quote().map(Some),
                    (false, true) => {
                        let all = self.buffer.len();
                        Ok(Some(self.piece(all, Kind::Rows)))
                    }
                    (false, false) => self.too_long(Kind::TooLong).map(Some),
                };
            }
            wanted = (self.buffer.len() * 2).min(LONGEST_ROW);
        }
    }

    /// Reads until the buffer holds `wanted` bytes or the stream ends.
    fn fill(&mut self, wanted: usize) -> std::io::Result<()> {
        let mut have = self.buffer.len();
        if self.ended || have >= wanted {
            return Ok(());
        }
        self.buffer.resize(wanted, 0);
        let done = loop {
            match self.buffer.get_mut(have..) {
                None | Some([]) => break Ok(()),
                Some(free) => match self.stream.read(free) {
                    Ok(0) => {
                        self.ended = true;
                        break Ok(());
                    }
                    Ok(n) => have += n,
                    Err(e) if e.kind() == ErrorKind::Interrupted => {}
                    Err(e) => break Err(e),
                },
            }
        };
        self.buffer.truncate(have);
        done
    }

    fn take(&mut self, bytes: usize) -> Vec<u8> {
        let mut rest = self.spent.pop().unwrap_or_default();
        rest.clear();
        rest.extend_from_slice(self.buffer.get(bytes..).unwrap_or_default());
        self.buffer.truncate(bytes);
        self.start += self.buffer.len() as u64;
        std::mem::replace(&mut self.buffer, rest)
    }

    fn piece(&mut self, bytes: usize, kind: Kind) -> Piece {
        let bytes = self.take(bytes);
        Piece::text(bytes, kind, self.start)
    }

    /// The line that opens the quote is the bad row; what follows is read as rows again.
    fn open_quote(&mut self) -> std::io::Result<Piece> {
        match memchr(b'\n', &self.buffer) {
            Some(newline) => Ok(self.piece(newline + 1, Kind::OpenQuote)),
            None if self.ended => {
                let all = self.buffer.len();
                Ok(self.piece(all, Kind::OpenQuote))
            }
            None => self.too_long(Kind::TooLong),
        }
    }

    /// Leaves everything up to the next line behind.
    fn too_long(&mut self, kind: Kind) -> std::io::Result<Piece> {
        let mut bytes = Vec::new();
        loop {
            let newline = memchr(b'\n', &self.buffer);
            let part = self.take(newline.map_or(self.buffer.len(), |n| n + 1));
            if bytes.is_empty() {
                bytes = part;
                bytes.truncate(SHOWN);
            }
            if newline.is_some() || self.ended {
                return Ok(Piece::text(bytes, kind, self.start));
            }
            self.fill(PIECE)?;
        }
    }
}

impl<R: Read + Send> Pieces for Splitter<R> {
    fn rows(&mut self) -> std::io::Result<Option<Piece>> {
        self.cut(false)
    }

    fn fill_again(&mut self, bytes: Vec<u8>) {
        self.spent.push(bytes);
    }
}

struct Scan {
    /// Where the last row (or the first, if one is wanted) ends.
    end: Option<usize>,
    /// Whether the rest stands in a quote that is not closed.
    open: bool,
}

fn lines(buffer: &[u8], one: bool) -> Scan {
    let newline = if one { memchr(b'\n', buffer) } else { memrchr(b'\n', buffer) };
    Scan { end: newline.map(|n| n + 1), open: false }
}

/// Ends of rows by RFC 4180: a newline in a quoted field ends none, and a quote opens a field only
/// at its beginning.
fn csv_rows(buffer: &[u8], ended: bool, one: bool) -> Scan {
    let from = |at: usize| buffer.get(at..).unwrap_or_default();
    let mut end = None;
    let mut at = 0;
    loop {
        let quote = memchr(b'"', from(at)).map(|q| at + q);
        let plain = buffer.get(at..quote.unwrap_or(buffer.len())).unwrap_or_default();
        if let Some(n) = if one { memchr(b'\n', plain) } else { memrchr(b'\n', plain) } {
            end = Some(at + n + 1);
            if one {
                return Scan { end, open: false };
            }
        }
        let Some(quote) = quote else { return Scan { end, open: false } };
        let before = quote.checked_sub(1).and_then(|b| buffer.get(b));
        if !matches!(before, None | Some(b',' | b'\n' | b'\r')) {
            at = quote + 1;
            continue;
        }
        let mut inside = quote + 1;
        loop {
            let Some(close) = memchr(b'"', from(inside)).map(|q| inside + q) else {
                return Scan { end, open: true };
            };
            match buffer.get(close + 1) {
                Some(b'"') => inside = close + 2,
                None if !ended => return Scan { end, open: true },
                _ => {
                    at = close + 1;
                    break;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pieces(text: &[u8], format: BatchFormat, size: usize) -> Vec<(Vec<u8>, Kind)> {
        let mut splitter = Splitter::new(text, format, 0).with_piece(size);
        let mut out: Vec<(Vec<u8>, Kind)> = Vec::new();
        let mut end = 0;
        while let Some(p) = splitter.rows().unwrap() {
            assert!(p.end > end);
            end = p.end;
            match out.last_mut() {
                Some((bytes, Kind::Rows)) if p.kind == Kind::Rows => bytes.extend(p.bytes),
                _ => out.push((p.bytes, p.kind)),
            }
        }
        assert_eq!(end, text.len() as u64);
        out
    }

    proptest! {
        #[test]
        fn the_size_of_a_piece_does_not_matter(
            text in "[ab,\"\n\r]{0,200}", size in 1_usize..64
        ) {
            let whole = pieces(text.as_bytes(), BatchFormat::Csv, LONGEST_ROW);
            prop_assert_eq!(&whole, &pieces(text.as_bytes(), BatchFormat::Csv, size));
            let joined: Vec<u8> = whole.into_iter().flat_map(|(b, _)| b).collect();
            prop_assert_eq!(joined, text.as_bytes());
        }

        /// The csv crate is the other opinion on where a row ends.
        #[test]
        fn rows_end_where_the_csv_crate_ends_them(
            rows in prop::collection::vec(prop::collection::vec("[ab,\"\n\r]{0,6}", 2..4), 0..20),
            size in 1_usize..64,
        ) {
            let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
            for row in &rows {
                writer.write_record(row).unwrap();
            }
            let text = writer.into_inner().unwrap();
            let mut splitter = Splitter::new(text.as_slice(), BatchFormat::Csv, 0).with_piece(size);
            let mut found = Vec::new();
            while let Some(piece) = splitter.rows().unwrap() {
                prop_assert_eq!(piece.kind, Kind::Rows);
                let mut reader = csv::ReaderBuilder::new()
                    .has_headers(false)
                    .flexible(true)
                    .from_reader(piece.bytes.as_slice());
                for record in reader.records() {
                    found.push(record.unwrap().iter().map(str::to_owned).collect::<Vec<_>>());
                }
            }
            prop_assert_eq!(found, rows);
        }
    }

    #[test]
    fn a_quote_that_nothing_closes_costs_one_line() {
        let text = b"a,b\n\"open,1\n2,3\n4,5\n";
        let found = pieces(text, BatchFormat::Csv, 1000);
        assert_eq!(
            found,
            [
                (b"a,b\n".to_vec(), Kind::Rows),
                (b"\"open,1\n".to_vec(), Kind::OpenQuote),
                (b"2,3\n4,5\n".to_vec(), Kind::Rows),
            ]
        );
    }

    #[test]
    fn a_row_that_is_too_long_is_left_behind() {
        for format in [BatchFormat::Csv, BatchFormat::Ndjson] {
            for length in [LONGEST_ROW - 1, LONGEST_ROW, 3 * LONGEST_ROW + 17] {
                let mut text = b"1,2\n".to_vec();
                text.extend(std::iter::repeat_n(b'x', length));
                text.extend(b"\n3,4\n");
                let mut splitter = Splitter::new(text.as_slice(), format, 0);
                let mut kinds = Vec::new();
                while let Some(p) = splitter.rows().unwrap() {
                    assert!(p.bytes.len() <= LONGEST_ROW);
                    kinds.push(p.kind);
                }
                assert_eq!(kinds.contains(&Kind::TooLong), length >= LONGEST_ROW, "{length}");
                assert_eq!(splitter.start, text.len() as u64);
            }
        }
    }
}
