//! Checks of guardcell against sources outside the project; the checks are in `tests/tests/`.

/// The Rust examples of the guide compile and run.
#[cfg(doctest)]
#[doc = include_str!("../../docs/guide/src/embedding.md")]
pub struct Embedding;
