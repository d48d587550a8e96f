//! The folder as the server asks for it.

use guardcell::ledger::Draft;
use guardcell::ledger::sync::{MOST_SENT, Paired, Taken};
use guardcell::{Code, Error, Place};
use guardcell_journal::{Changes, Devices, Journal};
use guardcell_server::{Offer, Recorded};
use jiff::Timestamp;
use std::fmt;
use std::path::PathBuf;

/// Bytes of entries in one page, at most, but for one large entry.
const PAGE_BYTES: usize = 1 << 20;

type Contents = dyn Fn() -> Result<Vec<u8>, Error> + Send + Sync;

/// A folder that is offered to paired devices.
///
/// ```
/// use guardcell_journal::Devices;
/// use guardcell_server::Offer;
/// use guardcell_share::SharedFolder;
/// let dir = tempfile::tempdir().unwrap();
/// let (journal, devices) = (dir.path().join("journal.db"), dir.path().join("devices.db"));
/// let code = Devices::open(&devices)?.new_code(None, jiff::Timestamp::now())?.code;
/// let folder = SharedFolder::new("Fernhollow", journal, devices, || Ok(b"{}".to_vec()));
/// let paired = folder.pair(&code, "phone")?;
/// assert_eq!(folder.device(&paired.token)?, "phone");
/// # Ok::<(), guardcell::Error>(())
/// ```
pub struct SharedFolder {
    site: String,
    journal: PathBuf,
    devices: PathBuf,
    contents: Box<Contents>,
}

impl SharedFolder {
    /// A folder with the name of its site, its journal and its file of devices, neither of which
    /// must exist yet. `contents` reads the folder as JSON, each time it is asked for.
    pub fn new(
        site: impl Into<String>,
        journal: PathBuf,
        devices: PathBuf,
        contents: impl Fn() -> Result<Vec<u8>, Error> + Send + Sync + 'static,
    ) -> Self {
        Self { site: site.into(), journal, devices, contents: Box::new(contents) }
    }

    fn devices(&self) -> Result<Option<Devices>, Error> {
        Devices::open_existing(&self.devices).map_err(without_path)
    }
}

impl fmt::Debug for SharedFolder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("SharedFolder").field("journal", &self.journal).finish_non_exhaustive()
    }
}

impl Offer for SharedFolder {
    fn pair(&self, code: &str, name: &str) -> Result<Paired, Error> {
        // No code was ever made where there is no file: that is a wrong code like any other.
        let devices = match self.devices()? {
            Some(mut devices) => devices.pair(code, name, Timestamp::now()),
            None => Err(Error::new(
                Code::WrongCode,
                "this code does not pair",
                "run `guardcell pair` for a code",
            )
            .at("/code")),
        };
        let new = devices.map_err(without_path)?;
        Ok(Paired { token: new.token, name: new.name, site: self.site.clone() })
    }

    fn device(&self, token: &str) -> Result<String, Error> {
        let known = match self.devices()? {
            Some(devices) => devices.with_token(token, Timestamp::now()),
            None => Err(Error::new(
                Code::NotPaired,
                "no device is paired",
                "pair the device with a code of `guardcell pair`",
            )),
        };
        known.map(|device| device.name).map_err(without_path)
    }

    fn take(&self, entries: Vec<Draft>) -> Result<Vec<Taken>, Error> {
        let ids: Vec<Option<String>> = entries.iter().map(|e| e.id.clone()).collect();
        let results = Journal::open(&self.journal).and_then(|mut journal| journal.take(entries));
        let taken =
            results.map_err(without_path)?.into_iter().zip(ids).map(|(result, id)| match result {
                Ok(receipt) => Taken::kept(receipt.id, receipt.sequence, receipt.already_there),
                Err(e) => Taken::refused(id, e),
            });
        Ok(taken.collect())
    }

    fn since(&self, cursor: &str) -> Result<Recorded, Error> {
        let there = self.journal.try_exists().unwrap_or(true);
        let changes = if there {
            // A journal of an older format is brought up to date by opening it to write.
            Journal::open_to_read(&self.journal)
                .or_else(|e| match e.code() {
                    Code::MalformedFile => Journal::open_existing(&self.journal),
                    _ => Err(e),
                })
                .and_then(|journal| journal.since(cursor, MOST_SENT, PAGE_BYTES))
                .map_err(without_path)?
        } else {
            Changes::none(cursor)?
        };
        Ok(Recorded {
            entries: changes.bodies,
            cursor: changes.cursor,
            more: changes.more,
            restarted: changes.restarted,
        })
    }

    fn folder(&self) -> Result<Vec<u8>, Error> {
        (self.contents)()
    }
}

/// The error without where the file is: that is nothing for a device, nor is a file that cannot be
/// used the fault of its request.
fn without_path(e: Error) -> Error {
    let code = match e.code() {
        Code::MalformedFile => Code::Storage,
        code => code,
    };
    e.placed(Place::default()).with_code(code)
}
