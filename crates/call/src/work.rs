//! Work: what a call costs, stated before it starts, and how it is stopped on the way.
//!
//! The cost is counted in steps, never in time: the same request costs the same everywhere. A face
//! that has a clock stops a calculation through [`Stop`]; the calculation looks at it in its loops
//! ([`checkpoint`]) and unwinds. A calculation is pure, so that nothing is left half done.

use guardcell_error::{Code, Error};
use std::cell::RefCell;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// How much a call has to do, at most: an estimate from the sizes in the request.
///
/// One step is about a microsecond on a small machine of 2024. The changed requests of `tests/fuzz`
/// hold in an optimised build that it is five at most; nothing depends on how exact that is.
///
/// ```
/// use guardcell_call::Work;
/// let work = Work::of(2_000 * 168, "plants × hours");
/// assert!(work.check().is_ok());
/// let error = Work::of(10 * Work::MOST, "plants × hours").check().unwrap_err();
/// assert!(error.hint().contains("plants × hours"));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Work {
    steps: u64,
    bytes: u64,
    grows_with: &'static str,
}

impl Work {
    /// The most steps that one request may ask for.
    pub const MOST: u64 = 20_000_000;

    /// The most memory that one request may take with its answer, bytes.
    pub const MOST_BYTES: u64 = 224 << 20;

    /// Less than it costs to hand it to another thread: a conversion, a name that is listed.
    pub const TINY: Self = Self::of(50, "");

    /// A fixed small amount: a misspelt name, one equilibrium, one film.
    pub const SMALL: Self = Self::of(1_000, "");

    /// So many steps, and the sizes of the request that they grow with, for the refusal.
    #[must_use]
    pub const fn of(steps: u64, grows_with: &'static str) -> Self {
        Self { steps, bytes: 0, grows_with }
    }

    /// With the memory that the request, the calculation and the answer take together.
    #[must_use]
    pub const fn holding(self, bytes: u64) -> Self {
        Self { bytes, ..self }
    }

    /// The steps.
    #[must_use]
    pub const fn steps(self) -> u64 {
        self.steps
    }

    /// Refuses more work than [`Work::MOST`] or more memory than [`Work::MOST_BYTES`].
    ///
    /// # Errors
    /// [`Code::TooMany`] with the limit and what to make smaller.
    pub fn check(self) -> Result<(), Error> {
        let mib = |bytes: u64| bytes >> 20;
        let detail = if self.steps > Self::MOST {
            format!("this is {} steps of work; the limit is {}", self.steps, Self::MOST)
        } else if self.bytes > Self::MOST_BYTES {
            let limit = mib(Self::MOST_BYTES);
            format!("this takes about {} MiB of memory; the limit is {limit} MiB", mib(self.bytes))
        } else {
            return Ok(());
        };
        let hint = format!("ask for less at once: the work grows with {}", self.grows_with);
        Err(Error::new(Code::TooMany, detail, hint))
    }
}

/// Stops a calculation from outside: cloned to whoever may stop it.
#[derive(Clone, Debug, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Stops the calculation at its next checkpoint.
    pub fn stop(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether it is to stop.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// The calculation was stopped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stopped;

thread_local! {
    /// What stops the calculation of this thread.
    static CURRENT: RefCell<Option<Stop>> = const { RefCell::new(None) };
}

/// Runs a calculation that ends at its next [`checkpoint`] once `stop` is set.
///
/// Unwinding carries the stop out, so that loops deep in the models need no other return type; a
/// program that is built to abort on panic must not stop calculations.
///
/// # Errors
/// [`Stopped`] if it did not run to its end.
///
/// ```
/// use guardcell_call::work::{Stop, Stopped, checkpoint, stoppable};
/// let stop = Stop::default();
/// assert_eq!(stoppable(&stop, || 7), Ok(7));
/// stop.stop();
/// assert_eq!(stoppable(&stop, || loop { checkpoint() }), Err::<(), _>(Stopped));
/// ```
pub fn stoppable<T>(stop: &Stop, calculation: impl FnOnce() -> T) -> Result<T, Stopped> {
    let outer = CURRENT.with(|current| current.replace(Some(stop.clone())));
    // Nothing that the calculation borrows mutably is seen again after it unwound.
    let done = catch_unwind(AssertUnwindSafe(calculation));
    CURRENT.with(|current| current.replace(outer));
    done.or_else(|cause| if cause.is::<Stopped>() { Err(Stopped) } else { resume_unwind(cause) })
}

/// Ends the calculation here if it is to stop. It belongs in every loop whose length a request
/// decides, and costs a nanosecond or two.
#[inline]
pub fn checkpoint() {
    let stopped = CURRENT.with(|current| {
        // Never borrowed mutably but for the moment of a replacement.
        current.try_borrow().is_ok_and(|stop| stop.as_ref().is_some_and(Stop::is_stopped))
    });
    if stopped {
        resume_unwind(Box::new(Stopped));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stop_ends_only_its_own_calculation() {
        let (outer, inner) = (Stop::default(), Stop::default());
        inner.stop();
        let answer = stoppable(&outer, || {
            let cut = stoppable(&inner, || {
                checkpoint();
                1
            });
            checkpoint();
            (cut, 2)
        });
        assert_eq!(answer, Ok((Err(Stopped), 2)));
        checkpoint(); // outside any calculation nothing stops
    }

    #[test]
    fn another_panic_goes_on() {
        let broken = std::panic::catch_unwind(|| {
            stoppable(&Stop::default(), || std::panic::resume_unwind(Box::new("broken")))
        });
        assert!(broken.is_err());
    }

    #[test]
    fn the_limit_is_named() {
        assert!(Work::SMALL.check().is_ok() && Work::of(Work::MOST, "x").check().is_ok());
        let error = Work::of(Work::MOST + 1, "plants × hours").check().unwrap_err();
        assert_eq!(error.code(), Code::TooMany);
        assert!(error.detail().contains("20000000"), "{error}");
    }
}
