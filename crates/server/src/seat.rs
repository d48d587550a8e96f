//! The place that a request in work holds.

use crate::state::Shared;
use std::sync::Arc;
use tokio::sync::OwnedSemaphorePermit;

/// The seat of a request in work; a stream keeps it until its last line.
#[derive(Clone)]
pub(crate) struct InWork(
    #[expect(dead_code, reason = "held for its drop")] pub(crate) Arc<Option<Seat>>,
);

/// A place among the requests that are answered at once.
pub(crate) struct Seat {
    pub(crate) shared: Arc<Shared>,
    pub(crate) _permit: OwnedSemaphorePermit,
}

impl Drop for Seat {
    fn drop(&mut self) {
        self.shared.metrics.in_flight.dec();
    }
}
