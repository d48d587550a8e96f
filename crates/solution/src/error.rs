//! What can be wrong with a label, a water report or a request, and what would be right.

use core::fmt;
use guardcell_reference::Solute;

/// Where in the input a fault lies.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Place {
    /// No single place: the input as a whole.
    #[default]
    Whole,
    /// A line and column of text, both counted from 1.
    Line {
        /// The line, from 1.
        line: usize,
        /// The column in characters, from 1.
        column: usize,
    },
    /// A JSON Pointer (RFC 6901) into the request, such as `/targets/0/mg_l`.
    Pointer(String),
}

impl Place {
    /// A JSON Pointer from its text.
    pub(crate) fn pointer(text: impl Into<String>) -> Self {
        Self::Pointer(text.into())
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Whole => Ok(()),
            Self::Line { line, column } => write!(f, "line {line}, column {column}: "),
            Self::Pointer(p) => write!(f, "{p}: "),
        }
    }
}

/// Why a label, a water report or a request was refused. Every message says what was wrong,
/// where, and what would be right.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SolutionError {
    /// The text is not well formed (TOML, JSON, CSV, guaranteed analysis).
    #[error("{place}{what}. {remedy}")]
    Syntax {
        /// Where.
        place: Place,
        /// What was wrong.
        what: String,
        /// What would be right.
        remedy: String,
    },
    /// Something needed is not there.
    #[error("{place}{what}. {remedy}")]
    Missing {
        /// Where.
        place: Place,
        /// What is missing.
        what: String,
        /// What would be right.
        remedy: String,
    },
    /// A value outside what is possible, or values that contradict each other.
    #[error("{place}{what}. {remedy}")]
    Value {
        /// Where.
        place: Place,
        /// What was wrong.
        what: String,
        /// What would be right.
        remedy: String,
    },
    /// A statement that can be read in several ways.
    #[error("{place}{what}. {remedy}")]
    Ambiguous {
        /// Where.
        place: Place,
        /// What is ambiguous.
        what: String,
        /// The choices.
        remedy: String,
    },
    /// What is asked cannot be reached by any amount.
    #[error("{place}{what}. {remedy}")]
    Impossible {
        /// Where.
        place: Place,
        /// Why not.
        what: String,
        /// What would help.
        remedy: String,
    },
    /// The solver of a recipe did not converge; a fault of this library, not of the input.
    #[error("{what} did not converge after {iterations} iterations; please report this request")]
    Solver {
        /// Which calculation.
        what: String,
        /// How many iterations were made.
        iterations: u32,
    },
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
    /// So much is dissolved that too little water is left.
    #[error(
        "too much is dissolved for a solution: less than half a kilogram of water to the litre, \
         or more than 50 mol/kg of ions; the model holds to an ionic strength of 1 mol/kg"
    )]
    TooConcentrated,
    /// The equations were not solved; no composition is known for which this happens.
    #[error(
        "the equilibrium was not found (residual {residual:e}); please report this composition"
    )]
    NotConverged {
        /// The relative residual that was left.
        residual: f64,
    },
}

impl SolutionError {
    /// Where the fault lies.
    #[must_use]
    pub fn place(&self) -> &Place {
        const WHOLE: &Place = &Place::Whole;
        match self {
            Self::Syntax { place, .. }
            | Self::Missing { place, .. }
            | Self::Value { place, .. }
            | Self::Ambiguous { place, .. }
            | Self::Impossible { place, .. } => place,
            _ => WHOLE,
        }
    }

    /// The same fault seen from an enclosing document: pointers get `prefix` in front.
    #[must_use]
    pub fn under(mut self, prefix: &str) -> Self {
        if let Self::Syntax { place, .. }
        | Self::Missing { place, .. }
        | Self::Value { place, .. }
        | Self::Ambiguous { place, .. }
        | Self::Impossible { place, .. } = &mut self
        {
            match place {
                Place::Pointer(p) => p.insert_str(0, prefix),
                Place::Whole => *place = Place::Pointer(prefix.to_owned()),
                Place::Line { .. } => {}
            }
        }
        self
    }

    pub(crate) fn syntax(place: Place, what: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::Syntax { place, what: what.into(), remedy: remedy.into() }
    }

    pub(crate) fn missing(
        place: Place,
        what: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self::Missing { place, what: what.into(), remedy: remedy.into() }
    }

    pub(crate) fn value(place: Place, what: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::Value { place, what: what.into(), remedy: remedy.into() }
    }

    pub(crate) fn ambiguous(
        place: Place,
        what: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self::Ambiguous { place, what: what.into(), remedy: remedy.into() }
    }

    pub(crate) fn impossible(
        place: Place,
        what: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self::Impossible { place, what: what.into(), remedy: remedy.into() }
    }
}
