//! What a server offers to paired devices beside its calculations: a folder and its journal, kept by
//! the program that starts the server. The server itself reads no file.

use guardcell::Error;
use guardcell::ledger::Draft;
use guardcell::ledger::sync::{Paired, Taken};
use std::fmt::Debug;

/// A folder and its journal. Every function may block; the server calls them one at a time, on
/// threads for that.
pub trait Offer: Debug + Send + Sync + 'static {
    /// Pairs a device that has the code of a grower.
    ///
    /// # Errors
    /// [`Code::WrongCode`](guardcell::Code::WrongCode) for a code that is wrong, used or too old.
    fn pair(&self, code: &str, name: &str) -> Result<Paired, Error>;

    /// The name of the device that has this token.
    ///
    /// # Errors
    /// [`Code::NotPaired`](guardcell::Code::NotPaired) for a token that no device has.
    fn device(&self, token: &str) -> Result<String, Error>;

    /// Records entries and says what became of each. Once it returns they are on the disk.
    ///
    /// # Errors
    /// Where the journal cannot be written; nothing was recorded then.
    fn take(&self, entries: Vec<Draft>) -> Result<Vec<Taken>, Error>;

    /// What was recorded after a cursor.
    ///
    /// # Errors
    /// For a text that is no cursor; where the journal cannot be read.
    fn since(&self, cursor: &str) -> Result<Recorded, Error>;

    /// The folder as JSON: site, plants, labels and water.
    ///
    /// # Errors
    /// Where a file of the folder cannot be read.
    fn folder(&self) -> Result<Vec<u8>, Error>;
}

/// A page of the journal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recorded {
    /// The entries as JSON, in the order of recording.
    pub entries: Vec<String>,
    /// The cursor behind them.
    pub cursor: String,
    /// Whether there are more.
    pub more: bool,
    /// Whether the cursor that was asked from belongs to another life of the journal.
    pub restarted: bool,
}
