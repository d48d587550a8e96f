//! The HTTP API and the page.
//!
//! Every calculation of the facade has a path under `/v1/`, with the same request and response
//! types as the library; `/openapi.json` describes them. The server keeps no state, reads no file
//! and fetches no address. It listens on loopback unless told otherwise.
//!
//! ```no_run
//! use guardcell_server::{Config, Server};
//! # async fn run() -> Result<(), guardcell_server::ServerError> {
//! let server = Server::bind(Config::default()).await?;
//! server.run(guardcell_server::told_to_stop()).await;
//! # Ok(())
//! # }
//! ```

mod body;
mod cached;
mod charts;
mod config;
mod error;
mod fault;
mod listen;
mod metrics;
mod observe;
mod page;
mod pool;
mod problem;
mod routes;
mod start;
mod state;
mod stream;
mod taxa;

pub use body::parse as read_request;
pub use config::Config;
pub use error::ServerError;
pub use fault::Fault;
pub use listen::Server;
pub use problem::{Kind, Problem};
pub use start::{LogForm, serve, told_to_stop};
