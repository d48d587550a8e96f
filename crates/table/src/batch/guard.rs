//! A row that breaks the program costs that row.

use guardcell::Error;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Answers a row; a panic is an error of it.
pub(super) fn guarded<R>(answer: impl FnOnce() -> Result<R, Error>) -> Result<R, Error> {
    // What is calculated for one row is dropped with it.
    catch_unwind(AssertUnwindSafe(answer))
        .unwrap_or_else(|_| Err(Error::internal("the row could not be processed")))
}
