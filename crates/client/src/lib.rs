//! Calls a remote guardcell with the same types.
//!
//! A [`Client`] has one method for each function of the library. It takes the same request and
//! gives the same answer as the library itself, and where the server refuses a request, the error
//! holds its problem details with the very message the library would have given.
//!
//! Calls block. Answers are bounded in time and size; a server that is busy is asked again a few
//! times, as it wishes. Nothing is followed elsewhere: a server that sends the caller to another
//! address is told as an error.
//!
//! ```no_run
//! use guardcell::film::AirRequest;
//! use guardcell_client::Client;
//!
//! let client = Client::new("http://127.0.0.1:8427")?;
//! let air = client.air(&AirRequest { temp_c: 22.0, rh_percent: 65.0, pressure_kpa: None })?;
//! println!("dew point {:.1} °C", air.dew_point_c);
//! # Ok::<(), guardcell_client::ClientError>(())
//! ```

mod body;
mod builder;
mod calls;
mod cause;
mod client;
mod error;
mod names;
mod problem;
mod stream;
mod tls;
mod version;

pub use builder::ClientBuilder;
pub use client::Client;
pub use error::ClientError;
pub use problem::Problem;
pub use stream::AdviceStream;
pub use version::VERSION_HEADER;
