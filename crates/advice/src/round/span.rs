//! A stretch of time.

use guardcell_reference::parameters::practice as p;
use jiff::{SignedDuration, Timestamp};

/// A stretch of time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Span {
    pub(super) start: Timestamp,
    pub(super) end: Timestamp,
}

impl Span {
    pub(super) fn meet(self, other: Self) -> Self {
        Self { start: self.start.max(other.start), end: self.end.min(other.end) }
    }

    /// Minutes from start to end; negative where it ends before it starts.
    pub(super) fn minutes(self) -> f64 {
        self.end.duration_since(self.start).as_secs_f64() / 60.0
    }

    /// Long enough to walk round in.
    pub(super) fn is_workable(self) -> bool {
        self.minutes() >= p::WINDOW_LEAST.minutes()
    }

    /// Whether it is over within so many hours from a moment.
    pub(super) fn ends_within(self, hours: f64, from: Timestamp) -> bool {
        self.end.duration_since(from) <= SignedDuration::from_secs_f64(hours * 3600.0)
    }
}
