//! Lines of a text by byte offset.

/// Counts the lines of a text up to byte offsets that do not decrease.
///
/// Readers of CSV report where they were before a record, which is inside the line break of the
/// line before when lines end in CR LF, and before blank lines that they skip.
///
/// ```
/// let mut lines = guardcell_error::Lines::new("id,n\r\nA,1\r\n\r\nB,2\r\n");
/// assert_eq!(lines.of_record(0), 1);
/// assert_eq!(lines.of_record(5), 2);
/// assert_eq!(lines.of_record(10), 4);
/// ```
#[derive(Clone, Debug)]
pub struct Lines<'t> {
    bytes: &'t [u8],
    at: usize,
    line: u64,
}

impl<'t> Lines<'t> {
    /// The lines of a text.
    #[must_use]
    pub fn new(text: &'t str) -> Self {
        Self { bytes: text.as_bytes(), at: 0, line: 1 }
    }

    /// The line, from 1, on which the record after a byte offset begins.
    pub fn of_record(&mut self, byte: u64) -> u64 {
        let byte = usize::try_from(byte).unwrap_or(usize::MAX);
        while let Some(b) = self.bytes.get(self.at)
            && (self.at < byte || matches!(b, b'\r' | b'\n'))
        {
            // A lone CR ends a line as well.
            let crlf = *b == b'\r' && self.bytes.get(self.at + 1) == Some(&b'\n');
            self.line += u64::from(*b == b'\n' || (*b == b'\r' && !crlf));
            self.at += 1;
        }
        self.line
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_ending_counts_once() {
        for end in ["\n", "\r\n", "\r"] {
            let text = ["a", "b", "", "c"].join(end);
            let mut lines = Lines::new(&text);
            let at = |needle: &str| text.find(needle).unwrap_or_default() as u64;
            assert_eq!(lines.of_record(at("a")), 1, "{end:?}");
            // Where the line of "a" ends, and within its line break.
            assert_eq!(lines.clone().of_record(1), 2, "{end:?}");
            assert_eq!(lines.of_record(at("b")), 2, "{end:?}");
            assert_eq!(lines.of_record(at("c")), 4, "{end:?}");
        }
    }
}
