//! The ways in which a remote call fails, each as an [`Error`].

use guardcell::{Code, Error, excerpt};
use std::time::Duration;
use url::Url;

/// The address is not that of a server.
pub(crate) fn bad_url(url: &str, why: &str) -> Error {
    Error::new(
        Code::InvalidText,
        format!("{:?} is not the address of a server: {why}", excerpt(url, 80)),
        "write it like http://127.0.0.1:8427",
    )
}

/// The trust store of this machine cannot be used.
pub(crate) fn no_trust(why: &str) -> Error {
    Error::new(
        Code::Network,
        format!("no trusted root certificates found: {why}"),
        "install the certificates of your system",
    )
}

/// The request holds what JSON cannot carry.
pub(crate) fn unsendable(why: &str) -> Error {
    Error::new(
        Code::OutOfRange,
        format!("the request cannot be written as JSON: {why}"),
        "give finite numbers",
    )
}

pub(crate) fn no_address(host: &str, why: &str) -> Error {
    Error::new(
        Code::Network,
        format!("{:?} cannot be resolved: {why}", excerpt(host, 80)),
        "check the name and the network",
    )
}

pub(crate) fn unreachable(server: &str, why: &str) -> Error {
    Error::new(
        Code::Network,
        format!("{server} cannot be reached: {why}"),
        "check that `guardcell serve` is running there",
    )
}

pub(crate) fn tls_failed(server: &str, why: &str) -> Error {
    Error::new(
        Code::Network,
        format!("{server}: TLS failed: {why}"),
        "check the certificate, and whether the server speaks TLS",
    )
}

pub(crate) fn timed_out(url: &str, after: Duration) -> Error {
    Error::new(
        Code::Timeout,
        format!("{url} did not answer within {} s", after.as_secs_f64()),
        "allow more time, or ask for less",
    )
}

pub(crate) fn broken_off(url: &str, why: &str) -> Error {
    Error::new(Code::Network, format!("{url}: the connection broke: {why}"), "try again")
}

pub(crate) fn answer_too_large(url: &str, limit: u64) -> Error {
    Error::new(
        Code::Remote,
        format!("{url}: the answer is larger than {limit} bytes"),
        "allow more, or ask for less",
    )
}

pub(crate) fn moved(url: &Url, to: &str) -> Error {
    Error::new(
        Code::Remote,
        format!("{url} redirects to {to}"),
        "give that address if it is the intended server",
    )
}

pub(crate) fn busy(url: &Url, times: u32) -> Error {
    Error::new(Code::Busy, format!("{url} is busy: asked {times} times"), "try again later")
}

pub(crate) fn not_guardcell(url: &Url, found: &str) -> Error {
    Error::new(
        Code::Remote,
        format!("{url} is not a guardcell: {found}"),
        "check the address and the path",
    )
}

pub(crate) fn other_version(url: &str, server: &str, own: &str) -> Error {
    Error::new(
        Code::Remote,
        format!("{url} is guardcell {server} and this is {own}"),
        "use the same version on both sides",
    )
}
