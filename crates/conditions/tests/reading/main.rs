//! Maps followed to their sources: what is read, and what each failure says.
#![allow(missing_docs, clippy::unwrap_used, clippy::panic, reason = "tests")]

mod duplicates;
mod fetching;
mod json;
mod logger;
mod never_panics;
mod own_times;
mod probe;
mod sensorthings;
mod server;
