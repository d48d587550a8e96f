//! How often strangers and devices may ask for the journal.

use crate::buckets::{Buckets, Rate};
use crate::lane::Client;
use std::time::Duration;

/// Wrong pairing codes of one address.
const CODES: Rate = Rate { at_once: 5, every: Duration::from_secs(60) };
/// Wrong pairing codes of all addresses: 90 in the ten minutes of a code, of 6·10¹³ that there are.
const ALL_CODES: Rate = Rate { at_once: 30, every: Duration::from_secs(10) };
/// Wrong tokens of one address.
const TOKENS: Rate = Rate { at_once: 30, every: Duration::from_secs(5) };
/// Requests of one device.
const REQUESTS: Rate = Rate { at_once: 120, every: Duration::from_millis(250) };
/// How long a wrong code waits for its answer.
pub(crate) const SLOWED: Duration = Duration::from_millis(500);

/// What is left of each limit.
pub(crate) struct Limits {
    pub(crate) codes: Buckets<Client>,
    pub(crate) all_codes: Buckets<()>,
    pub(crate) tokens: Buckets<Client>,
    pub(crate) requests: Buckets<String>,
}

impl Limits {
    pub(crate) fn new() -> Self {
        Self {
            codes: Buckets::new(CODES),
            all_codes: Buckets::new(ALL_CODES),
            tokens: Buckets::new(TOKENS),
            requests: Buckets::new(REQUESTS),
        }
    }
}
