//! What holds the pH and the carbon dioxide of a solution.

use guardcell_error::{Code, Error};
use guardcell_units::quantity::Pressure;
use guardcell_units::uom::si::pressure::atmosphere;

/// A pH, the negative decimal logarithm of the activity of H⁺ (molal scale), from 0 to 14.
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::solution::Ph;
/// assert_eq!(Ph::new(6.2)?.value(), 6.2);
/// assert!(Ph::new(-1.0).is_err());
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Ph(f64);

impl Ph {
    /// A pH from its number.
    ///
    /// # Errors
    /// [`Code::OutOfRange`] unless the number lies from 0 to 14.
    pub fn new(value: f64) -> Result<Self, Error> {
        if (0.0..=14.0).contains(&value) {
            Ok(Self(value))
        } else {
            Err(Error::new(
                Code::OutOfRange,
                format!("pH {value} is out of range"),
                "give a pH of 0 to 14",
            ))
        }
    }

    /// A pH already known to lie from 0 to 14.
    pub(crate) const fn within(value: f64) -> Self {
        Self(value)
    }

    /// The number.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// assert_eq!(guardcell::solution::Ph::new(5.8)?.value(), 5.8);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub const fn value(self) -> f64 {
        self.0
    }
}

/// What decides the pH.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Acidity {
    /// The totals are complete: the pH is the one at which the charges cancel.
    #[default]
    ChargeBalance,
    /// The pH was measured; charges are left as the analysis gives them.
    Measured(Ph),
}

/// Whether carbon dioxide is exchanged with air.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum CarbonDioxide {
    /// No exchange: total inorganic carbon is what the composition says.
    #[default]
    Closed,
    /// In equilibrium with air of this partial pressure of CO2 (about 4.2e-4 atm outdoors); the
    /// total inorganic carbon follows, and the composition's own is not used.
    Open(Pressure),
}

impl CarbonDioxide {
    /// The partial pressure in atm where open, checked.
    pub(crate) fn open_atm(self) -> Result<Option<f64>, Error> {
        match self {
            Self::Closed => Ok(None),
            Self::Open(p) => {
                let value = p.get::<atmosphere>();
                if value > 0.0 && value <= 1.0 {
                    Ok(Some(value))
                } else {
                    Err(Error::new(
                        Code::OutOfRange,
                        format!("a CO2 partial pressure of {value} atm is out of range"),
                        "give more than 0 and at most 1 atm",
                    ))
                }
            }
        }
    }
}

/// The conditions under which a composition is brought to equilibrium; the default is closed,
/// with the pH from the charge balance.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Condition {
    /// What decides the pH.
    pub acidity: Acidity,
    /// Whether carbon dioxide is exchanged with air.
    pub carbon_dioxide: CarbonDioxide,
}
