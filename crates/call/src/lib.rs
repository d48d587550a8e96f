//! What a call of guardcell is.
//!
//! A crate that offers a function to other programs implements [`Call`] for a unit struct beside
//! it; the facade lists it once, and every face (command line, HTTP, client, batch, schemas,
//! bindings) follows from that line. [`bounds!`] declares the range of each field beside the type:
//! the same declaration is checked before work starts and written into the schema. [`setters!`]
//! declares the methods by which a request is built, [`words!`] the words of an enum.

mod bound;
mod call;
#[cfg(feature = "schema")]
pub mod schema;
mod setters;
mod words;
pub mod work;

pub use bound::{Bound, Bounded, Limited};
pub use call::{Call, Group, Wire};
pub use guardcell_error::Error;
pub use work::{Work, checkpoint};
