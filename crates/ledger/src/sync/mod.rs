//! The journal on several devices: what a device sends, what it gets, and how both meet.
//!
//! A device records while it has no connection. It sends what the journal has not acknowledged and
//! reads what is new there from a cursor, the journal's own sequence. No clock decides anything.
//! Sending again is harmless, as an entry is known by its id. So whatever gets lost on the way, in
//! the end every device holds the same entries as the journal.
//!
//! Nothing here does I/O: a host sends [`DeviceJournal::to_send`] to `POST /v1/journal/entries` and
//! hands the answer to [`DeviceJournal::answered`]; it asks `GET /v1/journal/entries?since=` with
//! [`DeviceJournal::cursor`] and hands the page to [`DeviceJournal::arrived`], until there is no
//! more. A host that keeps the journal as data, such as a page, uses [`device_step`].

mod device;
mod step;
mod wire;

pub use device::{Aside, DeviceJournal, Held, HeldState};
pub use step::{DeviceRequest, DeviceResponse, device_step};
pub use wire::{
    EntriesPage, EntriesTaken, EntryOutcome, MOST_PLANTS_SENT, MOST_SENT, PairRequest, Paired,
    START, SendEntries, Taken,
};
