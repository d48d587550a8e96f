//! Turns to calculate, shared fairly between clients: whoever had the least work so far is next.

use std::collections::{HashMap, VecDeque};
use std::net::{IpAddr, Ipv6Addr};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use tokio::sync::oneshot;

/// Who asks, as far as an address tells. A network of IPv6 hands out whole prefixes of 64 bits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Client(IpAddr);

impl Client {
    pub(crate) fn of(address: IpAddr) -> Self {
        Self(match address.to_canonical() {
            IpAddr::V6(v6) => {
                let prefix = v6.to_bits() & !u128::from(u64::MAX);
                IpAddr::V6(Ipv6Addr::from_bits(prefix))
            }
            v4 => v4,
        })
    }
}

/// So many calculations at once, and the queue for them.
#[derive(Clone)]
pub(crate) struct Lane(Arc<Mutex<Queue>>);

struct Queue {
    free: usize,
    /// The work done by the client served last when it was served: where a newcomer begins.
    now: u64,
    clients: HashMap<Client, Waiting>,
}

#[derive(Default)]
struct Waiting {
    /// Work done for this client, in steps.
    done: u64,
    queue: VecDeque<(u64, oneshot::Sender<Turn>)>,
}

/// The right to calculate; the next in the queue gets it when it is dropped.
pub(crate) struct Turn(Option<(Lane, Client)>);

impl Lane {
    pub(crate) fn new(at_once: usize) -> Self {
        let queue = Queue { free: at_once.max(1), now: 0, clients: HashMap::new() };
        Self(Arc::new(Mutex::new(queue)))
    }

    fn lock(&self) -> MutexGuard<'_, Queue> {
        // Nothing in here can panic half way.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Waits for a turn to do so much work.
    pub(crate) async fn turn(&self, client: Client, steps: u64) -> Turn {
        let wait = {
            let mut queue = self.lock();
            if queue.free > 0 {
                queue.free -= 1;
                queue.serve(client, steps);
                return Turn(Some((self.clone(), client)));
            }
            let (give, wait) = oneshot::channel();
            let now = queue.now;
            let waiting = queue.clients.entry(client).or_default();
            // Whoever left waits for nothing: the queue is no longer than its callers are many.
            waiting.queue.retain(|(_, give)| !give.is_closed());
            if waiting.queue.is_empty() {
                waiting.done = waiting.done.max(now);
            }
            waiting.queue.push_back((steps, give));
            wait
        };
        // The sender is dropped only with the lane, which this holds.
        wait.await.unwrap_or(Turn(None))
    }

    /// Gives a turn that is over to the next client.
    fn pass_on(&self) {
        let mut queue = self.lock();
        while let Some((client, steps, give)) = queue.next() {
            let Err(mut unwanted) = give.send(Turn(Some((self.clone(), client)))) else {
                queue.serve(client, steps);
                return;
            };
            // Its client left: the turn stays here.
            unwanted.0 = None;
        }
        queue.free += 1;
    }
}

impl Queue {
    fn serve(&mut self, client: Client, steps: u64) {
        let now = self.now;
        let waiting = self.clients.entry(client).or_default();
        let begun = waiting.done.max(now);
        waiting.done = begun + steps.max(1);
        self.now = begun;
        // Clients that neither wait nor are ahead of the others are like new ones.
        if self.clients.len() > 64 {
            self.clients.retain(|_, w| !w.queue.is_empty() || w.done > begun);
        }
    }

    /// Whoever waits with the least work done.
    fn next(&mut self) -> Option<(Client, u64, oneshot::Sender<Turn>)> {
        let (client, waiting) = self
            .clients
            .iter_mut()
            .filter(|(_, w)| !w.queue.is_empty())
            .min_by_key(|(_, w)| w.done)?;
        let (steps, give) = waiting.queue.pop_front()?;
        Some((*client, steps, give))
    }
}

impl Turn {
    /// Counts work that was not known when the turn was asked for.
    pub(crate) fn charge(&self, steps: u64) {
        if let Some((lane, client)) = &self.0 {
            lane.lock().clients.entry(*client).or_default().done += steps;
        }
    }
}

impl Drop for Turn {
    fn drop(&mut self) {
        if let Some((lane, _)) = self.0.take() {
            lane.pass_on();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;
    use tokio::time::timeout;

    fn client(last: u8) -> Client {
        Client::of(IpAddr::from([127, 0, 0, last]))
    }

    #[test]
    fn addresses_of_one_network_are_one_client() {
        let of = |text: &str| Client::of(text.parse().unwrap());
        assert_eq!(of("2001:db8:1:2::1"), of("2001:db8:1:2:ffff::9"));
        assert_ne!(of("2001:db8:1:2::1"), of("2001:db8:1:3::1"));
        assert_eq!(of("::ffff:10.0.0.1"), of("10.0.0.1"));
        assert_ne!(of("10.0.0.1"), of("10.0.0.2"));
    }

    #[tokio::test]
    async fn work_found_out_later_counts() {
        let lane = Lane::new(1);
        drop(lane.turn(client(2), 500).await);
        let first = lane.turn(client(1), 10).await;
        first.charge(1_000);
        let (served, mut order) = tokio::sync::mpsc::unbounded_channel();
        for who in [1, 2] {
            let (lane, served) = (lane.clone(), served.clone());
            tokio::spawn(async move {
                let turn = lane.turn(client(who), 10).await;
                served.send(who).unwrap();
                drop(turn);
            });
            tokio::task::yield_now().await;
        }
        drop(first);
        assert_eq!((order.recv().await, order.recv().await), (Some(2), Some(1)));
    }

    #[tokio::test]
    async fn a_client_with_many_dear_requests_does_not_hold_up_another() {
        let lane = Lane::new(1);
        let first = lane.turn(client(1), 1000).await;
        let (told, mut order) = tokio::sync::mpsc::unbounded_channel();
        let ask = |who: u8, steps: u64| {
            let (lane, told) = (lane.clone(), told.clone());
            tokio::spawn(async move {
                let turn = lane.turn(client(who), steps).await;
                told.send(who).unwrap();
                drop(turn);
            })
        };
        for _ in 0..5 {
            ask(1, 1000);
            tokio::task::yield_now().await;
        }
        for _ in 0..3 {
            ask(2, 10);
            tokio::task::yield_now().await;
        }
        drop(first);
        let mut seen = Vec::new();
        for _ in 0..8 {
            seen.push(order.recv().await.unwrap());
        }
        assert_eq!(seen, [2, 2, 2, 1, 1, 1, 1, 1]);
        assert_eq!(lane.lock().free, 1);
    }

    #[tokio::test]
    async fn a_client_that_left_takes_no_turn() {
        let lane = Lane::new(1);
        let first = lane.turn(client(1), 1).await;
        let moment = Duration::from_millis(10);
        assert!(timeout(moment, lane.turn(client(2), 1)).await.is_err());
        drop(first);
        assert_eq!(lane.lock().free, 1);
        assert!(timeout(moment, lane.turn(client(3), 1)).await.is_ok());
    }
}
