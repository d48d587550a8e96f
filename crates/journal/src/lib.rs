//! A grower's journal as one `SQLite` file: stores, reads and exchanges entries.
//!
//! Entries are only ever added: a correction names the entry it stands for and keeps it. What an
//! [`append`](Journal::append) has acknowledged survives the end of the program or the machine at
//! any point. Paired devices, which may read and write it through a server, are in a file beside it
//! ([`Devices`]). What an entry is and what follows from it is in [`guardcell::ledger`].

mod checksum;
mod csv_row;
mod devices;
mod error;
mod exchange;
pub mod formula;
mod interchange;
mod keep;
mod schema;
mod secret;
mod store;

pub use csv_row::COLUMNS as CSV_COLUMNS;
pub use devices::{CODE_LASTS, Device, Devices, MOST_DEVICES, NewCode, NewDevice};
pub use exchange::Changes;
pub use interchange::{Format, Imported};
pub use keep::{Kept, Verification, make_folder};
pub use store::{Journal, Receipt, Selection};
