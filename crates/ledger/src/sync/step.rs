//! A device's journal taken one step further, for hosts that keep it as data.

use super::device::{Aside, DeviceJournal};
use super::wire::{EntriesPage, EntriesTaken, MOST_SENT, SendEntries};
use crate::entry::{Draft, Entry};
use guardcell_call::{Bound, Bounded as _, bounds};
use guardcell_error::{Code, Error};
use serde::{Deserialize, Serialize};

/// What happened to the journal of a device.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct DeviceRequest {
    /// The journal as the last answer left it; an empty one where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub device: Option<DeviceJournal>,
    /// Entries set aside that are taken out, by id.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub dropped: Vec<String>,
    /// New entries of this device, each with its `id` and `recorded`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub record: Vec<Draft>,
    /// What a server answered to the entries that were sent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub answered: Option<EntriesTaken>,
    /// A page of the server's journal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arrived: Option<EntriesPage>,
}

bounds! { DeviceRequest {
    dropped: Bound::items(0, 10_000),
    record: Bound::items(0, MOST_SENT),
} }

/// The journal of a device, and what there is to do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DeviceResponse {
    /// The journal now.
    pub device: DeviceJournal,
    /// What to send to `POST /v1/journal/entries`; none where all was acknowledged.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub send: Option<SendEntries>,
    /// What to ask `GET /v1/journal/entries` from.
    pub cursor: String,
    /// Entries that no server has acknowledged.
    pub waiting: usize,
}

/// Takes a device's journal one step further: first what is dropped, then what is recorded, then
/// what a server said. All of it or nothing. A kept entry, or one of the server, that cannot be right
/// is set aside with the reason; it does not stop the others.
///
/// # Errors
/// For a new entry that cannot be right, with the pointer to it; [`Code::DuplicateId`] for an id that is
/// taken; [`Code::Unknown`] for a correction of an entry that is not there, and [`Code::Conflict`]
/// for one of an entry that is corrected already.
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::sync::{DeviceRequest, device_step};
/// let request: DeviceRequest = serde_json::from_str(r#"{"record": [{"id": "w1",
///     "recorded": "2026-06-21T06:00:00Z", "at": "2026-06-21T05:10:00+01:00", "site": "Fernhollow",
///     "event": {"kind": "wipe", "plants": ["FH-001"]}}]}"#).unwrap();
/// let answer = device_step(&request)?;
/// assert_eq!((answer.waiting, answer.send.unwrap().entries.len()), (1, 1));
/// # Ok::<(), guardcell_error::Error>(())
/// ```
pub fn device_step(request: &DeviceRequest) -> Result<DeviceResponse, Error> {
    request.check_bounds()?;
    let mut device = request.device.clone().unwrap_or_default();
    set_wrong_aside(&mut device);
    for id in &request.dropped {
        device.take_aside(id);
    }
    for (i, draft) in request.record.iter().enumerate() {
        record(&mut device, draft).map_err(|e| e.within(&format!("/record/{i}")))?;
    }
    if let Some(answer) = &request.answered {
        device.answered(answer);
    }
    if let Some(page) = &request.arrived {
        let (page, wrong) = sorted_out(page);
        device.arrived(&page);
        wrong.into_iter().for_each(|aside| device.keep_aside(aside));
    }
    let (send, waiting) = (device.to_send(), device.waiting());
    Ok(DeviceResponse { send, cursor: device.cursor().to_owned(), waiting, device })
}

/// Sets aside what cannot be right: a host's store may have been changed by others, and an older
/// program may have kept what this one refuses. The rest goes on.
fn set_wrong_aside(device: &mut DeviceJournal) {
    let wrong: Vec<(String, Error)> = device
        .held()
        .filter_map(|(id, held)| Some((id.to_owned(), check(&held.entry).err()?)))
        .collect();
    for (id, error) in wrong {
        device.put_aside(&id, error);
    }
}

/// A page without the entries that cannot be right, and those with their faults.
fn sorted_out(page: &EntriesPage) -> (EntriesPage, Vec<Aside>) {
    let mut wrong = Vec::new();
    let mut page = page.clone();
    page.entries.retain(|entry| match check(entry) {
        Ok(()) => true,
        Err(error) => {
            wrong.push(Aside { entry: entry.clone(), error });
            false
        }
    });
    (page, wrong)
}

fn check(entry: &Entry) -> Result<(), Error> {
    guardcell_call::checkpoint();
    Draft::from(entry.clone()).checked(&entry.id, &entry.recorded).map(|_| ())
}

fn record(device: &mut DeviceJournal, draft: &Draft) -> Result<(), Error> {
    let given = |field: &Option<String>, name: &str| {
        field.clone().ok_or_else(|| {
            Error::new(Code::Missing, "this is missing", "give it: nothing is made up here")
                .at(format!("/{name}"))
        })
    };
    let (id, recorded) = (given(&draft.id, "id")?, given(&draft.recorded, "recorded")?);
    let entry = draft.clone().checked(&id, &recorded)?;
    if let Some(old) = &entry.supersedes
        && device.get(&id).is_none()
    {
        let wrong = |code, detail: String, hint: &str| {
            Err(Error::new(code, detail, hint.to_owned()).at("/supersedes"))
        };
        if device.get(old).is_none() {
            return wrong(
                Code::Unknown,
                format!("the journal has no entry {old:?}"),
                "name one that is in it",
            );
        }
        let by = device.entries().into_iter().find(|e| e.supersedes.as_ref() == Some(old));
        if let Some(by) = by {
            return wrong(
                Code::Conflict,
                format!("{old:?} is corrected already, by {:?}", by.id),
                "correct that one",
            );
        }
    }
    device.record(entry)
}
