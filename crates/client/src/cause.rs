//! What an error of the HTTP library means.

use crate::bounds::Bounds;
use crate::failure::{broken_off, no_address, timed_out, tls_failed, unreachable};
use crate::names::NoAddress;
use guardcell::Error;
use std::error::Error as Cause;
use std::io;
use std::time::Duration;

/// What an error of the HTTP library means; `server` is the address of the server alone.
pub(crate) fn error(e: &reqwest::Error, server: &str, url: &str, bounds: &Bounds) -> Error {
    if let Some(none) = find::<NoAddress>(e) {
        return no_address(&none.host, &none.why);
    }
    if let Some(tls) = find::<rustls::Error>(e) {
        return tls_failed(server, &tls.to_string());
    }
    if e.is_timeout() && e.is_connect() {
        let why = format!("no connection within {} s", bounds.connect.as_secs_f64());
        return unreachable(server, &why);
    }
    if e.is_timeout() {
        return timed_out(url, bounds.timeout);
    }
    let why = root(e);
    if e.is_connect() {
        return unreachable(server, &why);
    }
    broken_off(url, &why)
}

/// What an error while reading an answer means.
pub(crate) fn while_reading(e: &io::Error, url: &str, allowed: Duration) -> Error {
    let late = e.kind() == io::ErrorKind::TimedOut
        || e.get_ref()
            .and_then(|inner| inner.downcast_ref::<reqwest::Error>())
            .is_some_and(reqwest::Error::is_timeout);
    if late {
        return timed_out(url, allowed);
    }
    broken_off(url, &root(e))
}

/// The first cause of a type. An error of input and output hides what it wraps from `source`.
fn find<'e, T: Cause + 'static>(e: &'e (dyn Cause + 'static)) -> Option<&'e T> {
    if let Some(found) = e.downcast_ref::<T>() {
        return Some(found);
    }
    if let Some(found) = wrapped(e).and_then(find) {
        return Some(found);
    }
    e.source().and_then(find)
}

fn wrapped<'e>(e: &'e (dyn Cause + 'static)) -> Option<&'e (dyn Cause + 'static)> {
    let inner = e.downcast_ref::<io::Error>()?.get_ref()?;
    Some(inner)
}

/// The message at the bottom: those above it only say that something failed.
fn root(e: &(dyn Cause + 'static)) -> String {
    let mut last = e;
    while let Some(next) = wrapped(last).or_else(|| last.source()) {
        last = next;
    }
    last.to_string()
}
