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
use guardcell::Error;
use serde::Serialize;
use std::io::Write;

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
