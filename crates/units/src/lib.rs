//! Typed quantities of plant feeding.
//!
//! Physical quantities are [`uom`] quantities (see [`quantity`] for the ones used here). On top of
//! them stands [`Of<B>`](basis::Of): a mass concentration *as* a basis `B` (as N, as P2O5, as
//! CaCO3 …), so that a label's oxide figure can never be added to an elemental one by mistake.
//!
//! ```
//! use guardcell_units::basis::{Of, P, P2O5};
//! let label = Of::<P2O5>::from_mg_per_l(120.0);
//! assert!((label.to::<P>().mg_per_l() - 52.37).abs() < 0.01);
//! ```
//!
//! Two bases do not mix:
//!
//! ```compile_fail
//! use guardcell_units::basis::{Of, P, P2O5};
//! let sum = Of::<P>::from_mg_per_l(1.0) + Of::<P2O5>::from_mg_per_l(1.0);
//! ```
pub use uom;

pub mod atomic_weight;
pub mod basis;
pub mod formula;
pub mod quantity;
