//! Calls a remote guardcell with the same types.
//!
//! [`Client::call`] takes any call of the library: the same request, the same response, and on
//! refusal the same [`Error`](guardcell::Error) as the library itself.
//!
//! Calls block. Answers are bounded in time and size; a busy server is asked again a few times.
//! Redirects are not followed but reported.
//!
//! ```no_run
//! use guardcell::calls::Air;
//! use guardcell_client::Client;
//!
//! let client = Client::new("http://127.0.0.1:8427")?;
//! let request = serde_json::from_str(r#"{"temp_c": 22, "rh_percent": 65}"#).unwrap();
//! let air = client.call::<Air>(&request)?;
//! println!("dew point {:.1} °C", air.dew_point_c);
//! # Ok::<(), guardcell::Error>(())
//! ```

mod body;
mod bounds;
mod builder;
mod cause;
mod client;
mod failure;
mod names;
mod stream;
mod tls;
mod version;

pub use builder::ClientBuilder;
pub use client::Client;
pub use stream::AnswerStream;
pub use version::VERSION_HEADER;
