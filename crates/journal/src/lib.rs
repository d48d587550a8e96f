//! What was done, what was seen, what to change: a grower's journal.
//!
//! A [`Journal`] is one `SQLite` file. Entries are only ever added: a correction names the entry
//! it stands for and keeps it. What an [`append`](Journal::append) has acknowledged survives the
//! end of the program or the machine at any point.

mod adherence;
mod check;
mod csv_row;
mod entry;
mod error;
mod from_plan;
mod interchange;
mod keep;
mod ledger;
mod moment;
mod review;
mod schema;
mod store;
mod svg;
mod threshold;

pub use adherence::{Adherence, AdherenceRequest, DoneSoak, SeenSign, adherence};
pub use csv_row::COLUMNS as CSV_COLUMNS;
pub use entry::{
    Conditions, Draft, Entry, Event, Flush, Level, Nature, Note, Place, PlantShare, Residue,
    Response, Retraction, RootFeed, Round, Sign, Soak, Window,
};
pub use error::JournalError;
pub use from_plan::rounds_of_plan;
pub use interchange::{Format, Imported};
pub use keep::{Kept, Verification, make_folder};
pub use ledger::{Ledger, LedgerRequest, PlantLedger, PlantWeek, ledger};
pub use review::{Finding, Review, Usual, review, usual};
pub use store::{Journal, Receipt, Selection};
pub use threshold::{
    CurvePoint, Estimate, Evidence, NextStrength, NextStrengthRequest, NotUsed, Observation, Prior,
    ThresholdAnswer, ThresholdRequest, learn_threshold, observations,
};
