//! Injectors (proportioners) and the two ways in which their ratio is written.

use guardcell_error::{Code, Error};
use guardcell_units::injector::{InjectorConvention, InjectorRatio};
use guardcell_units::quantity::MassConcentration;
use serde::{Deserialize, Serialize};

/// What the N of 1:N counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Convention {
    /// One part of stock in N parts of finished solution: 1 L of stock and N − 1 L of water. The
    /// convention of greenhouse bulletins (Mattson, Cornell).
    OneInN,
    /// One part of stock to N parts of water: N + 1 parts of finished solution.
    OneToN,
}

/// An injection ratio.
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } pub mod units { pub use guardcell_units::*; } }
/// use guardcell::solution::injector::{Convention, Injector};
/// use guardcell::units::quantity::{in_mg_per_l, mg_per_l};
/// let i = Injector::new(100.0, Convention::OneInN)?;
/// assert!((in_mg_per_l(i.stock_for(mg_per_l(200.0))) - 20_000.0).abs() < 1e-6);
/// let i = Injector::new(100.0, Convention::OneToN)?;
/// assert!((in_mg_per_l(i.stock_for(mg_per_l(200.0))) - 20_200.0).abs() < 1e-6);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Injector(InjectorRatio);

impl Injector {
    /// An injector of ratio 1:`n` (1–2000) in the stated convention.
    ///
    /// # Errors
    /// [`Code::OutOfRange`] for a ratio outside 1–2000.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::injector::{Convention, Injector};
    /// assert!(Injector::new(0.0, Convention::OneInN).is_err());
    /// ```
    pub fn new(n: f64, convention: Convention) -> Result<Self, Error> {
        let wrong = |what: String| Error::new(Code::OutOfRange, what, "give an N of 1 to 2000");
        if n > 2000.0 {
            return Err(wrong(format!("the injector ratio is 1:{n}")));
        }
        let convention = match convention {
            Convention::OneInN => InjectorConvention::InTotal,
            Convention::OneToN => InjectorConvention::ToWater,
        };
        InjectorRatio::new(n, convention).map(Self).map_err(|e| wrong(e.detail().to_owned()))
    }

    /// How many times the finished solution is weaker than the stock.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::injector::{Convention, Injector};
    /// assert_eq!(Injector::new(64.0, Convention::OneToN)?.dilution_factor(), 65.0);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn dilution_factor(&self) -> f64 {
        self.0.dilution()
    }

    /// The concentration of stock that gives `finished` at the plant.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::solution::injector::{Convention, Injector};
    /// use guardcell::units::quantity::{in_mg_per_l, mg_per_l};
    /// let stock = Injector::new(200.0, Convention::OneInN)?.stock_for(mg_per_l(150.0));
    /// assert!((in_mg_per_l(stock) - 30_000.0).abs() < 1e-6);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn stock_for(&self, finished: MassConcentration) -> MassConcentration {
        finished * self.dilution_factor()
    }
}
