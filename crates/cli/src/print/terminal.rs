//! What a terminal must not be steered by: control characters of foreign names, on every way out.

use std::io::{self, Write};

/// A line on standard error. Nothing is left to do if nobody reads it.
pub(crate) fn note(text: &str) {
    let mut stderr = anstream::stderr().lock();
    for line in text.split('\n') {
        let _ = writeln!(stderr, "{}", guardcell::escape_control(line));
    }
}

/// A writer that escapes control characters but for the ends of lines.
#[derive(Debug)]
pub(crate) struct Escaping<W> {
    to: W,
    /// The beginning of a character whose end is still to come.
    begun: Vec<u8>,
}

impl<W: Write> Escaping<W> {
    pub(crate) const fn new(to: W) -> Self {
        Self { to, begun: Vec::new() }
    }

    fn text(&mut self, text: &str) -> io::Result<()> {
        for (i, line) in text.split('\n').enumerate() {
            if i > 0 {
                self.to.write_all(b"\n")?;
            }
            self.to.write_all(guardcell::escape_control(line).as_bytes())?;
        }
        Ok(())
    }
}

impl<W: Write> Write for Escaping<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut all = std::mem::take(&mut self.begun);
        all.extend_from_slice(bytes);
        for chunk in all.utf8_chunks() {
            self.text(chunk.valid())?;
        }
        // An invalid end may be the beginning of a character; whatever else is not text is left out.
        if let Err(e) = std::str::from_utf8(&all)
            && e.error_len().is_none()
        {
            self.begun = all.split_off(e.valid_up_to());
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.to.flush()
    }
}

/// JSON whose texts hold no character that a terminal or a reader could be misled by: those that
/// JSON itself leaves as they are become `\uXXXX`, which reads back as the same text.
pub(crate) fn plain_json(json: &str) -> String {
    let mut out = String::with_capacity(json.len());
    let mut units = [0_u16; 2];
    for c in json.chars() {
        // Below the space only the line ends of the layout are left.
        if c >= '\u{7f}' && guardcell::is_hidden(c) {
            for unit in c.encode_utf16(&mut units) {
                out.push_str(&format!("\\u{unit:04x}"));
            }
        } else {
            out.push(c);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_writer_escapes_what_steers_and_keeps_the_rest() {
        let mut out = Vec::new();
        let mut writer = Escaping::new(&mut out);
        // Cut within a character, as a small buffer would.
        for byte in "Ærides\n\u{1b}[2J\u{9b}1m✓".as_bytes() {
            writer.write_all(&[*byte]).unwrap();
        }
        assert_eq!(String::from_utf8(out).unwrap(), "Ærides\n\\u{1b}[2J\\u{9b}1m✓");
    }

    #[test]
    fn json_reads_back_as_the_same_text() {
        let name = "a\u{7f}\u{9b}2J\u{202e}é\u{1b}";
        let json = plain_json(&serde_json::to_string(name).unwrap());
        assert!(json.chars().all(|c| !guardcell::is_hidden(c)), "{json}");
        assert_eq!(serde_json::from_str::<String>(&json).unwrap(), name);
    }
}
