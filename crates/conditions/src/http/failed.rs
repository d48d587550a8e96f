//! A try that failed.

use crate::error::FetchFault;
use std::time::Duration;

/// Why a try failed, and whether another may help.
pub(super) struct Failed {
    pub(super) fault: FetchFault,
    pub(super) again: bool,
    /// What the service asks to wait.
    pub(super) wait: Option<Duration>,
}

impl Failed {
    pub(super) const fn last(fault: FetchFault) -> Self {
        Self { fault, again: false, wait: None }
    }
}
