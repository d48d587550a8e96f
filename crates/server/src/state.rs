//! What the routes of one server share.

use crate::config::Config;
use crate::metrics::Metrics;
use guardcell::{Code, Error};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use tokio::sync::Semaphore;
use tokio::task::spawn_blocking;
use tokio::time::timeout;

/// What the routes of one server share.
pub(crate) struct Shared {
    pub(crate) config: Config,
    pub(crate) metrics: Metrics,
    /// Whether new requests are accepted: false once the server stops.
    pub(crate) ready: AtomicBool,
    /// One permit for each request in work.
    pub(crate) in_flight: Arc<Semaphore>,
    /// One permit for each calculation.
    turns: Arc<Semaphore>,
}

impl Shared {
    pub(crate) fn new(config: Config) -> Self {
        Self {
            metrics: Metrics::new(),
            ready: AtomicBool::new(true),
            in_flight: Arc::new(Semaphore::new(config.in_flight)),
            turns: Arc::new(Semaphore::new(config.calculations.max(1))),
            config,
        }
    }

    /// Runs a calculation off the threads that serve connections, when its turn comes. Nothing is
    /// calculated for a caller that left before.
    pub(crate) async fn calculate<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> Result<T, Error> + Send + 'static,
    ) -> Result<T, Error> {
        let done = async {
            let turn = Arc::clone(&self.turns).acquire_owned().await;
            spawn_blocking(move || {
                let answer = work();
                drop(turn);
                answer
            })
            .await
        };
        match timeout(self.config.calculation_time, done).await {
            Ok(Ok(answer)) => answer,
            Ok(Err(panicked)) => Err(Error::internal("the calculation failed").caused_by(panicked)),
            Err(_) => Err(Error::new(
                Code::Timeout,
                format!("no answer within {} s", self.config.calculation_time.as_secs()),
                "ask for less at once, or try again later",
            )),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::sync::mpsc::channel;
    use std::time::Duration;

    fn one_turn() -> Shared {
        Shared::new(Config { calculations: 1, ..Config::default() })
    }

    #[tokio::test]
    async fn a_panic_is_an_internal_error_and_gives_its_turn_back() {
        let shared = one_turn();
        assert_eq!(shared.calculate(|| Ok(7)).await.ok(), Some(7));
        let broken = shared.calculate(|| -> Result<i32, Error> { std::panic::panic_any("test") });
        assert_eq!(broken.await.map_err(|e| e.code()), Err(Code::Internal));
        assert_eq!(shared.calculate(|| Ok(8)).await.ok(), Some(8));
    }

    #[tokio::test]
    async fn nothing_is_calculated_for_a_caller_that_left() {
        static DONE: AtomicUsize = AtomicUsize::new(0);
        let shared = one_turn();
        let (go, going) = channel::<()>();
        let first = shared.calculate(move || Ok(going.recv().is_ok()));
        let second = shared.calculate(|| Ok(DONE.fetch_add(1, Ordering::SeqCst)));
        tokio::pin!(first);
        let moment = Duration::from_millis(20);
        assert!(timeout(moment, &mut first).await.is_err());
        assert!(timeout(moment, second).await.is_err());
        go.send(()).unwrap();
        assert_eq!(first.await.ok(), Some(true));
        assert!(shared.calculate(|| Ok(())).await.is_ok());
        assert_eq!(DONE.load(Ordering::SeqCst), 0);
    }
}
