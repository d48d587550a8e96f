//! A file with the wrong content.

use guardcell::{Code, Error};

/// The error, in the file of this name.
pub(crate) fn bad_file(name: &str, detail: impl Into<String>, hint: impl Into<String>) -> Error {
    Error::new(Code::MalformedFile, detail, hint).in_file(name)
}

/// An answer or an argument that cannot be used.
pub(crate) fn answer(name: &str, detail: impl Into<String>, hint: impl Into<String>) -> Error {
    Error::new(Code::Usage, detail, hint).of_argument(name)
}
