//! The HTTP API and the page.
//!
//! Every call of [`guardcell::calls::ALL`] has a path under `/v1/`, with the same requests and
//! responses as the library; `/openapi.json` describes them, `/problems` the kinds of refusal. The
//! server keeps no state, reads no file and fetches no address. It listens on loopback unless
//! configured otherwise.
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
mod cached;
mod charts;
mod config;
mod engine;
mod lane;
mod listen;
mod log;
mod lookup;
mod metrics;
mod observe;
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

pub use config::Config;
pub use engine::Engine;
pub use listen::Server;
pub use log::LogForm;
pub use page_files::{PageFile, static_page};
pub use problem::{Problem, status};
pub use start::{serve, stop_signal};
