//! What can keep a call from being answered.

use crate::problem::Problem;
use std::time::Duration;
use thiserror::Error;

/// Why a call was not answered.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum ClientError {
    /// The address is not one of HTTP.
    #[error("{url:?} is not the address of a server: {why}; write it like http://127.0.0.1:8427")]
    Url {
        /// What was given.
        url: String,
        /// What is wrong with it.
        why: String,
    },
    /// The request holds what JSON cannot carry, such as a number that is not finite.
    #[error("the request cannot be written as JSON: {0}; give finite numbers")]
    Unsendable(String),
    /// The trust store of this machine cannot be read.
    #[error("TLS cannot be set up: {0}; install the certificates of your system")]
    Trust(String),
    /// The name of the server has no address.
    #[error("{host:?} cannot be resolved: {why}; check the name and the network")]
    Name {
        /// The name.
        host: String,
        /// Why not.
        why: String,
    },
    /// No connection could be made.
    #[error("{url} cannot be reached: {why}; is `guardcell serve` running there?")]
    Unreachable {
        /// The address of the server.
        url: String,
        /// Why not.
        why: String,
    },
    /// The encrypted connection could not be made.
    #[error("{url}: TLS failed: {why}; check the certificate, or whether the server speaks TLS")]
    Tls {
        /// The address of the server.
        url: String,
        /// Why not.
        why: String,
    },
    /// No answer within the time allowed.
    #[error("{url} did not answer within {} s; allow more time, or ask for less", after.as_secs_f64())]
    TimedOut {
        /// What was asked.
        url: String,
        /// The time allowed.
        after: Duration,
    },
    /// The connection broke before the answer was complete.
    #[error("{url}: the connection broke: {why}; ask again")]
    BrokenOff {
        /// What was asked.
        url: String,
        /// How.
        why: String,
    },
    /// The answer is larger than allowed.
    #[error("{url}: the answer is larger than {limit} bytes; allow more, or ask for less")]
    TooLarge {
        /// What was asked.
        url: String,
        /// The most that is read.
        limit: u64,
    },
    /// The server sends callers to another address, which is not followed.
    #[error("{url} says to ask {to} instead; give that address if it is meant")]
    Moved {
        /// What was asked.
        url: String,
        /// Where it points.
        to: String,
    },
    /// The server had too much to do, each time it was asked.
    #[error("{url} is busy: asked {times} times; ask again later")]
    Busy {
        /// What was asked.
        url: String,
        /// How often.
        times: u32,
    },
    /// The server refused the request.
    #[error("{}", .0.message.as_ref().unwrap_or(&.0.detail))]
    Refused(Box<Problem>),
    /// Something answered that is no guardcell.
    #[error("{url} is not a guardcell: {found}; check the address and the path")]
    NotGuardcell {
        /// What was asked.
        url: String,
        /// What came.
        found: String,
    },
    /// The server is a guardcell of another version, whose answers may differ.
    #[error("{url} is guardcell {server} and this is {client}; use the same version on both sides")]
    Version {
        /// What was asked.
        url: String,
        /// Its version.
        server: String,
        /// The version of this crate.
        client: &'static str,
    },
}

impl ClientError {
    /// The problem details, where the server refused the request.
    ///
    /// ```no_run
    /// use guardcell::units::ConvertRequest;
    /// # fn main() -> Result<(), guardcell_client::ClientError> {
    /// let client = guardcell_client::Client::new("http://127.0.0.1:8427")?;
    /// let request: ConvertRequest =
    ///     serde_json::from_str(r#"{"quantity": "300 ppm", "to": "mg/L"}"#).expect("a request");
    /// if let Some(problem) = client.convert(&request).err().as_ref().and_then(|e| e.problem()) {
    ///     assert_eq!(problem.pointer.as_deref(), Some("/quantity"));
    /// }
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn problem(&self) -> Option<&Problem> {
        match self {
            Self::Refused(problem) => Some(problem),
            _ => None,
        }
    }
}
