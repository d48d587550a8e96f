//! What goes over the wire between a device and the server of a folder.

use crate::entry::{Draft, Entry};
use guardcell_call::{Bound, bounds};
use guardcell_error::Error;
use serde::{Deserialize, Serialize};

/// The most entries of one request.
pub const MOST_SENT: usize = 500;
/// The most plants that the entries of one request may name together.
pub const MOST_PLANTS_SENT: usize = 50_000;
/// The cursor of a device that has read nothing yet.
pub const START: &str = "0";

bounds! { SendEntries { entries: Bound::items(1, MOST_SENT) } }
bounds! { PairRequest { code: Bound::text(1, 64), name: Bound::text(1, 64) } }

/// A pairing code and the name of the device that uses it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct PairRequest {
    /// The code that `guardcell pair` printed; small letters, blanks and hyphens do not matter.
    pub code: String,
    /// A name for the device, by which it is listed and revoked, 1 to 64 characters.
    pub name: String,
}

/// A device that is paired.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Paired {
    /// The token, for the header `Authorization: Bearer TOKEN`. It is shown this once.
    pub token: String,
    /// The name under which the device is listed: the one asked for, with a number if it was taken.
    pub name: String,
    /// The name of the site.
    pub site: String,
}

/// Entries that a device sends.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct SendEntries {
    /// The entries, 1 to 500, each with an `id` of its own. A correction may come before the entry
    /// that it corrects.
    pub entries: Vec<Draft>,
}

/// What became of the entries that were sent.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EntriesTaken {
    /// One for each entry, in the order in which they were sent.
    pub results: Vec<Taken>,
}

/// What became of one entry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Taken {
    /// The identifier of the entry, where it has one that can be read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// Whether it is in the journal now.
    pub outcome: EntryOutcome,
    /// Its place in the order of recording, from 1; only where it is in the journal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sequence: Option<i64>,
    /// Why it was refused.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub error: Option<Error>,
}

impl Taken {
    /// An entry that is in the journal and on its disk.
    #[must_use]
    pub fn kept(id: String, sequence: i64, known: bool) -> Self {
        let outcome = if known { EntryOutcome::Known } else { EntryOutcome::Accepted };
        Self { id: Some(id), outcome, sequence: Some(sequence), error: None }
    }

    /// An entry that was refused.
    #[must_use]
    pub fn refused(id: Option<String>, error: Error) -> Self {
        Self { id, outcome: EntryOutcome::Refused, sequence: None, error: Some(error) }
    }
}

/// Whether an entry is in the journal now.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum EntryOutcome {
    /// It was recorded.
    Accepted,
    /// It was there already, word for word.
    Known,
    /// It was not recorded; the error says why.
    Refused,
}

/// Entries of the journal from a cursor on, in the order of recording.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EntriesPage {
    /// The cursor that was asked from.
    pub since: String,
    /// The entries, corrected ones and retractions too.
    pub entries: Vec<Entry>,
    /// The cursor to ask from next.
    pub cursor: String,
    /// Whether there are more entries after this page.
    pub more: bool,
    /// Whether the cursor belongs to another life of the journal, such as before a restore: the
    /// page then begins with the first entry, and what is not in it and the next pages is to be
    /// sent again.
    pub restarted: bool,
}
