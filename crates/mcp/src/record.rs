//! The one tool that writes: an entry of the journal.

use crate::tools::{for_requests, json, object};
use guardcell::Error;
use guardcell::ledger::Draft;
use guardcell_journal::{Journal, Receipt};
use rmcp::model::{JsonObject, Tool, ToolAnnotations};
use std::path::PathBuf;

/// Records entries in the journal that was named.
#[derive(Debug)]
pub(crate) struct Recorder {
    journal: PathBuf,
}

impl Recorder {
    /// The name of the tool.
    pub(crate) const NAME: &'static str = "record";

    /// A recorder for this journal, which is started if it is missing.
    pub(crate) fn new(journal: PathBuf) -> Result<Self, Error> {
        Journal::open(&journal)?;
        Ok(Self { journal })
    }

    pub(crate) fn tool() -> Tool {
        let title = "Record what was done or seen in the grower's journal";
        Tool::new(
            Self::NAME,
            "Takes one entry: when it happened, the site, and what happened (a round, a look for \
             residue, a flush, a soak, growth, a task, a note). Writes it to the journal and \
             answers with its identifier. Entries are never changed: a correction is an entry that \
             supersedes another. With an `id` of your own the same entry is recorded once, however \
             often it is sent. Ask the grower before you record anything.",
            object(for_requests().into_root_schema_for::<Draft>()),
        )
        .with_title(title)
        .with_raw_output_schema(object(schemars::schema_for!(Receipt)))
        .with_annotations(
            ToolAnnotations::with_title(title)
                .read_only(false)
                .destructive(false)
                .idempotent(false)
                .open_world(false),
        )
    }

    /// Records one entry.
    pub(crate) fn record(&self, arguments: &JsonObject) -> Result<Vec<u8>, Error> {
        let draft: Draft = guardcell::read_request(&json(arguments)?)?;
        let receipt = Journal::open(&self.journal)?.append(draft)?;
        serde_json::to_vec(&receipt)
            .map_err(|e| Error::internal("the receipt cannot be written as JSON").caused_by(e))
    }
}
