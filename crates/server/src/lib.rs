//! The HTTP API and the page.
//!
//! Every call of [`guardcell::calls::ALL`] has a path under `/v1/`, with the same requests and
//! responses as the library; `/openapi.json` describes them, `/problems` the kinds of refusal. The
//! server keeps no state, reads no file and fetches no address; where the program that starts it
//! offers a folder and its journal ([`Offer`]), it passes them on to paired devices. It listens on
//! loopback unless configured otherwise.
//!
//! ```no_run
//! use guardcell_server::{Config, Server};
//! # async fn run() -> Result<(), guardcell::Error> {
//! let server = Server::bind(Config::default()).await?;
//! server.run(guardcell_server::stop_signal()).await;
//! # Ok(())
//! # }
//! ```

mod body;
mod buckets;
mod cached;
mod charts;
mod config;
mod cors;
mod devices;
mod engine;
mod lane;
mod limits;
mod listen;
mod log;
mod lookup;
mod metrics;
mod observe;
mod offer;
mod origin;
mod page;
mod page_files;
mod problem;
mod problem_page;
mod room;
mod routes;
mod seat;
mod start;
mod state;
mod stream;
mod tls;

pub use config::Config;
pub use engine::Engine;
pub use listen::{PLAIN_HTTP, Server};
pub use log::LogForm;
pub use offer::{Offer, Recorded};
pub use page_files::{PageFile, static_page};
pub use problem::{Problem, status};
pub use start::{serve, stop_signal};
pub use tls::Tls;
