//! Errors of the crates below, seen from a request for advice.

use guardcell_error::{Code, Error};

/// An error of a part of the request, at its pointer.
pub(crate) fn below(
    pointer: &str,
    error: impl core::error::Error + Send + Sync + 'static,
) -> Error {
    Error::new(Code::OutOfRange, error.to_string(), "").at(pointer).caused_by(error)
}
