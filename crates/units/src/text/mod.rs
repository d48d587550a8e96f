//! Text in, text out: what people write, and codes that machines read back exactly.
//!
//! A [`Quantity`] keeps the number and the unit as written, so that printing and reading again
//! gives the same value to the last bit. [`Quantity::measure`] returns it as a typed quantity, and
//! the functions of [`entry`] read a text straight into one type.

pub mod entry;
mod lex;
mod lookup;
mod measure;
mod number;
mod parse;
mod quantity;
mod quotient;
mod read;
mod reading;
mod resolve;
mod subject;
mod unit;

pub(crate) use lex::LONGEST;
pub use measure::Measure;
pub use quantity::{PpmMeaning, Quantity, Subject, Target};
pub(crate) use resolve::check_range;
pub(crate) use subject::dissolved;
pub use unit::Unit;
