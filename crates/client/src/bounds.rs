//! Limits of every call.

use std::time::Duration;

/// Limits of every call.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bounds {
    pub(crate) connect: Duration,
    pub(crate) timeout: Duration,
    pub(crate) most_bytes: u64,
    pub(crate) retries: u32,
    pub(crate) longest_wait: Duration,
}
