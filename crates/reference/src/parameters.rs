//! Scalar parameters of the models, each with its unit, range and source.
//!
//! ```
//! use guardcell_reference::parameters::practice;
//! let p = practice::STRENGTH_ROOTLESS;
//! assert_eq!(p.unit, "mg/L");
//! ```

/// What a parameter rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// A published measurement or model; the sources name it.
    Published,
    /// A standard.
    Standard,
    /// What growers do; no source is known.
    CommonPractice,
    /// Entered from memory, not yet checked against the work.
    FromMemory,
    /// Fitted by a program of this repository to stated check values.
    Calibrated,
}

impl Basis {
    /// The words used in the tables.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::Standard => "standard",
            Self::CommonPractice => "common practice, no source",
            Self::FromMemory => "from memory",
            Self::Calibrated => "calibrated",
        }
    }
}

/// One number with what it means and where it is from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parameter {
    /// The key in the table.
    pub key: &'static str,
    /// The number, in `unit`.
    pub value: f64,
    /// The unit as a UCUM code.
    pub unit: &'static str,
    /// The low end of its uncertainty or validity.
    pub low: Option<f64>,
    /// The high end of its uncertainty or validity.
    pub high: Option<f64>,
    /// What it rests on.
    pub basis: Basis,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// What it means, in words.
    pub note: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/parameters.rs"));
