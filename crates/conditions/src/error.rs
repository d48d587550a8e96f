//! What can go wrong between a map and its readings.

use std::path::PathBuf;

/// Why readings could not be had. Every message says what is wrong, where, and what would be right;
/// none repeats a header, a query or a password.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ConditionsError {
    /// The map is not right.
    #[error("{place}:{line}:{column}: {}{wrong}; {right}", named(key))]
    Map {
        /// The file of the map.
        place: String,
        /// The line, from 1.
        line: usize,
        /// The column, from 1.
        column: usize,
        /// The key, such as `series[0].temperature.unit`; empty where the text is not TOML.
        key: String,
        /// What is wrong.
        wrong: String,
        /// What would be right.
        right: String,
    },
    /// What was read does not fit the map.
    #[error("{place}: {wrong}; {right}")]
    Data {
        /// The file with its line, or the address with a JSON Pointer.
        place: String,
        /// What is wrong.
        wrong: String,
        /// What would be right.
        right: String,
    },
    /// A file cannot be read or written.
    #[error("{}: {what}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// The cause.
        what: std::io::Error,
    },
    /// An address did not answer as it should.
    #[error("{address}: {fault}")]
    Fetch {
        /// The address without its query.
        address: String,
        /// What happened.
        fault: FetchFault,
    },
    /// The newest reading is too old to stand for the air now.
    #[error(
        "{place}: the newest reading{} is from {newest}, {age_h:.1} h before {now}, and the map allows {max_age_h} h; look at the logger or the service, or allow the age explicitly",
        of_area(area)
    )]
    Stale {
        /// Where it was read.
        place: String,
        /// The area.
        area: Option<String>,
        /// The time of the newest reading.
        newest: String,
        /// Its age in hours.
        age_h: f64,
        /// The oldest age the map allows, in hours.
        max_age_h: f64,
        /// The moment the age is counted to.
        now: String,
    },
    /// Not one reading was left.
    #[error("{place}: no reading is left of {possible}: {why}; {right}")]
    Nothing {
        /// Where it was read.
        place: String,
        /// How many readings there might have been.
        possible: usize,
        /// Why they were dropped.
        why: String,
        /// What would be right.
        right: String,
    },
}

fn named(key: &str) -> String {
    if key.is_empty() { String::new() } else { format!("`{key}`: ") }
}

fn of_area(area: &Option<String>) -> String {
    area.as_ref().map_or(String::new(), |a| format!(" of {a}"))
}

/// What happened between the program and a server.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FetchFault {
    /// The name has no address.
    #[error("the name {host:?} cannot be resolved ({detail}); check its spelling and the network")]
    NameResolution {
        /// The host.
        host: String,
        /// What the resolver said.
        detail: String,
    },
    /// Nothing listens there.
    #[error(
        "the connection was refused{}; check that the service runs and the port is right",
        tries(attempts)
    )]
    Refused {
        /// How often it was tried.
        attempts: u32,
    },
    /// No connection, for another reason.
    #[error("no connection{} ({detail}); check the address and the network", tries(attempts))]
    Connect {
        /// How often it was tried.
        attempts: u32,
        /// What the system said.
        detail: String,
    },
    /// No trusted, encrypted connection.
    #[error(
        "no secure connection (TLS): {detail}; check the certificate, or that the port speaks https"
    )]
    Tls {
        /// What was wrong.
        detail: String,
    },
    /// It took too long.
    #[error(
        "no complete answer within {seconds} s{}; raise `http.total_s` if the service is known to be slow",
        tries(attempts)
    )]
    TimedOut {
        /// The time that was given, in s.
        seconds: f64,
        /// How often it was tried.
        attempts: u32,
    },
    /// An HTTP status that is no answer.
    #[error("the service answers {status} {reason}{}; {right}", tries(attempts))]
    Status {
        /// The status.
        status: u16,
        /// Its words.
        reason: String,
        /// How often it was tried.
        attempts: u32,
        /// What to do.
        right: String,
    },
    /// The answer is larger than allowed.
    #[error(
        "the answer is larger than {most_mib} MiB; ask for less, or raise `http.most_mib` if that is right"
    )]
    TooLarge {
        /// The limit in MiB.
        most_mib: f64,
    },
    /// The answer broke off.
    #[error("the answer broke off{} ({detail}); try again", tries(attempts))]
    BrokenOff {
        /// How often it was tried.
        attempts: u32,
        /// What was seen.
        detail: String,
    },
    /// A redirect that is not followed.
    #[error("the service redirects to {to}: {why}; {right}")]
    Redirect {
        /// Where to, without its query.
        to: String,
        /// Why it is not followed.
        why: String,
        /// What would be right.
        right: String,
    },
    /// The answer is no JSON.
    #[error(
        "the answer is not JSON ({content_type}): {detail}; check that the address is that of the data, not of a page"
    )]
    NotJson {
        /// What the service calls it.
        content_type: String,
        /// What the reader said.
        detail: String,
    },
}

fn tries(attempts: &u32) -> String {
    if *attempts > 1 { format!(", {attempts} times") } else { String::new() }
}

impl ConditionsError {
    pub(crate) fn data(
        place: impl Into<String>,
        wrong: impl Into<String>,
        right: impl Into<String>,
    ) -> Self {
        Self::Data { place: place.into(), wrong: wrong.into(), right: right.into() }
    }

    /// Whether reading or writing failed, rather than what was read.
    ///
    /// ```
    /// let error = guardcell_conditions::Map::parse("source = 1", "map.toml").unwrap_err();
    /// assert!(!error.is_io());
    /// ```
    #[must_use]
    pub const fn is_io(&self) -> bool {
        matches!(self, Self::File { .. } | Self::Fetch { .. })
    }
}

/// A fault of a value in a map, before its line is known.
#[derive(Debug)]
pub(crate) struct Fault {
    /// The way to it, outermost first; a number is an index.
    pub(crate) key: Vec<String>,
    pub(crate) wrong: String,
    pub(crate) right: String,
}

impl Fault {
    pub(crate) fn new(key: &str, wrong: impl Into<String>, right: impl Into<String>) -> Self {
        Self { key: vec![key.to_owned()], wrong: wrong.into(), right: right.into() }
    }

    /// The same fault within `key`.
    pub(crate) fn within(mut self, key: impl ToString) -> Self {
        self.key.insert(0, key.to_string());
        self
    }

    pub(crate) fn dotted(&self) -> String {
        let mut out = String::new();
        for part in self.key.iter().filter(|p| !p.is_empty()) {
            if part.bytes().all(|b| b.is_ascii_digit()) {
                out.push_str(&format!("[{part}]"));
            } else {
                if !out.is_empty() {
                    out.push('.');
                }
                out.push_str(part);
            }
        }
        out
    }

    /// The fault where no text of the map is at hand.
    pub(crate) fn unplaced(self) -> ConditionsError {
        ConditionsError::Data {
            place: format!("map, `{}`", self.dotted()),
            wrong: self.wrong,
            right: self.right,
        }
    }
}
