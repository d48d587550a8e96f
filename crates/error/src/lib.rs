//! The one error of guardcell.
//!
//! Every crate returns [`Error`]. It says what kind of fault it is ([`Code`]), where in a request
//! (`pointer`) or a file ([`Place`]), what is wrong (`detail`) and what would be right (`hint`).
//! A face (terminal, HTTP, a binding) maps these fields; no code reads a message again.
//!
//! ```
//! use guardcell_error::{Code, Error};
//!
//! let error = Error::new(Code::OutOfRange, "140 % is out of range", "give 0 to 100 %")
//!     .at("/rh_percent")
//!     .within("/readings/3");
//! assert_eq!(error.pointer(), "/readings/3/rh_percent");
//! assert_eq!(error.code().as_str(), "out-of-range");
//! assert_eq!(error.field(), Some("rh_percent".to_owned()));
//! ```

mod code;
mod error;
mod escape;
mod lines;
mod place;
pub mod pointer;

pub use code::Code;
pub use error::Error;
pub use escape::{escape_control, excerpt, is_hidden};
pub use lines::Lines;
pub use place::Place;
