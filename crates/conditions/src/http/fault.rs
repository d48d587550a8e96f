//! What the errors of the HTTP library mean.

use super::Failed;
use crate::error::FetchFault;
use crate::map::HttpSettings;
use std::error::Error;
use std::io;

pub(super) fn timed_out(attempts: u32, settings: &HttpSettings) -> Failed {
    let seconds = settings.total_s;
    Failed { fault: FetchFault::TimedOut { seconds, attempts }, again: true, wait: None }
}

/// The innermost cause: the outer ones repeat the address with its query.
fn innermost<'e>(e: &'e (dyn Error + 'static)) -> &'e (dyn Error + 'static) {
    let mut e = e;
    while let Some(inner) = e.source() {
        e = inner;
    }
    e
}

fn causes<'e>(e: &'e (dyn Error + 'static)) -> impl Iterator<Item = &'e (dyn Error + 'static)> {
    std::iter::successors(Some(e), |e: &&'e (dyn Error + 'static)| (*e).source())
}

/// The fault of TLS among the causes, if it is one. It may hide within an error of input and output.
fn tls(e: &(dyn Error + 'static)) -> Option<String> {
    causes(e).find_map(|cause| {
        let within = cause.downcast_ref::<io::Error>().and_then(io::Error::get_ref);
        let found = cause
            .downcast_ref::<rustls::Error>()
            .or_else(|| within.and_then(|w| w.downcast_ref::<rustls::Error>()));
        found.map(|f| match f {
            rustls::Error::InvalidMessage(_) => format!("what answers there is not TLS ({f})"),
            other => other.to_string(),
        })
    })
}

pub(super) fn of(e: &reqwest::Error, attempts: u32, settings: &HttpSettings) -> Failed {
    if let Some(detail) = tls(e) {
        return Failed::last(FetchFault::Tls { detail });
    }
    if e.is_timeout() {
        return timed_out(attempts, settings);
    }
    let detail = innermost(e).to_string();
    let refused = causes(e)
        .filter_map(|c| c.downcast_ref::<io::Error>())
        .any(|c| c.kind() == io::ErrorKind::ConnectionRefused);
    let fault = match (refused, e.is_connect()) {
        (true, _) => FetchFault::Refused { attempts },
        (false, true) => FetchFault::Connect { attempts, detail },
        (false, false) => FetchFault::BrokenOff { attempts, detail },
    };
    Failed { fault, again: true, wait: None }
}

/// The fault of a body that could not be read to its end.
pub(super) fn of_body(e: &io::Error, attempts: u32, settings: &HttpSettings) -> Failed {
    let inner = e.get_ref().and_then(|e| e.downcast_ref::<reqwest::Error>());
    if e.kind() == io::ErrorKind::TimedOut || inner.is_some_and(reqwest::Error::is_timeout) {
        return timed_out(attempts, settings);
    }
    let detail = match inner {
        Some(inner) => innermost(inner).to_string(),
        None => innermost(e).to_string(),
    };
    Failed { fault: FetchFault::BrokenOff { attempts, detail }, again: true, wait: None }
}
