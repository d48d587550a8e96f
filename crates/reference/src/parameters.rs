//! Scalar parameters of the models, each with its unit, range and source.
//!
//! The unit of a parameter is part of its type, so a number cannot be read in another unit:
//!
//! ```
//! # mod guardcell { pub mod reference { pub use guardcell_reference::*; } pub mod units { pub use guardcell_units::*; } }
//! use guardcell::reference::parameters::practice;
//! let strength = practice::STRENGTH_ROOTLESS;
//! assert_eq!((strength.mg_per_l(), strength.unit), (50.0, "mg/L"));
//! assert_eq!(strength.quantity(), guardcell::units::quantity::mg_per_l(50.0));
//! ```
//!
//! ```compile_fail
//! # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
//! guardcell::reference::parameters::practice::STRENGTH_ROOTLESS.minutes();
//! ```

use crate::words::words;
use core::marker::PhantomData;

words! {
    /// What a parameter rests on.
    Basis {
        /// A published measurement or model; the sources name it.
        Published = "published",
        /// A standard.
        Standard = "standard",
        /// What growers do; no source is known.
        CommonPractice = "common practice, no source",
        /// Entered from memory, not yet checked against the work.
        FromMemory = "from memory",
        /// Fitted by a program of this repository to stated check values.
        Calibrated = "calibrated",
    }
}

/// The unit of a parameter in a list of parameters with different units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Any {}

/// One number with its meaning and source. `U` is its unit, one of [`mod@unit`].
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Parameter<U = Any> {
    /// The key in the table.
    pub key: &'static str,
    value: f64,
    /// The unit as a UCUM code.
    pub unit: &'static str,
    low: Option<f64>,
    high: Option<f64>,
    /// What it rests on.
    pub basis: Basis,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// What it means, in words.
    pub note: &'static str,
    marker: PhantomData<U>,
}

impl<U> Parameter<U> {
    /// The parameter without the type of its unit, for lists of parameters with different units.
    #[must_use]
    pub const fn any(&self) -> Parameter {
        Parameter {
            key: self.key,
            value: self.value,
            unit: self.unit,
            low: self.low,
            high: self.high,
            basis: self.basis,
            sources: self.sources,
            note: self.note,
            marker: PhantomData,
        }
    }
}

impl Parameter {
    /// The number, in `unit`.
    #[must_use]
    pub const fn number(self) -> f64 {
        self.value
    }

    /// The low and the high end of its uncertainty or validity, in `unit`, where they are known.
    #[must_use]
    pub const fn range(self) -> (Option<f64>, Option<f64>) {
        (self.low, self.high)
    }
}

include!(concat!(env!("OUT_DIR"), "/parameters.rs"));
