//! Any quantity of the trade in another unit or basis.
//!
//! [`convert`] answers one request. A [`Conversion`] reads the units once and converts many
//! numbers of them, for the columns of a table.

mod context;
mod conversion;
mod ec;
mod light;
mod notes;
mod powder;
mod refuse;
mod request;
mod route;
mod share;
mod solute;

pub use conversion::{Conversion, convert};
pub use request::{ConvertRequest, ConvertResponse, EcCompensation, ReadQuantity};
