//! What the routes of one server share.

use crate::cached::Memory;
use crate::config::Config;
use crate::metrics::Metrics;
use crate::pool::Pool;
use crate::problem::{Kind, Problem};
use std::io;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use tokio::sync::Semaphore;
use tokio::time::timeout;

/// What the routes of one server share.
pub(crate) struct Shared {
    pub(crate) config: Config,
    pub(crate) metrics: Metrics,
    /// Whether new requests are welcome: false once the server stops.
    pub(crate) ready: AtomicBool,
    /// One permit for each request in work.
    pub(crate) in_flight: Arc<Semaphore>,
    /// Look-ups of names answered before, by the path as it was sent.
    pub(crate) told: Memory,
    pool: Pool,
}

impl Shared {
    /// # Errors
    /// Where the system gives no thread for calculations.
    pub(crate) fn new(config: Config) -> io::Result<Self> {
        Ok(Self {
            metrics: Metrics::new(),
            ready: AtomicBool::new(true),
            in_flight: Arc::new(Semaphore::new(config.in_flight)),
            told: Memory::default(),
            pool: Pool::new(config.calculations)?,
            config,
        })
    }

    /// Runs a calculation off the threads that serve connections, when its turn comes.
    pub(crate) async fn calculate<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Problem> {
        match timeout(self.config.calculation_time, self.pool.run(work)).await {
            Ok(Some(answer)) => Ok(answer),
            Ok(None) => Err(Problem::new(
                Kind::Internal,
                "the calculation broke down",
                "report this request",
            )),
            Err(_) => Err(Problem::new(
                Kind::TookTooLong,
                format!("no answer within {} s", self.config.calculation_time.as_secs()),
                "ask for less at once, or again later",
            )),
        }
    }
}
