//! Threads for calculations, apart from those that serve connections.
//!
//! As many as there are turns, each taking the next piece of work by itself: between two pieces
//! nothing has to wake up first, and what waits is answered in the order in which it came.

use std::io;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex};
use tokio::sync::oneshot;

type Work = Box<dyn FnOnce() + Send>;

/// Threads that calculate. They end when this is dropped and their last work is done.
pub(crate) struct Pool {
    waiting: Sender<Work>,
}

impl Pool {
    /// # Errors
    /// Where the system gives no thread.
    pub(crate) fn new(threads: usize) -> io::Result<Self> {
        let (waiting, taken) = channel::<Work>();
        let taken = Arc::new(Mutex::new(taken));
        for i in 0..threads.max(1) {
            let taken = Arc::clone(&taken);
            std::thread::Builder::new().name(format!("calculation-{i}")).spawn(move || {
                while let Some(work) = next(&taken) {
                    // What breaks down takes no thread with it; its caller finds no answer.
                    let _ = catch_unwind(AssertUnwindSafe(work));
                }
            })?;
        }
        Ok(Self { waiting })
    }

    /// Does work when its turn comes, unless nobody waits for it any more by then. There is no
    /// answer where the work broke down.
    pub(crate) async fn run<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Option<T> {
        let (answer, answered) = oneshot::channel();
        let work = Box::new(move || {
            if !answer.is_closed() {
                // Nobody may be waiting any more: then nobody misses it.
                let _ = answer.send(work());
            }
        });
        self.waiting.send(work).ok()?;
        answered.await.ok()
    }
}

fn next(taken: &Mutex<Receiver<Work>>) -> Option<Work> {
    // No work runs while the lock is held, so it cannot be poisoned.
    taken.lock().ok()?.recv().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::Duration;

    #[tokio::test]
    async fn work_is_answered_and_a_breakdown_takes_no_thread_with_it() {
        let pool = Pool::new(1).unwrap();
        assert_eq!(pool.run(|| 7).await, Some(7));
        let broken: Option<i32> = pool.run(|| std::panic::panic_any("on purpose")).await;
        assert_eq!(broken, None);
        assert_eq!(pool.run(|| 8).await, Some(8));
    }

    #[tokio::test]
    async fn what_nobody_waits_for_is_not_done() {
        static DONE: AtomicUsize = AtomicUsize::new(0);
        let pool = Pool::new(1).unwrap();
        let (go, going) = channel::<()>();
        let first = pool.run(move || going.recv());
        let second = pool.run(|| DONE.fetch_add(1, Ordering::SeqCst));
        tokio::pin!(first);
        assert!(tokio::time::timeout(Duration::from_millis(20), &mut first).await.is_err());
        assert!(tokio::time::timeout(Duration::from_millis(20), second).await.is_err());
        go.send(()).unwrap();
        first.await;
        pool.run(|| ()).await;
        assert_eq!(DONE.load(Ordering::SeqCst), 0);
    }
}
