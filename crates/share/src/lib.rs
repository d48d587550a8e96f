//! A grower's folder and its journal, offered to paired devices by a server.
//!
//! The files are opened for each request and closed again, so that the command line, a restore or
//! another server may use them between any two requests; what one acknowledged, all others see.

mod shared;

pub use shared::SharedFolder;
