//! The paths for paired devices: pairing, the journal, the folder.

mod guard;
mod list;
mod routes;

pub(crate) use routes::routes;
