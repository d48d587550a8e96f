//! From an error of the HTTP library to one that says what failed.

use crate::builder::Bounds;
use crate::error::ClientError;
use crate::names::NoAddress;
use std::error::Error;
use std::io;
use std::time::Duration;

/// What an error of the HTTP library means; `server` is the address of the server alone.
pub(crate) fn told(e: &reqwest::Error, server: &str, url: &str, bounds: &Bounds) -> ClientError {
    let (server, url) = (server.to_owned(), url.to_owned());
    if let Some(none) = find::<NoAddress>(e) {
        return ClientError::Name { host: none.host.clone(), why: none.why.clone() };
    }
    if let Some(tls) = find::<rustls::Error>(e) {
        return ClientError::Tls { url: server, why: tls.to_string() };
    }
    if e.is_timeout() && e.is_connect() {
        let why = format!("no connection within {} s", bounds.connect.as_secs_f64());
        return ClientError::Unreachable { url: server, why };
    }
    if e.is_timeout() {
        return ClientError::TimedOut { url, after: bounds.timeout };
    }
    let why = root(e);
    if e.is_connect() {
        return ClientError::Unreachable { url: server, why };
    }
    ClientError::BrokenOff { url, why }
}

/// What an error while reading an answer means.
pub(crate) fn while_reading(e: &io::Error, url: &str, allowed: Duration) -> ClientError {
    let url = url.to_owned();
    let timed_out = e.kind() == io::ErrorKind::TimedOut
        || e.get_ref()
            .and_then(|inner| inner.downcast_ref::<reqwest::Error>())
            .is_some_and(reqwest::Error::is_timeout);
    if timed_out {
        return ClientError::TimedOut { url, after: allowed };
    }
    ClientError::BrokenOff { url, why: root(e) }
}

/// The first cause of a type. An error of input and output hides what it wraps from `source`.
fn find<'e, T: Error + 'static>(e: &'e (dyn Error + 'static)) -> Option<&'e T> {
    if let Some(found) = e.downcast_ref::<T>() {
        return Some(found);
    }
    if let Some(found) = wrapped(e).and_then(find) {
        return Some(found);
    }
    e.source().and_then(find)
}

fn wrapped<'e>(e: &'e (dyn Error + 'static)) -> Option<&'e (dyn Error + 'static)> {
    let inner = e.downcast_ref::<io::Error>()?.get_ref()?;
    Some(inner)
}

/// The message at the bottom: those above it only say that something failed.
fn root(e: &(dyn Error + 'static)) -> String {
    let mut last = e;
    while let Some(next) = wrapped(last).or_else(|| last.source()) {
        last = next;
    }
    last.to_string()
}
