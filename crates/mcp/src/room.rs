//! Calculations: as many at once as there are processors, each stopped when nobody waits for it.

use guardcell::Error;
use guardcell::work::{Stop, stoppable};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use tokio::sync::Semaphore;

/// Stops a calculation when it is dropped.
struct StopOnDrop(Stop);

impl Drop for StopOnDrop {
    fn drop(&mut self) {
        self.0.stop();
    }
}

/// Room for calculations.
#[derive(Clone)]
pub(crate) struct Room(Arc<Semaphore>);

impl Room {
    pub(crate) fn new() -> Self {
        let processors = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
        Self(Arc::new(Semaphore::new(processors)))
    }

    /// Runs a calculation when there is room. `None` if it was cancelled before it was done; then it
    /// stops, and keeps its room until it has.
    pub(crate) async fn run<T: Send + 'static>(
        &self,
        cancelled: impl Future<Output = ()> + Send,
        work: impl FnOnce() -> Result<T, Error> + Send + 'static,
    ) -> Option<Result<T, Error>> {
        let calculated = async {
            // The semaphore is never closed.
            let turn = Arc::clone(&self.0).acquire_owned().await.ok()?;
            let stop = Stop::default();
            let _stop_if_left = StopOnDrop(stop.clone());
            let done = tokio::task::spawn_blocking(move || {
                let _turn = turn;
                // Nothing that it borrows is seen again after it unwound.
                catch_unwind(AssertUnwindSafe(|| stoppable(&stop, work)))
            });
            match done.await {
                Ok(Ok(Ok(answer))) => Some(answer),
                Ok(Ok(Err(_stopped))) => None,
                Ok(Err(_)) | Err(_) => Some(Err(Error::internal("the calculation broke off"))),
            }
        };
        tokio::select! {
            answer = calculated => answer,
            () = cancelled => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell::work::checkpoint;
    use std::future::pending;
    use std::sync::atomic::{AtomicBool, Ordering};
    use std::time::Duration;

    fn runtime() -> tokio::runtime::Runtime {
        tokio::runtime::Builder::new_multi_thread().enable_all().build().unwrap()
    }

    #[test]
    fn a_cancelled_calculation_stops() {
        runtime().block_on(async {
            let room = Room::new();
            let stopped = Arc::new(AtomicBool::new(false));
            struct OnDrop(Arc<AtomicBool>);
            impl Drop for OnDrop {
                fn drop(&mut self) {
                    self.0.store(true, Ordering::SeqCst);
                }
            }
            let unwound = OnDrop(Arc::clone(&stopped));
            let soon = tokio::time::sleep(Duration::from_millis(20));
            let endless = move || -> Result<(), Error> {
                let _unwound = unwound;
                loop {
                    checkpoint();
                }
            };
            assert!(room.run(soon, endless).await.is_none());
            for _ in 0..500 {
                if stopped.load(Ordering::SeqCst) {
                    return;
                }
                tokio::time::sleep(Duration::from_millis(10)).await;
            }
            panic!("it still runs");
        });
    }

    #[test]
    fn a_panic_is_a_fault_of_its_own_request_only() {
        runtime().block_on(async {
            let room = Room::new();
            for _ in 0..64 {
                let broken =
                    || -> Result<(), Error> { std::panic::resume_unwind(Box::new("broken")) };
                let e = room.run(pending(), broken).await.unwrap().unwrap_err();
                assert_eq!(e.code(), guardcell::Code::Internal);
            }
            assert_eq!(room.run(pending(), || Ok(7)).await.unwrap().unwrap(), 7);
        });
    }
}
