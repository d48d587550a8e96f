//! What the errors of the HTTP library mean.

use super::failed::Failed;
use crate::error::FetchFault;
use crate::map::HttpSettings;
use std::error::Error;
use std::io;

pub(super) fn timed_out(attempts: u32, settings: &HttpSettings) -> Failed {
    let seconds = settings.total_s;
    Failed { fault: FetchFault::TimedOut { seconds, attempts }, again: true, wait: None }
}

/// What caused an error, outermost first. An error of input and output names as its source what
/// caused its content, and passes over the content itself.
fn causes<'e>(e: &'e (dyn Error + 'static)) -> impl Iterator<Item = &'e (dyn Error + 'static)> {
    std::iter::successors(Some(e), |e: &&'e (dyn Error + 'static)| {
        let content = e.downcast_ref::<io::Error>().and_then(io::Error::get_ref);
        content.map(|c| c as &(dyn Error + 'static)).or_else(|| (*e).source())
    })
}

/// The innermost cause: the outer ones repeat the address with its query.
fn innermost(e: &(dyn Error + 'static)) -> String {
    causes(e).last().unwrap_or(e).to_string()
}

/// The fault of TLS among the causes, if it is one.
fn tls(e: &(dyn Error + 'static)) -> Option<String> {
    causes(e).find_map(|cause| cause.downcast_ref::<rustls::Error>()).map(|f| match f {
        rustls::Error::InvalidMessage(_) => format!("what answers there is not TLS ({f})"),
        other => other.to_string(),
    })
}

pub(super) fn of(e: &reqwest::Error, attempts: u32, settings: &HttpSettings) -> Failed {
    if let Some(detail) = tls(e) {
        return Failed::last(FetchFault::Tls { detail });
    }
    if e.is_timeout() {
        return timed_out(attempts, settings);
    }
    let detail = innermost(e);
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
    let late = |c: &(dyn Error + 'static)| {
        c.downcast_ref::<reqwest::Error>().is_some_and(reqwest::Error::is_timeout)
    };
    if e.kind() == io::ErrorKind::TimedOut || causes(e).any(late) {
        return timed_out(attempts, settings);
    }
    let detail = innermost(e);
    Failed { fault: FetchFault::BrokenOff { attempts, detail }, again: true, wait: None }
}
