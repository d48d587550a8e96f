//! What the routes of one server share.

use crate::config::Config;
use crate::metrics::Metrics;
use crate::problem::{Kind, Problem};
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
    turns: Arc<Semaphore>,
}

impl Shared {
    pub(crate) fn new(config: Config) -> Self {
        Self {
            metrics: Metrics::new(),
            ready: AtomicBool::new(true),
            in_flight: Arc::new(Semaphore::new(config.in_flight)),
            turns: Arc::new(Semaphore::new(config.calculations)),
            config,
        }
    }

    /// Runs a calculation off the threads that serve connections, when its turn comes.
    pub(crate) async fn calculate<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Problem> {
        let turns = Arc::clone(&self.turns);
        let run = async move {
            // The semaphore is never closed, so this only ever waits.
            let turn = turns.acquire_owned().await.ok();
            tokio::task::spawn_blocking(move || {
                // The turn ends with the work, even when nobody waits for it any more.
                let _turn = turn;
                work()
            })
            .await
        };
        match timeout(self.config.calculation_time, run).await {
            Ok(Ok(answer)) => Ok(answer),
            Ok(Err(_)) => Err(Problem::new(
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
