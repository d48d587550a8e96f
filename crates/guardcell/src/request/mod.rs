//! Reading requests from JSON, for every face alike.

mod depth;
mod explain;
#[cfg(any(feature = "schema", feature = "forms"))]
mod fault;
#[cfg(any(feature = "schema", feature = "forms"))]
mod form;
#[cfg(feature = "forms")]
#[cfg_attr(feature = "schema", allow(dead_code, reason = "the schemas of types come first"))]
mod forms;
mod place;
mod readable;
mod scalars;
#[cfg(feature = "schema")]
mod schemas;
mod strict;
mod twice;

use guardcell_error::{Code, Error};
pub use readable::Readable;
use strict::Strict;

/// The deepest nesting of arrays and objects that a request may have.
pub const MAX_DEPTH: usize = 32;

/// Reads a request from JSON.
///
/// # Errors
/// [`Code::MalformedJson`] with line and column; [`Code::TooDeep`]; [`Code::WrongForm`] with the
/// pointer of the first fault.
///
/// ```
/// use guardcell::film::AirRequest;
/// let good: AirRequest = guardcell::read_request(br#"{"temp_c": 20, "rh_percent": 70}"#)?;
/// assert_eq!(good.temp_c, 20.0);
/// let bad = guardcell::read_request::<AirRequest>(br#"{"temp_c": "warm", "rh_percent": 70}"#);
/// let error = bad.unwrap_err();
/// assert_eq!((error.code(), error.pointer()), (guardcell::Code::WrongForm, "/temp_c"));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn read_request<T: Readable>(json: &[u8]) -> Result<T, Error> {
    read(json, None)
}

/// The same, for a request of the call with this name.
pub(crate) fn read<T: Readable>(json: &[u8], call: Option<&str>) -> Result<T, Error> {
    if depth::exceeds(json, MAX_DEPTH) {
        return Err(Error::new(
            Code::TooDeep,
            format!("the JSON is nested more than {MAX_DEPTH} levels deep"),
            "send a request as its schema describes it",
        ));
    }
    place::begin();
    let mut reader = serde_json::Deserializer::from_slice(json);
    T::deserialize(Strict(&mut reader))
        .and_then(|request| reader.end().map(|()| request))
        .map_err(|e| explain::explain::<T>(json, &e, call))
}
