//! The errors of this crate. None repeats a header, a query, a password or a value of the environment.

use guardcell::{Code, Error, pointer};

/// A fault of a value in a map; the pointer leads into the map.
pub(crate) fn in_map(key: &str, detail: impl Into<String>, hint: impl Into<String>) -> Error {
    let at = if key.is_empty() { String::new() } else { pointer::key("", key) };
    Error::new(Code::InvalidText, detail, hint).at(at)
}

/// What was read does not fit the map.
pub(crate) fn in_data(
    place: impl Into<String>,
    detail: impl Into<String>,
    hint: impl Into<String>,
) -> Error {
    Error::new(Code::MalformedFile, detail, hint).in_file(place)
}

/// A file that cannot be read.
#[cfg(not(target_family = "wasm"))]
pub(crate) fn io(path: &std::path::Path, cause: std::io::Error) -> Error {
    Error::new(Code::Io, cause.to_string(), "check the path and its permissions")
        .in_file(path.display().to_string())
        .caused_by(cause)
}

/// Times tried, for messages.
#[cfg(not(target_family = "wasm"))]
fn tries(attempts: u32) -> String {
    if attempts > 1 { format!(", {attempts} times") } else { String::new() }
}

/// What happened between the program and a server.
#[cfg(not(target_family = "wasm"))]
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum FetchFault {
    /// The name has no address.
    NameResolution {
        host: String,
        detail: String,
    },
    /// Nothing listens there.
    Refused {
        attempts: u32,
    },
    /// No connection, for another reason.
    Connect {
        attempts: u32,
        detail: String,
    },
    /// No trusted, encrypted connection.
    Tls {
        detail: String,
    },
    TimedOut {
        seconds: f64,
        attempts: u32,
    },
    /// An HTTP status that is not a success.
    Status {
        status: u16,
        reason: String,
        attempts: u32,
        hint: String,
    },
    /// The answer is larger than allowed.
    TooLarge {
        most_mib: f64,
    },
    /// The answer broke off.
    BrokenOff {
        attempts: u32,
        detail: String,
    },
    /// A redirect that is not followed.
    Redirect {
        to: String,
        why: String,
        hint: String,
    },
    /// The answer is not JSON.
    NotJson {
        content_type: String,
        detail: String,
    },
}

#[cfg(not(target_family = "wasm"))]
impl FetchFault {
    /// The fault at an address, both already safe to show.
    pub(crate) fn at(self, address: &str) -> Error {
        let new = |code, detail: String, hint: &str| Error::new(code, detail, hint);
        let error = match self {
            Self::NameResolution { host, detail } => new(
                Code::Network,
                format!("the name {host:?} cannot be resolved ({detail})"),
                "check its spelling and the network",
            ),
            Self::Refused { attempts } => new(
                Code::Network,
                format!("the connection was refused{}", tries(attempts)),
                "check that the service runs and the port is right",
            ),
            Self::Connect { attempts, detail } => new(
                Code::Network,
                format!("no connection{} ({detail})", tries(attempts)),
                "check the address and the network",
            ),
            Self::Tls { detail } => new(
                Code::Network,
                format!("no secure connection (TLS): {detail}"),
                "check the certificate, or that the port speaks https",
            ),
            Self::TimedOut { seconds, attempts } => new(
                Code::Network,
                format!("no complete answer within {seconds} s{}", tries(attempts)),
                "raise `http.total_s` if the service is known to be slow",
            ),
            Self::Status { status, reason, attempts, hint } => new(
                Code::Remote,
                format!("the service answers {status} {reason}{}", tries(attempts)),
                &hint,
            ),
            Self::TooLarge { most_mib } => new(
                Code::Remote,
                format!("the answer is larger than {most_mib} MiB"),
                "ask for less, or raise `http.most_mib` if that is right",
            ),
            Self::BrokenOff { attempts, detail } => new(
                Code::Network,
                format!("the answer broke off{} ({detail})", tries(attempts)),
                "try again",
            ),
            Self::Redirect { to, why, hint } => {
                new(Code::Remote, format!("the service redirects to {to}: {why}"), &hint)
            }
            Self::NotJson { content_type, detail } => new(
                Code::Remote,
                format!("the answer is not JSON ({content_type}): {detail}"),
                "check that the address is that of the data, not of a page",
            ),
        };
        error.in_file(address)
    }
}
