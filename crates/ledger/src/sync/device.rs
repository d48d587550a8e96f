//! The journal of one device.

use super::wire::{
    EntriesPage, EntriesTaken, EntryOutcome, MOST_PLANTS_SENT, MOST_SENT, START, SendEntries,
};
use crate::entry::{Draft, Entry};
use guardcell_error::{Code, Error};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Letters of notes and names that one request carries at most: even with each of them escaped it stays
/// below the body that a server accepts.
const MOST_LETTERS_SENT: usize = 1 << 20;

/// What a device holds: entries of its own and of the journal, and how far it has read there.
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::Draft;
/// use guardcell::ledger::sync::{DeviceJournal, EntriesTaken, Taken};
///
/// let draft: Draft = serde_json::from_str(
///     r#"{"at": "2026-06-21T05:10:00+01:00", "site": "Fernhollow",
///         "event": {"kind": "flush", "plants": ["F012"]}}"#,
/// ).unwrap();
/// let mut phone = DeviceJournal::default();
/// phone.record(draft.checked("f1", "2026-06-21T04:11:00Z")?)?;
/// assert_eq!(phone.to_send().unwrap().entries.len(), 1);
/// phone.answered(&EntriesTaken { results: vec![Taken::kept("f1".into(), 1, false)] });
/// assert!(phone.to_send().is_none());
/// # Ok::<(), guardcell_error::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DeviceJournal {
    /// How far the device has read the server's journal.
    cursor: String,
    /// The order of the next entry.
    next: u64,
    /// Its entries, by id.
    held: BTreeMap<String, Held>,
    /// Entries that the server's journal does not take.
    aside: Vec<Aside>,
}

/// An entry on a device.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Held {
    /// The order in which the device got its entries; a correction comes after what it corrects.
    pub order: u64,
    /// How far it is on its way.
    pub state: HeldState,
    /// The entry.
    pub entry: Entry,
}

/// How far an entry is on its way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum HeldState {
    /// Only this device has it for certain.
    Waiting,
    /// The journal has acknowledged it; it has not come back in a page yet.
    Acknowledged,
    /// It came from the journal.
    Shared,
}

/// An entry that the journal does not take, kept for the grower to decide.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Aside {
    /// The entry.
    pub entry: Entry,
    /// Why it was refused.
    pub error: Error,
}

impl Default for DeviceJournal {
    /// A device that holds nothing and has read nothing.
    fn default() -> Self {
        Self { cursor: START.to_owned(), next: 0, held: BTreeMap::new(), aside: Vec::new() }
    }
}

impl DeviceJournal {
    /// Records an entry of this device. The same entry recorded again changes nothing.
    ///
    /// # Errors
    /// For an entry that cannot be right, with the pointer to it; [`Code::DuplicateId`] for an id
    /// that is taken by an entry that says something else. Nothing was recorded then.
    pub fn record(&mut self, entry: Entry) -> Result<(), Error> {
        let (id, recorded) = (entry.id.clone(), entry.recorded.clone());
        let entry = Draft::from(entry).checked(&id, &recorded)?;
        match self.held.get(&entry.id) {
            Some(held) if held.entry == entry => Ok(()),
            Some(_) => Err(duplicate(&entry.id)),
            None => {
                self.hold(entry, HeldState::Waiting);
                Ok(())
            }
        }
    }

    /// The next entries to send, in the order of recording; none where the journal has acknowledged
    /// all.
    #[must_use]
    pub fn to_send(&self) -> Option<SendEntries> {
        let mut entries = Vec::new();
        let (mut plants, mut letters) = (0, 0);
        for held in self.in_order().filter(|h| h.state == HeldState::Waiting) {
            plants += held.entry.event.plants().len();
            letters += size(&held.entry);
            let full = entries.len() == MOST_SENT
                || plants > MOST_PLANTS_SENT
                || letters > MOST_LETTERS_SENT;
            // One entry always fits.
            if full && !entries.is_empty() {
                break;
            }
            entries.push(Draft::from(held.entry.clone()));
        }
        (!entries.is_empty()).then_some(SendEntries { entries })
    }

    /// Takes the answer to entries that were sent. An answer that comes twice, or late, does no harm.
    pub fn answered(&mut self, answer: &EntriesTaken) {
        for taken in &answer.results {
            let Some(id) = &taken.id else { continue };
            let Some(held) = self.held.get_mut(id) else { continue };
            if held.state != HeldState::Waiting {
                continue;
            }
            match (taken.outcome, &taken.error) {
                (EntryOutcome::Accepted | EntryOutcome::Known, _) => {
                    held.state = HeldState::Acknowledged
                }
                (EntryOutcome::Refused, Some(error)) if !self.may_go_again(id, error) => {
                    self.put_aside(id, error.clone());
                }
                (EntryOutcome::Refused, _) => {}
            }
        }
    }

    /// Takes a page of the journal. Whatever order pages come in, and however often, entries are
    /// only added; the cursor moves where the page was asked from it.
    pub fn arrived(&mut self, page: &EntriesPage) {
        let wanted = page.since == self.cursor;
        if wanted && page.restarted {
            // Whether the journal still has them shows at the end of its pages.
            for held in self.held.values_mut().filter(|h| h.state == HeldState::Shared) {
                held.state = HeldState::Acknowledged;
            }
        }
        for entry in &page.entries {
            self.take_in(entry);
        }
        if !wanted {
            return;
        }
        self.cursor.clone_from(&page.cursor);
        if !page.more {
            // Acknowledged, and yet not in the journal: it was replaced by an older copy.
            for held in self.held.values_mut().filter(|h| h.state == HeldState::Acknowledged) {
                held.state = HeldState::Waiting;
            }
        }
    }

    /// The cursor to ask the journal from.
    #[must_use]
    pub fn cursor(&self) -> &str {
        &self.cursor
    }

    /// Every entry, in the order in which the device got them.
    #[must_use]
    pub fn entries(&self) -> Vec<&Entry> {
        self.in_order().map(|h| &h.entry).collect()
    }

    /// Every entry by its id.
    pub(super) fn held(&self) -> impl Iterator<Item = (&str, &Held)> {
        self.held.iter().map(|(id, held)| (id.as_str(), held))
    }

    /// An entry by its id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Held> {
        self.held.get(id)
    }

    /// How many entries the journal has not acknowledged.
    #[must_use]
    pub fn waiting(&self) -> usize {
        self.held.values().filter(|h| h.state == HeldState::Waiting).count()
    }

    /// Entries that the journal does not take.
    #[must_use]
    pub fn aside(&self) -> &[Aside] {
        &self.aside
    }

    /// Takes an entry that the journal does not take out of this device, to record it differently or
    /// to drop it.
    pub fn take_aside(&mut self, id: &str) -> Option<Aside> {
        let at = self.aside.iter().position(|a| a.entry.id == id)?;
        Some(self.aside.remove(at))
    }

    fn in_order(&self) -> impl Iterator<Item = &Held> {
        let mut all: Vec<&Held> = self.held.values().collect();
        all.sort_unstable_by_key(|h| h.order);
        all.into_iter()
    }

    fn hold(&mut self, entry: Entry, state: HeldState) {
        let order = self.next;
        self.next += 1;
        self.held.insert(entry.id.clone(), Held { order, state, entry });
    }

    /// An entry of the journal: what it says is what holds.
    fn take_in(&mut self, entry: &Entry) {
        match self.held.get_mut(&entry.id) {
            Some(held) if held.entry == *entry => held.state = HeldState::Shared,
            Some(_) => {
                self.put_aside(&entry.id, duplicate(&entry.id));
                self.hold(entry.clone(), HeldState::Shared);
            }
            None => self.hold(entry.clone(), HeldState::Shared),
        }
        // What the journal has after all is no longer aside.
        self.aside.retain(|a| a.entry != *entry);
    }

    pub(super) fn put_aside(&mut self, id: &str, error: Error) {
        if let Some(held) = self.held.remove(id) {
            self.keep_aside(Aside { entry: held.entry, error });
        }
    }

    /// Keeps what was set aside, once.
    pub(super) fn keep_aside(&mut self, aside: Aside) {
        if !self.aside.iter().any(|a| a.entry == aside.entry) {
            self.aside.push(aside);
        }
    }

    /// Whether a refusal may end by itself: the journal could not be written, or the entry corrects
    /// one that is still on its way.
    fn may_go_again(&self, id: &str, error: &Error) -> bool {
        let passing = matches!(
            error.code(),
            Code::Busy | Code::Timeout | Code::Storage | Code::Io | Code::Internal
        );
        let corrects_waiting = error.code() == Code::Unknown
            && self
                .held
                .get(id)
                .and_then(|held| held.entry.supersedes.as_deref())
                .and_then(|old| self.held.get(old))
                .is_some_and(|old| old.state == HeldState::Waiting);
        passing || corrects_waiting
    }
}

/// Letters that an entry takes, with what its fields are named.
fn size(entry: &Entry) -> usize {
    1024 + entry.note.len() + entry.event.plants().iter().map(|p| p.len() + 40).sum::<usize>()
}

fn duplicate(id: &str) -> Error {
    Error::new(
        Code::DuplicateId,
        format!("{id:?} is in the journal already and says something else"),
        format!("entries are never changed: record a new one that supersedes {id:?}"),
    )
    .at("/id")
}
