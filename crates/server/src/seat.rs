//! The place that a request in work holds.

use crate::lane::Client;
use crate::state::Shared;
use axum::http::Extensions;
use guardcell::{Code, Error};
use std::net::{IpAddr, Ipv4Addr};
use std::sync::{Arc, PoisonError};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

/// The seat of a request in work; a stream keeps it until its last line.
#[derive(Clone)]
pub(crate) struct InWork(
    #[expect(dead_code, reason = "held for its drop")] pub(crate) Arc<Option<Seat>>,
);

/// A place among the requests that are answered at once.
pub(crate) struct Seat {
    shared: Arc<Shared>,
    client: Client,
    _permits: [Option<OwnedSemaphorePermit>; 2],
}

impl Seat {
    /// Takes a seat for a client, who may not hold all of them; a stream takes one of its own too.
    pub(crate) fn take(shared: &Arc<Shared>, client: Client, stream: bool) -> Result<Self, Error> {
        let config = &shared.config;
        let permit = |of: &Arc<Semaphore>| Arc::clone(of).try_acquire_owned().ok();
        let Some(permit_in_work) = permit(&shared.in_flight) else {
            return Err(busy(shared, format!("{} requests are in work", config.in_flight)));
        };
        let permit_of_stream = if stream { permit(&shared.streams) } else { None };
        if stream && permit_of_stream.is_none() {
            return Err(busy(shared, format!("{} streams are in work", config.streams)));
        }
        let most = (config.in_flight * config.in_flight_percent_of_one / 100).max(1);
        let mut of_client = shared.of_client.lock().unwrap_or_else(PoisonError::into_inner);
        let held = of_client.entry(client).or_default();
        if *held >= most {
            return Err(busy(shared, format!("{most} requests of your address are in work")));
        }
        *held += 1;
        drop(of_client);
        shared.metrics.in_flight.inc();
        let shared = Arc::clone(shared);
        Ok(Self { shared, client, _permits: [Some(permit_in_work), permit_of_stream] })
    }
}

fn busy(shared: &Shared, detail: String) -> Error {
    shared.metrics.turned_away.inc();
    Error::new(Code::Busy, detail, "try again after the time in Retry-After")
}

impl Drop for Seat {
    fn drop(&mut self) {
        self.shared.metrics.in_flight.dec();
        let mut of_client = self.shared.of_client.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(held) = of_client.get_mut(&self.client) {
            *held -= 1;
            if *held == 0 {
                of_client.remove(&self.client);
            }
        }
    }
}

/// Who sent a request; the connection knows.
pub(crate) fn client(extensions: &Extensions) -> Client {
    let unknown = || Client::of(IpAddr::V4(Ipv4Addr::UNSPECIFIED));
    extensions.get::<Client>().copied().unwrap_or_else(unknown)
}
