//! Entries of a journal as JSON Lines: one a line, as `guardcell journal export` writes them.

use crate::fault::bad_file;
use guardcell::Error;
use guardcell::ledger::{Draft, Entry};
use serde::{Deserialize, Serialize};

/// Entries read from a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EntryLines {
    /// The entries, in the order of the file. Whether each can be right is checked where it is
    /// recorded.
    pub entries: Vec<Draft>,
}

/// Reads entries from JSON Lines.
///
/// # Errors
///
/// A line that is not an entry, with its number.
///
/// ```
/// let error = guardcell_folder::entry_lines("a.jsonl", "\n{\"at\": 3}\n").unwrap_err();
/// assert_eq!(error.place().and_then(|p| p.line), Some(2));
/// ```
pub fn entry_lines(name: &str, text: &str) -> Result<EntryLines, Error> {
    let mut entries = Vec::new();
    for (i, line) in text.trim_start_matches('\u{feff}').lines().enumerate() {
        guardcell::work::checkpoint();
        if line.trim().is_empty() {
            continue;
        }
        let draft: Draft = serde_json::from_str(line).map_err(|e| {
            let words = e.to_string();
            let what = words.split(" at line ").next().unwrap_or(&words);
            let detail = format!("this is not an entry: column {}: {what}", e.column());
            bad_file(name, detail, "give one entry a line, as `guardcell journal export` writes it")
                .on_line(i as u64 + 1)
        })?;
        entries.push(draft);
    }
    Ok(EntryLines { entries })
}

/// Writes entries as JSON Lines, as `guardcell journal export` does.
///
/// # Errors
///
/// None that a caller can cause.
pub fn lines_of_entries(entries: &[Entry]) -> Result<String, Error> {
    let mut text = String::new();
    for entry in entries {
        guardcell::work::checkpoint();
        let line = serde_json::to_string(entry)
            .map_err(|e| Error::internal("an entry cannot be written").caused_by(e))?;
        text.push_str(&line);
        text.push('\n');
    }
    Ok(text)
}
