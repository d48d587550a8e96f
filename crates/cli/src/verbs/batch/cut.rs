//! Rows of a piece of CSV and where their cells stand, without copying any.

use std::ops::Range;

/// A row as it stands in the piece, without its ends.
#[derive(Debug, PartialEq)]
pub(crate) struct Row {
    pub(crate) at: Range<usize>,
    /// Whether a quoted cell contains a doubled quote, which has to be unescaped.
    pub(crate) quotes: bool,
}

/// What comes next in a piece.
#[derive(Debug, PartialEq)]
pub(crate) enum Next {
    Row(Row),
    /// A row that begins here and is not as RFC 4180 has it.
    Odd(usize),
    End,
}

/// Goes through the rows of a piece by RFC 4180; empty lines are skipped.
pub(crate) struct Rows<'p> {
    piece: &'p [u8],
    at: usize,
}

impl<'p> Rows<'p> {
    pub(crate) const fn new(piece: &'p [u8]) -> Self {
        Self { piece, at: 0 }
    }

    /// The next row; `cells` are its cells, without the quotes around them.
    pub(crate) fn next(&mut self, cells: &mut Vec<Range<usize>>) -> Next {
        cells.clear();
        let rest = self.piece.get(self.at..).unwrap_or_default();
        let start = self.at + rest.iter().take_while(|b| matches!(b, b'\r' | b'\n')).count();
        let (mut at, mut quotes) = (start, false);
        if start >= self.piece.len() {
            return Next::End;
        }
        loop {
            let end = if self.piece.get(at) == Some(&b'"') {
                let Some((end, twice)) = self.quoted(at + 1) else { return Next::Odd(start) };
                quotes |= twice;
                cells.push(at + 1..end);
                end + 1
            } else {
                let rest = self.piece.get(at..).unwrap_or_default();
                let length = rest.iter().position(|b| matches!(b, b',' | b'\n' | b'\r'));
                let end = at + length.unwrap_or(rest.len());
                cells.push(at..end);
                end
            };
            match self.piece.get(end) {
                Some(b',') => at = end + 1,
                None | Some(b'\n' | b'\r') => {
                    self.at = end;
                    return Next::Row(Row { at: start..end, quotes });
                }
                // Something behind the quote that closes.
                Some(_) => return Next::Odd(start),
            }
        }
    }

    /// Where the closing quote is, and whether a doubled quote precedes it.
    fn quoted(&self, from: usize) -> Option<(usize, bool)> {
        let (mut at, mut twice) = (from, false);
        loop {
            let end = at + memchr::memchr(b'"', self.piece.get(at..)?)?;
            if self.piece.get(end + 1) != Some(&b'"') {
                return Some((end, twice));
            }
            twice = true;
            at = end + 2;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]

        /// The csv crate is the other opinion, up to the first row that is odd.
        #[test]
        fn rows_and_cells_are_those_of_the_csv_crate(text in "[ab,\"\n\r]{0,60}") {
            let mut reader = csv::ReaderBuilder::new()
                .has_headers(false)
                .flexible(true)
                .from_reader(text.as_bytes());
            let mut record = csv::StringRecord::new();
            let (mut rows, mut cells) = (Rows::new(text.as_bytes()), Vec::new());
            loop {
                match rows.next(&mut cells) {
                    Next::Row(row) => {
                        prop_assert!(reader.read_record(&mut record).unwrap());
                        let found: Vec<String> = cells
                            .iter()
                            .map(|cell| {
                                let quoted = text[..cell.start].ends_with('"');
                                let cell = &text[cell.clone()];
                                assert!(!quoted || row.quotes || !cell.contains('"'));
                                if quoted { cell.replace("\"\"", "\"") } else { cell.to_owned() }
                            })
                            .collect();
                        prop_assert_eq!(&found, &record.iter().collect::<Vec<_>>(), "{:?}", text);
                        let ends = text[row.at.clone()].contains('\n');
                        prop_assert!(!ends || cells.iter().any(|c| text[c.clone()].contains('\n')));
                    }
                    Next::Odd(start) => {
                        prop_assert!(text[start..].contains('"'));
                        break;
                    }
                    Next::End => {
                        prop_assert!(!reader.read_record(&mut record).unwrap());
                        break;
                    }
                }
            }
        }
    }

    #[test]
    fn odd_rows_are_left_to_others() {
        let next = |text: &str| Rows::new(text.as_bytes()).next(&mut Vec::new());
        assert_eq!(next("\n\"a\"b,c\n"), Next::Odd(1));
        assert_eq!(next("a,\"b\n"), Next::Odd(0));
        assert_eq!(next("\r\n\n"), Next::End);
        assert_eq!(next("a\"b\"\r\n"), Next::Row(Row { at: 0..4, quotes: false }));
        assert_eq!(next("\"a\"\"\"\n"), Next::Row(Row { at: 0..5, quotes: true }));
    }
}
