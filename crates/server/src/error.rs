//! What can keep a server from running.

use std::net::SocketAddr;

/// Why a server did not start or did not go on.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ServerError {
    /// The address is not loopback and a public bind was not asked for.
    #[error(
        "{0} can be reached from other machines; bind 127.0.0.1 or [::1], or say --public if that is meant"
    )]
    NotLoopback(SocketAddr),
    /// The address cannot be bound.
    #[error("{address} cannot be bound: {what}; choose another with --bind")]
    Bind {
        /// The address.
        address: SocketAddr,
        /// Why not.
        what: std::io::Error,
    },
    /// The runtime cannot be started.
    #[error("the runtime cannot be started: {0}")]
    Runtime(std::io::Error),
}
