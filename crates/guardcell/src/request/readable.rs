//! What can be read as a request.

use serde::de::DeserializeOwned;

/// What [`read_request`](crate::read_request) reads: with the feature `schema` the type has a JSON Schema, from which
/// faults of form are explained.
#[cfg(feature = "schema")]
pub trait Readable: DeserializeOwned + schemars::JsonSchema + 'static {}
#[cfg(feature = "schema")]
impl<T: DeserializeOwned + schemars::JsonSchema + 'static> Readable for T {}

/// What [`read_request`](crate::read_request) reads.
#[cfg(not(feature = "schema"))]
pub trait Readable: DeserializeOwned + 'static {}
#[cfg(not(feature = "schema"))]
impl<T: DeserializeOwned + 'static> Readable for T {}
