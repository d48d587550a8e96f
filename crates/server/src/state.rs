//! What the routes of one server share.

use crate::config::Config;
use crate::lane::{Client, Lane, Turn};
use crate::limits::Limits;
use crate::metrics::Metrics;
use crate::room::Room;
use guardcell::calls::{Prepared, Work};
use guardcell::work::{Stop, Stopped, checkpoint, stoppable};
use guardcell::{Code, Error};
use std::collections::HashMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::AtomicBool;
use std::sync::{Arc, Mutex};
use tokio::sync::Semaphore;
use tokio::task::spawn_blocking;
use tokio::time::timeout;

/// Steps of work from which a calculation is dear: about a twentieth of a second.
const DEAR_STEPS: u64 = 50_000;
/// Up to so many bytes a request is read where it arrives, to see whether it is tiny.
const TINY_BYTES: usize = 1 << 10;
/// Bytes from which even reading the request is dear: some milliseconds.
const DEAR_BYTES: usize = 256 << 10;

/// What the routes of one server share.
pub(crate) struct Shared {
    pub(crate) config: Config,
    pub(crate) metrics: Metrics,
    /// Whether new requests are accepted: false once the server stops.
    pub(crate) ready: AtomicBool,
    /// One permit for each request in work.
    pub(crate) in_flight: Arc<Semaphore>,
    /// One permit for each stream.
    pub(crate) streams: Arc<Semaphore>,
    /// How many requests of each client are in work.
    pub(crate) of_client: Mutex<HashMap<Client, usize>>,
    /// Room for bodies that are large, and for answers.
    pub(crate) bodies: Room,
    pub(crate) answers: Room,
    /// Turns to read and write the journal, one at a time.
    pub(crate) journal: Lane,
    /// How often strangers and devices may ask for it.
    pub(crate) limits: Limits,
    /// Turns for cheap calculations, and for dear ones.
    cheap: Lane,
    dear: Lane,
}

impl Shared {
    pub(crate) fn new(config: Config) -> Self {
        let calculations = config.calculations.max(1);
        Self {
            metrics: Metrics::new(),
            ready: AtomicBool::new(true),
            in_flight: Arc::new(Semaphore::new(config.in_flight)),
            streams: Arc::new(Semaphore::new(config.streams)),
            of_client: Mutex::new(HashMap::new()),
            // One body of any size that is accepted always has room.
            bodies: Room::new(config.room_bytes.max(2 * config.body_bytes)),
            answers: Room::new(config.room_bytes),
            journal: Lane::new(1),
            limits: Limits::new(),
            cheap: Lane::new(calculations),
            dear: Lane::new(calculations - 1),
            config,
        }
    }

    /// Answers a request of so many bytes. `prepare` reads it and says what it costs. A tiny one is
    /// answered at once; the others off the threads that serve connections, when their turn comes,
    /// the dear among the dear. Once time is over or the caller has left, the calculation stops.
    pub(crate) async fn calculate(
        &self,
        client: Client,
        bytes: usize,
        prepare: impl Fn() -> Result<Prepared, Error> + Send + Sync + 'static,
    ) -> Result<Vec<u8>, Error> {
        if bytes <= TINY_BYTES
            && let Some(answer) = tiny(&prepare)
        {
            return answer;
        }
        let mut unfinished = Unfinished { stop: Stop::default(), shared: self, ended: false };
        let stop = unfinished.stop.clone();
        let prepare = Arc::new(prepare);
        let done = async {
            let mut steps = bytes as u64;
            if bytes < DEAR_BYTES {
                let turn = self.cheap.turn(client, steps).await;
                let prepare = Arc::clone(&prepare);
                let tried = calculated(&stop, turn, move |_| {
                    let prepared = prepare()?;
                    let steps = prepared.work().steps();
                    if steps > DEAR_STEPS { Ok(Err(steps)) } else { prepared.run().map(Ok) }
                });
                match tried.await? {
                    Ok(answer) => return Ok(answer),
                    // Read again when its turn comes: text is smaller to keep than what it says.
                    Err(dear) => steps = dear,
                }
            }
            let turn = self.dear.turn(client, steps).await;
            calculated(&stop, turn, move |turn| {
                let prepared = prepare()?;
                // A large body waited for its turn by its size alone.
                turn.charge(prepared.work().steps().saturating_sub(steps));
                prepared.run()
            })
            .await
        };
        let answer = timeout(self.config.calculation_time, done).await.unwrap_or_else(|_| {
            Err(Error::new(
                Code::Timeout,
                format!("no answer within {} s", self.config.calculation_time.as_secs()),
                "ask for less at once, or try again later",
            ))
        });
        unfinished.ended = !matches!(&answer, Err(e) if e.code() == Code::Timeout);
        answer
    }
}

/// The answer to a request that costs less than handing it to another thread.
fn tiny(prepare: impl Fn() -> Result<Prepared, Error>) -> Option<Result<Vec<u8>, Error>> {
    // Nothing outlives a panic here: what is read is dropped.
    let answered = catch_unwind(AssertUnwindSafe(|| match prepare() {
        Ok(prepared) if prepared.work().steps() > Work::TINY.steps() => None,
        Ok(prepared) => Some(prepared.run()),
        Err(e) => Some(Err(e)),
    }));
    answered.unwrap_or_else(|_| Some(Err(Error::internal("the calculation failed"))))
}

/// Runs a part of a calculation on a thread for it.
async fn calculated<T: Send + 'static>(
    stop: &Stop,
    turn: Turn,
    work: impl FnOnce(&Turn) -> Result<T, Error> + Send + 'static,
) -> Result<T, Error> {
    let stop = stop.clone();
    let done = spawn_blocking(move || {
        let done = stoppable(&stop, || {
            checkpoint();
            work(&turn)
        });
        drop(turn);
        done
    });
    match done.await {
        Ok(Ok(answer)) => answer,
        Ok(Err(Stopped)) => Err(Error::new(Code::Timeout, "the calculation was stopped", "")),
        Err(panicked) => Err(Error::internal("the calculation failed").caused_by(panicked)),
    }
}

/// Stops a calculation that nobody waits for any more.
struct Unfinished<'a> {
    stop: Stop,
    shared: &'a Shared,
    ended: bool,
}

impl Drop for Unfinished<'_> {
    fn drop(&mut self) {
        if !self.ended {
            self.stop.stop();
            self.shared.metrics.stopped.inc();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::net::IpAddr;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::sync::mpsc::channel;
    use std::time::{Duration, Instant};

    /// Neither tiny nor dear.
    const CHEAP: u64 = 1_000;

    fn shared(calculations: usize) -> Shared {
        let calculation_time = Duration::from_secs(5);
        Shared::new(Config { calculations, calculation_time, ..Config::default() })
    }

    fn client() -> Client {
        Client::of(IpAddr::from([127, 0, 0, 1]))
    }

    async fn ask(
        shared: &Shared,
        steps: u64,
        run: impl Fn() -> Result<Vec<u8>, Error> + Clone + Send + Sync + 'static,
    ) -> Result<Vec<u8>, Error> {
        let prepare = move || Ok(Prepared::new(Work::of(steps, ""), run.clone()));
        shared.calculate(client(), 10, prepare).await
    }

    #[tokio::test]
    async fn a_panic_is_an_internal_error_and_gives_its_turn_back() {
        let shared = shared(1);
        for steps in [1, CHEAP, 10 * DEAR_STEPS] {
            assert_eq!(ask(&shared, steps, || Ok(vec![7])).await.ok(), Some(vec![7]));
            let broken = ask(&shared, steps, || std::panic::panic_any("test"));
            assert_eq!(broken.await.map_err(|e| e.code()), Err(Code::Internal));
            assert_eq!(ask(&shared, steps, || Ok(vec![8])).await.ok(), Some(vec![8]));
        }
    }

    #[tokio::test]
    async fn a_tiny_calculation_waits_for_no_turn() {
        let shared = shared(1);
        let client = client();
        let turns = [shared.cheap.turn(client, 1).await, shared.dear.turn(client, 1).await];
        let asked = ask(&shared, Work::TINY.steps(), || Ok(vec![1]));
        assert_eq!(
            timeout(Duration::from_millis(20), asked).await.ok().unwrap().ok(),
            Some(vec![1])
        );
        let more = ask(&shared, Work::TINY.steps() + 1, || Ok(vec![2]));
        assert!(timeout(Duration::from_millis(20), more).await.is_err(), "there is no turn left");
        drop(turns);
    }

    #[tokio::test]
    async fn what_nobody_waits_for_stops() {
        static TURNS: AtomicUsize = AtomicUsize::new(0);
        let shared = shared(1);
        for steps in [CHEAP, 10 * DEAR_STEPS] {
            let endless = ask(&shared, steps, || {
                loop {
                    TURNS.fetch_add(1, Ordering::Relaxed);
                    checkpoint();
                }
            });
            assert!(timeout(Duration::from_millis(50), endless).await.is_err());
            // Its turn is free again at once, not when its time is over.
            let started = Instant::now();
            assert_eq!(ask(&shared, steps, || Ok(vec![1])).await.ok(), Some(vec![1]));
            assert!(started.elapsed() < Duration::from_secs(2));
        }
        assert!(TURNS.load(Ordering::Relaxed) > 0);
        assert_eq!(shared.metrics.stopped.get(), 2);
    }

    #[tokio::test]
    async fn time_that_is_over_stops_the_work() {
        let config = Config { calculation_time: Duration::from_millis(50), ..Config::default() };
        let shared = Shared::new(Config { calculations: 1, ..config });
        let endless = ask(&shared, CHEAP, || {
            loop {
                checkpoint();
            }
        });
        assert_eq!(endless.await.map_err(|e| e.code()), Err(Code::Timeout));
        assert_eq!(shared.metrics.stopped.get(), 1);
        assert!(ask(&shared, CHEAP, || Ok(Vec::new())).await.is_ok());
    }

    #[tokio::test]
    async fn dear_calculations_leave_a_turn_to_cheap_ones() {
        let shared = shared(2);
        let (go, going) = channel::<()>();
        let going = Arc::new(Mutex::new(going));
        let begun = Arc::new(AtomicUsize::new(0));
        let seen = Arc::clone(&begun);
        let held = ask(&shared, 10 * DEAR_STEPS, move || {
            seen.fetch_add(1, Ordering::SeqCst);
            let _ = going.lock().map(|going| going.recv());
            Ok(vec![1])
        });
        let second = ask(&shared, 10 * DEAR_STEPS, || Ok(vec![2]));
        tokio::pin!(held, second);
        let moment = Duration::from_millis(30);
        // It has its turn, however busy the machine; without one its time would be over at last.
        while begun.load(Ordering::SeqCst) == 0 {
            assert!(timeout(moment, &mut held).await.is_err());
        }
        assert!(timeout(moment, &mut second).await.is_err(), "one dear calculation at once");
        assert_eq!(ask(&shared, CHEAP, || Ok(vec![3])).await.ok(), Some(vec![3]));
        go.send(()).unwrap();
        assert_eq!(held.await.ok(), Some(vec![1]));
        assert_eq!(second.await.ok(), Some(vec![2]));
    }

    #[tokio::test]
    async fn nothing_is_calculated_for_a_caller_that_left() {
        static DONE: AtomicUsize = AtomicUsize::new(0);
        let shared = shared(1);
        let (go, going) = channel::<()>();
        let going = Arc::new(Mutex::new(going));
        let first = ask(&shared, CHEAP, move || {
            let _ = going.lock().map(|going| going.recv());
            Ok(vec![1])
        });
        let second = ask(&shared, CHEAP, || {
            DONE.fetch_add(1, Ordering::SeqCst);
            Ok(Vec::new())
        });
        tokio::pin!(first);
        let moment = Duration::from_millis(20);
        assert!(timeout(moment, &mut first).await.is_err());
        assert!(timeout(moment, second).await.is_err());
        go.send(()).unwrap();
        assert_eq!(first.await.ok(), Some(vec![1]));
        assert!(ask(&shared, CHEAP, || Ok(Vec::new())).await.is_ok());
        assert_eq!(DONE.load(Ordering::SeqCst), 0);
    }
}
