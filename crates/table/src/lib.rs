//! Rows of a table as requests, answers as columns, for every call of guardcell.
//!
//! A row is read by the names of its columns: those named like fields of the request fill them,
//! nested ones with points (`composition.ca_mmol_l`), and the others are passed along. Where a
//! request is no flat row, one column holds it as JSON. This crate is pure: no I/O, no threads; a
//! host reads and writes, and answers batches on as many threads as it likes.
//!
//! With the feature `arrow` (default) batches of rows come and go as record batches of Apache
//! Arrow: see [`batch`].

mod cell;
mod fields;
mod function;
pub mod kinds;
mod path;
mod read;
mod tree;

#[cfg(feature = "arrow")]
pub mod batch;

pub use cell::{Cell, Row};
pub use fields::has_path;
pub use function::{
    DAYS, Given, HOURS, Once, RowAnswer, RowFunction, Tabular, answer_schema, tabular,
};
pub use path::{WHOLE, at, name, names};
pub use read::read;
pub use tree::{Clash, Tree};
