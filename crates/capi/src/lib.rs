//! guardcell for C, and for every language that calls C: each call of the registry by its name, a
//! request as JSON in, an answer as JSON out.
//!
//! The header is `guardcell.h`, made by cbindgen with `cargo xtask header`; a test holds that it is
//! current. No panic crosses the border, null pointers and text that is not UTF-8 are refused like
//! any other fault, and the functions may be called from any thread at the same time.

mod answer;
mod border;

pub use border::{
    ANSWER, FAULT, NO_PLACE, REFUSED, guardcell_call, guardcell_free, guardcell_version,
};
