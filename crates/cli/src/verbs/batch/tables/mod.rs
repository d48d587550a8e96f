//! Rows and answers as record batches of Arrow: for Arrow and Parquet, and from one format to
//! another.

mod answering;
mod ask;
mod pack;
mod rows;
mod source;
mod write;

pub(crate) use answering::{Tables, Worker};
pub(crate) use ask::{Opened, open};
pub(crate) use pack::pack;
