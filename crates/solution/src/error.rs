//! What can be wrong with a question put to this crate.

use guardcell_reference::Solute;

/// Why an answer cannot be given. Every message says what was wrong and what would be right.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SolutionError {
    /// A total is negative, not finite, or beyond what the model can hold.
    #[error("{}: {value} mmol/L; a total should be a finite number from 0 to {limit}", solute.name())]
    Total {
        /// The solute at fault.
        solute: Solute,
        /// The total given, in mmol/L.
        value: f64,
        /// The largest total taken, in mmol/L.
        limit: f64,
    },
    /// The temperature lies outside the range of the constants.
    #[error("{value} °C; the constants hold from {low} to {high} °C")]
    Temperature {
        /// The temperature given, in °C.
        value: f64,
        /// The lowest temperature taken, in °C.
        low: f64,
        /// The highest temperature taken, in °C.
        high: f64,
    },
    /// The pH is not a pH.
    #[error("pH {value}; it should be a number from 0 to 14")]
    Ph {
        /// The pH given.
        value: f64,
    },
    /// The partial pressure of carbon dioxide is not usable.
    #[error("partial pressure of CO2 {value} atm; it should be more than 0 and at most 1 atm")]
    CarbonDioxide {
        /// The partial pressure given, in atm.
        value: f64,
    },
    /// The totals are so far out of charge balance that no pH between 0 and 14 balances them.
    #[error(
        "{} exceed {} by {excess} mmol/L of charge and no pH from 0 to 14 balances that; \
         complete the analysis or state the pH",
        if *excess_is_cations { "cations" } else { "anions" },
        if *excess_is_cations { "anions" } else { "cations" }
    )]
    Unbalanced {
        /// The charge in excess at pH 7, in mmol/L.
        excess: f64,
        /// Whether the cations are in excess.
        excess_is_cations: bool,
    },
    /// The same field is given twice, in two units.
    #[error("{pointer}: {message}")]
    Request {
        /// JSON Pointer to the fault.
        pointer: String,
        /// What is wrong and what would be right.
        message: String,
    },
    /// The equations were not solved; no composition is known for which this happens.
    #[error(
        "the equilibrium was not found (residual {residual:e}); please report this composition"
    )]
    NotConverged {
        /// The relative residual that was left.
        residual: f64,
    },
}
