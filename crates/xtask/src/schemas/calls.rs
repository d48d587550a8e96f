//! The calls of the journal, which the server does not serve.

use guardcell::calls::{AnyCall, Call, Group};
use guardcell::{Code, Error};
use guardcell_journal::{self as journal, Draft, Entry, JournalError};

/// The calls of the journal.
pub const JOURNAL: &[AnyCall] =
    &[AnyCall::new::<Record>(), AnyCall::new::<Ledger>(), AnyCall::new::<Adherence>()];

macro_rules! journal_calls {
    ($($name:ident $wire:literal: $request:ty => $response:ty, $run:path, $summary:literal;)*) => {$(
        #[doc = $summary]
        #[derive(Debug)]
        struct $name;

        impl Call for $name {
            type Request = $request;
            type Response = $response;
            const NAME: &'static str = $wire;
            const PATH: &'static str = concat!("journal/", $wire);
            const GROUP: Group = Group::Journal;
            const SUMMARY: &'static str = $summary;
            const DESCRIPTION: &'static str = $summary;
            const EXAMPLE: &'static str =
                include_str!(concat!("../../calls/", $wire, ".json"));

            fn run(request: &$request) -> Result<$response, Error> {
                $run(request).map_err(|e| Error::new(Code::OutOfRange, e.to_string(), ""))
            }
        }
    )*};
}

journal_calls! {
    Record "entry": Draft => Entry, recorded,
        "What was done or seen, as it is recorded";
    Ledger "ledger": journal::LedgerRequest => journal::Ledger, ledger,
        "What each plant got by week, and what is due";
    Adherence "adherence": journal::AdherenceRequest => journal::Adherence, adherence,
        "A plan of soaks compared with the journal";
}

/// The entry that a draft becomes, with an identifier if it has none.
fn recorded(draft: &Draft) -> Result<Entry, JournalError> {
    let id = draft.id.clone().unwrap_or_else(|| "5f0c9b2e7a41d836".into());
    let when = draft.recorded.clone().unwrap_or_else(|| "2026-06-21T06:00:00Z".into());
    draft.clone().checked(&id, &when)
}

/// A journal for the examples: a round, a look, a feed at the root, a flush, a soak.
const EXAMPLE: &str = r#"[
  {"at": "2026-06-15T05:10:00+01:00", "site": "Fernhollow", "event": {"kind": "round",
    "plants": [{"plant": "FH-011"}], "feed_strength_mg_l": 300, "n_mg_l": 45, "passes": 2,
    "volume_ml": 120}},
  {"at": "2026-06-15T18:30:00+01:00", "site": "Fernhollow", "event": {"kind": "residue",
    "plants": ["FH-011"], "level": "faint", "place": "leaf", "nature": "unknown"}},
  {"at": "2026-06-16T08:00:00+01:00", "site": "Fernhollow", "event": {"kind": "root_feed",
    "plants": [{"plant": "FH-012", "volume_ml": 200}], "feed_strength_mg_l": 300}},
  {"at": "2026-06-17T08:00:00+01:00", "site": "Fernhollow", "event": {"kind": "flush",
    "plants": ["FH-012"], "volume_ml": 1000}},
  {"at": "2026-06-21T06:10:00+01:00", "site": "Fernhollow", "event": {"kind": "soak",
    "plants": ["FH-015"], "feed_strength_mg_l": 50, "duration_min": 30}}
]"#;

fn entries() -> Result<Vec<Entry>, JournalError> {
    // It is a constant of this file, which a test reads.
    let drafts: Vec<Draft> = serde_json::from_str(EXAMPLE).unwrap_or_default();
    drafts
        .into_iter()
        .enumerate()
        .map(|(i, draft)| draft.checked(&format!("fh-{i}"), "2026-06-21T06:40:00Z"))
        .collect()
}

fn ledger(request: &journal::LedgerRequest) -> Result<journal::Ledger, JournalError> {
    journal::ledger(&entries()?, request)
}

fn adherence(request: &journal::AdherenceRequest) -> Result<journal::Adherence, JournalError> {
    journal::adherence(&entries()?, request)
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_journal_of_the_examples_can_be_read() {
        assert_eq!(super::entries().map(|e| e.len()).ok(), Some(5));
    }
}
