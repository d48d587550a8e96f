//! A grower's journal as one `SQLite` file: stores, reads and exchanges entries.
//!
//! Entries are only ever added: a correction names the entry it stands for and keeps it. What an
//! [`append`](Journal::append) has acknowledged survives the end of the program or the machine at
//! any point. What an entry is and what follows from it is in [`guardcell::ledger`].

mod checksum;
mod csv_row;
mod error;
pub mod formula;
mod interchange;
mod keep;
mod schema;
mod store;

pub use csv_row::COLUMNS as CSV_COLUMNS;
pub use interchange::{Format, Imported};
pub use keep::{Kept, Verification, make_folder};
pub use store::{Journal, Receipt, Selection};
