//! Feeding plants through the leaf: when, how strong, and why.
//!
//! This is the one crate that other programs embed. Everything in it is pure: no I/O, no clock, no
//! randomness, no threads. Time, place and air come in with the request, and the same request
//! always gives the same answer, with its reasons and their sources.
//!
//! # A tour
//!
//! Quantities as growers and labels write them:
//!
//! ```
//! use guardcell::units::{ConvertRequest, convert};
//!
//! let answer = convert(&ConvertRequest::new("120 ppm P2O5", "ppm P"))?;
//! assert_eq!(answer.message, "120 mg/L P2O5 = 52.371 mg/L P");
//! # Ok::<(), guardcell::Error>(())
//! ```
//!
//! When a plant opens its stomata, and who measured it:
//!
//! ```
//! use guardcell::reference::{GenusRequest, report};
//!
//! let answer = report(&GenusRequest::new("Cattleya labiata"))?;
//! assert_eq!(answer.name.as_deref(), Some("Cattleya labiata"));
//! # Ok::<(), guardcell::Error>(())
//! ```
//!
//! Moist air, drying films, daylight, labels, water, recipes and meters are in [`film`], [`clock`]
//! and [`solution`]; [`advice`] weighs all of them for each plant of a collection.
//!
//! # By name, with JSON
//!
//! Each function that other programs need is a [`Call`]: a name, a request, a response, a
//! description and an example. [`calls::ALL`] lists them; [`call`] answers one by its name, which
//! is all that a binding to another language needs:
//!
//! ```
//! let answer = guardcell::call("air", r#"{"temp_c": 22, "rh_percent": 65}"#)?;
//! assert!(answer.contains("\"dew_point_c\":"));
//! # Ok::<(), guardcell::Error>(())
//! ```
//!
//! # Errors
//!
//! Every function fails with one type, [`Error`]: a [`Code`] for programs, a JSON Pointer to the
//! fault in the request, what is wrong and what would be right.
//!
//! ```
//! let error = guardcell::call("convert", r#"{"quantity": "300 ppm", "to": "mg/L"}"#).unwrap_err();
//! assert_eq!(error.code(), guardcell::Code::AmbiguousPpm);
//! assert_eq!(error.pointer(), "/quantity");
//! ```
//!
//! # Features
//!
//! * `schema` (default): JSON Schemas of requests and responses; faults of form are explained from
//!   them.
//! * `tzdb` (default): the IANA time zone database, compiled in. Without it time zones are read
//!   from the system, which `wasm32-unknown-unknown` does not have.

pub mod calls;
mod request;

pub use calls::call;
pub use guardcell_call::{Bound, Bounded, Call, work};
#[doc(inline)]
pub use guardcell_error::{Code, Error, Lines, Place, escape_control, excerpt, is_hidden, pointer};
pub use request::{MAX_DEPTH, Readable, read_request};

#[doc(inline)]
pub use guardcell_advice as advice;
#[doc(inline)]
pub use guardcell_clock as clock;
#[doc(inline)]
pub use guardcell_film as film;
#[doc(inline)]
pub use guardcell_ledger as ledger;
#[doc(inline)]
pub use guardcell_reference as reference;
#[doc(inline)]
pub use guardcell_solution as solution;
#[doc(inline)]
pub use guardcell_units as units;

/// Dates and times; the types in this crate's interface are from here.
pub use jiff;
/// Physical quantities; the types in this crate's interface are from here.
pub use uom;
