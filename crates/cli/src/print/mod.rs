//! Answers out: text for people, JSON for programs.

pub(crate) mod advise;
pub(crate) mod bucket;
pub(crate) mod calendar;
pub(crate) mod file;
pub(crate) mod growth;
pub(crate) mod round;
pub(crate) mod sheet;
pub(crate) mod short;
pub(crate) mod spreadsheet;
pub(crate) mod terminal;
pub(crate) mod text;
pub(crate) mod today;

use crate::error::output;
use anstyle::{AnsiColor, Style};
use guardcell::Error;
use serde::Serialize;
use std::io::Write;

/// What is read first.
const HEADING: Style = Style::new().bold();
/// What is to be heeded.
const CAUTION: Style = AnsiColor::Yellow.on_default().bold();

/// Collects an answer and writes it at once, so that an error on the way leaves no partial answer.
pub(crate) struct Out {
    json: bool,
    width: usize,
    text: String,
}

impl Out {
    pub(crate) fn stdout(json: bool) -> Self {
        Self { json, width: text::page_width(), text: String::new() }
    }

    /// Whether JSON is asked for.
    pub(crate) const fn json(&self) -> bool {
        self.json
    }

    /// The width of a page.
    pub(crate) const fn width(&self) -> usize {
        self.width
    }

    /// A line of text, or several. Control characters of foreign names are escaped.
    pub(crate) fn line(&mut self, text: impl AsRef<str>) {
        for line in text.as_ref().trim_end().split('\n') {
            self.text.push_str(&guardcell::escape_control(line));
            self.text.push('\n');
        }
    }

    /// A paragraph wrapped to the width of a page, with an indent.
    pub(crate) fn wrapped(&mut self, indent: &str, text: &str) {
        for line in text::wrap(self.width, indent, indent, text) {
            self.line(line);
        }
    }

    /// A paragraph whose first line begins with `first` and the rest with spaces of that width.
    pub(crate) fn item(&mut self, first: &str, text: &str) {
        let rest = " ".repeat(first.chars().count());
        for line in text::wrap(self.width, first, &rest, text) {
            self.line(line);
        }
    }

    /// As [`Out::item`], with the beginning set off where a terminal has styles.
    pub(crate) fn part(&mut self, first: &str, text: &str) {
        self.set_off(HEADING, first, text);
    }

    /// As [`Out::item`], for what is to be heeded.
    pub(crate) fn caution(&mut self, first: &str, text: &str) {
        self.set_off(CAUTION, first, text);
    }

    /// A line that begins with a heading, or is one; it is not wrapped.
    pub(crate) fn headed(&mut self, heading: &str, rest: &str) {
        self.styled(HEADING, heading, rest);
    }

    fn set_off(&mut self, style: Style, first: &str, text: &str) {
        let rest = " ".repeat(first.chars().count());
        for (i, line) in text::wrap(self.width, first, &rest, text).iter().enumerate() {
            match line.strip_prefix(first) {
                Some(rest) if i == 0 => self.styled(style, first, rest),
                _ => self.line(line),
            }
        }
    }

    /// The styles are taken out again where standard output is no terminal or wants none.
    fn styled(&mut self, style: Style, set_off: &str, rest: &str) {
        let [set_off, rest] = [set_off, rest.trim_end()].map(guardcell::escape_control);
        match (set_off.trim_end(), rest.is_empty()) {
            ("", true) => {}
            (set_off, true) => self.text.push_str(&format!("{style}{set_off}{style:#}")),
            _ => self.text.push_str(&format!("{style}{set_off}{style:#}{rest}")),
        }
        self.text.push('\n');
    }

    /// A value as JSON, indented, keys in the order of the type.
    pub(crate) fn value<T: Serialize>(&mut self, value: &T) -> Result<(), Error> {
        let text = serde_json::to_string_pretty(value)
            .map_err(|e| Error::internal("the answer cannot be written as JSON").caused_by(e))?;
        self.raw(&terminal::plain_json(&text));
        self.raw("\n");
        Ok(())
    }

    /// A value as one line of JSON.
    pub(crate) fn ndjson<T: Serialize>(&mut self, value: &T) -> Result<(), Error> {
        let text = serde_json::to_string(value)
            .map_err(|e| Error::internal("the answer cannot be written as JSON").caused_by(e))?;
        self.raw(&terminal::plain_json(&text));
        self.raw("\n");
        Ok(())
    }

    /// Text that is already complete, with no foreign text in it.
    pub(crate) fn raw(&mut self, text: &str) {
        self.text.push_str(text);
    }

    /// Writes everything to standard output.
    pub(crate) fn finish(&mut self) -> Result<(), Error> {
        let mut stdout = anstream::stdout().lock();
        stdout.write_all(self.text.as_bytes()).and_then(|()| stdout.flush()).map_err(output)?;
        self.text.clear();
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_ours_is_styled() {
        let mut out = Out { json: false, width: 24, text: String::new() };
        out.headed("NEXT ", "FH-001 \u{1b}[2J");
        out.part("  MIX ", "two grams into a litre of water");
        out.headed("", "");
        let bold = |text: &str| format!("{HEADING}{text}{HEADING:#}");
        let expected = format!(
            "{}FH-001 \\u{{1b}}[2J\n{}two grams into a\n      litre of water\n\n",
            bold("NEXT "),
            bold("  MIX ")
        );
        assert_eq!(out.text, expected);
    }
}
