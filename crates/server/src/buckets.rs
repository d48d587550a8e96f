//! How often somebody may do something: a number at once, and more as time goes on.

use std::collections::HashMap;
use std::hash::Hash;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// So many at once, and another after each `every`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Rate {
    pub(crate) at_once: u32,
    pub(crate) every: Duration,
}

/// Keys that are remembered; beyond them those that have everything left are forgotten.
const REMEMBERED: usize = 1024;

/// What each key has left.
pub(crate) struct Buckets<K> {
    rate: Rate,
    left: Mutex<HashMap<K, Bucket>>,
}

#[derive(Clone, Copy)]
struct Bucket {
    /// How much time was used up that has not passed yet.
    used: Duration,
    at: Instant,
}

impl<K: Eq + Hash> Buckets<K> {
    pub(crate) fn new(rate: Rate) -> Self {
        Self { rate, left: Mutex::new(HashMap::new()) }
    }

    /// Takes one, or says how long to wait for it.
    pub(crate) fn take(&self, key: K, now: Instant) -> Result<(), Duration> {
        let mut left = self.left.lock().unwrap_or_else(PoisonError::into_inner);
        let Rate { at_once, every } = self.rate;
        if left.len() >= REMEMBERED && !left.contains_key(&key) {
            left.retain(|_, b| !b.used_by(now).is_zero());
            // A flood of keys that have all just been used: one more is too many.
            if left.len() >= 4 * REMEMBERED {
                return Err(every);
            }
        }
        let bucket = left.entry(key).or_insert(Bucket { used: Duration::ZERO, at: now });
        let used = bucket.used_by(now);
        let most = every * at_once;
        if used + every > most {
            return Err(used + every - most);
        }
        *bucket = Bucket { used: used + every, at: now };
        Ok(())
    }

    /// Whether one could be taken, or how long to wait for it.
    pub(crate) fn look(&self, key: &K, now: Instant) -> Result<(), Duration> {
        let left = self.left.lock().unwrap_or_else(PoisonError::into_inner);
        let Rate { at_once, every } = self.rate;
        let used = left.get(key).map_or(Duration::ZERO, |b| b.used_by(now));
        match (used + every).checked_sub(every * at_once) {
            Some(over) if !over.is_zero() => Err(over),
            _ => Ok(()),
        }
    }

    /// Gives one back that was taken.
    pub(crate) fn give_back(&self, key: &K) {
        let mut left = self.left.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(bucket) = left.get_mut(key) {
            bucket.used = bucket.used.saturating_sub(self.rate.every);
        }
    }
}

impl Bucket {
    fn used_by(&self, now: Instant) -> Duration {
        self.used.saturating_sub(now.saturating_duration_since(self.at))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SECOND: Duration = Duration::from_secs(1);

    #[test]
    fn some_at_once_then_one_after_the_other() {
        let buckets = Buckets::new(Rate { at_once: 3, every: 10 * SECOND });
        let start = Instant::now();
        for _ in 0..3 {
            assert_eq!(buckets.take("a", start), Ok(()));
        }
        assert_eq!(buckets.take("a", start), Err(10 * SECOND));
        assert_eq!(buckets.look(&"a", start + 4 * SECOND), Err(6 * SECOND));
        assert_eq!(buckets.take("b", start), Ok(()), "others have their own");
        assert_eq!(buckets.take("a", start + 10 * SECOND), Ok(()));
        assert_eq!(buckets.take("a", start + 10 * SECOND), Err(10 * SECOND));
        buckets.give_back(&"a");
        assert_eq!(buckets.look(&"a", start + 10 * SECOND), Ok(()));
        assert_eq!(buckets.take("a", start + 10 * SECOND), Ok(()));
        // After a long time no more than so many at once.
        let late = start + 1000 * SECOND;
        assert_eq!((0..9).filter(|_| buckets.take("a", late).is_ok()).count(), 3);
    }

    #[test]
    fn memory_does_not_grow_with_keys() {
        let buckets = Buckets::new(Rate { at_once: 1, every: SECOND });
        let start = Instant::now();
        let taken = (0..20_000_u32).filter(|key| buckets.take(*key, start).is_ok()).count();
        assert_eq!(taken, 4 * REMEMBERED);
        assert!(buckets.take(7_000_000, start + SECOND).is_ok());
        assert_eq!(buckets.left.lock().unwrap().len(), 1);
    }
}
