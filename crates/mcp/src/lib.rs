//! guardcell for assistants: the Model Context Protocol on standard input and output.
//!
//! Each call of the registry is a tool with the schemas of its request and answer; the files of a
//! grower's folder and the last entries of its journal are resources. Nothing is written, unless a
//! journal is named: then one more tool records entries in it.
//!
//! A refusal is the answer of a tool with `isError`, its text the structured error as JSON: `code`,
//! `pointer`, `detail`, `hint`.

mod lines;
mod record;
mod resources;
mod room;
mod start;
mod tools;

pub use start::{Config, serve};
