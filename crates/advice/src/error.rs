//! Errors of the crates below, seen from a request for advice.

use guardcell_error::Error;

/// An error of a part of the request, at the pointer of that part.
pub(crate) fn below(pointer: &str, error: Error) -> Error {
    error.at(pointer)
}
