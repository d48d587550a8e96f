//! Answers out: text for people, JSON for programs.

pub(crate) mod file;
pub(crate) mod round;
pub(crate) mod text;

use crate::error::CliError;
use serde::Serialize;
use std::io::Write;

/// Where an answer goes. It is collected and written at once, so that an error on the way leaves
/// no half answer behind.
pub(crate) struct Out {
    json: bool,
    text: String,
}

impl Out {
    pub(crate) const fn stdout(json: bool) -> Self {
        Self { json, text: String::new() }
    }

    /// Whether JSON is asked for.
    pub(crate) const fn json(&self) -> bool {
        self.json
    }

    /// One line of text.
    pub(crate) fn line(&mut self, text: impl AsRef<str>) {
        self.text.push_str(text.as_ref().trim_end());
        self.text.push('\n');
    }

    /// A paragraph wrapped to the width of a page, with an indent.
    pub(crate) fn wrapped(&mut self, indent: &str, text: &str) {
        for line in text::wrap(indent, indent, text) {
            self.line(line);
        }
    }

    /// A paragraph whose first line begins with `first` and the rest with spaces of that width.
    pub(crate) fn item(&mut self, first: &str, text: &str) {
        let rest = " ".repeat(first.chars().count());
        for line in text::wrap(first, &rest, text) {
            self.line(line);
        }
    }

    /// A value as JSON, indented, keys in the order of the type.
    pub(crate) fn value<T: Serialize>(&mut self, value: &T) -> Result<(), CliError> {
        let text = serde_json::to_string_pretty(value)
            .map_err(|e| CliError::Refused(format!("the answer cannot be written as JSON: {e}")))?;
        self.line(text);
        Ok(())
    }

    /// A value as one line of JSON.
    pub(crate) fn ndjson<T: Serialize>(&mut self, value: &T) -> Result<(), CliError> {
        let text = serde_json::to_string(value)
            .map_err(|e| CliError::Refused(format!("the answer cannot be written as JSON: {e}")))?;
        self.line(text);
        Ok(())
    }

    /// Text that is already complete.
    pub(crate) fn raw(&mut self, text: &str) {
        self.text.push_str(text);
    }

    /// Writes everything to standard output.
    pub(crate) fn finish(&mut self) -> Result<(), CliError> {
        let mut stdout = anstream::stdout().lock();
        stdout
            .write_all(self.text.as_bytes())
            .and_then(|()| stdout.flush())
            .map_err(CliError::Output)?;
        self.text.clear();
        Ok(())
    }
}
