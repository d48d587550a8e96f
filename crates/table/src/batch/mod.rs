//! Record batches of requests in, record batches of answers out.
//!
//! The columns of the answer have the types that the registry's schemas give: numbers `Float64`,
//! whole numbers `Int64`, booleans, texts and words `Utf8`, lists `List`, objects `Struct`. What is
//! nested in more than [`DEEPEST`] lists and objects, a map with free names, and a value with
//! several forms are `Utf8` with JSON in it. Every column may be null.
//!
//! No row is dropped and the order stays: a row that cannot be answered has nulls in the columns of
//! the answer, and its [`Error`](guardcell::Error) is in [`Answered::failed`].
//!
//! ```
//! use arrow_array::{Array, ArrayRef, RecordBatch, StringArray, cast::AsArray, types::Float64Type};
//! use guardcell_table::batch::{Asked, Options};
//! use std::sync::Arc;
//!
//! let quantity: ArrayRef = Arc::new(StringArray::from(vec!["2 kg", "14 °dH"]));
//! let rows = RecordBatch::try_from_iter([("quantity", quantity)]).unwrap();
//! let options = Options::default().with_constant("to", "g");
//! let convert = guardcell::calls::find("convert").unwrap();
//! let asked = Asked::new(convert, &rows.schema(), options)?;
//! let answered = asked.worker().answer(&rows, Vec::new())?;
//! let value = answered.answers.column_by_name("value").unwrap().as_primitive::<Float64Type>();
//! assert_eq!(value.value(0), 2000.0);
//! assert!(value.is_null(1));
//! assert_eq!(answered.failed[0].0, 1);
//! # Ok::<(), guardcell::Error>(())
//! ```

mod asked;
mod build;
mod cells;
mod convert;
mod errors;
mod guard;
mod input;
mod options;
mod plan;
mod shape;
mod values;
mod worker;

pub use asked::{Asked, REQUEST};
pub use errors::{errors, errors_schema};
pub use options::Options;
pub use shape::DEEPEST;
pub use values::Values;
pub use worker::{Answered, Worker};
