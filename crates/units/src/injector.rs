//! Injector ratios, with the convention in the value.
//!
//! Makers and bulletins mean two things by 1:100. Most (for example Cornell's fertiliser
//! calculations: 1 gallon of stock and 99 of water) mean 1 part in 100 parts of finished feed;
//! others mean 1 part into 100 parts of water, which is 1 in 101. The difference is 1 % at 1:100
//! and 6 % at 1:16, so the convention is never left out here.

use crate::fault;
use crate::quantity::Ratio;
use core::fmt;
use guardcell_error::Error;
use uom::si::ratio::ratio;

/// What the second number of an injector ratio counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum InjectorConvention {
    /// 1 part of stock in N parts of finished feed.
    InTotal,
    /// 1 part of stock to N parts of water: N + 1 parts of finished feed.
    ToWater,
}

/// The ratio at which an injector mixes stock solution into water.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::injector::InjectorRatio;
/// let cornell = InjectorRatio::one_in_total(100.0).unwrap();
/// let other = InjectorRatio::one_to_water(100.0).unwrap();
/// assert_eq!(cornell.dilution(), 100.0);
/// assert_eq!(other.dilution(), 101.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InjectorRatio {
    parts: f64,
    convention: InjectorConvention,
}

impl InjectorRatio {
    /// 1 part of stock in `parts` parts of finished feed.
    ///
    /// # Errors
    /// When `parts` is not finite or below 1.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::injector::InjectorRatio;
    /// assert_eq!(InjectorRatio::one_in_total(16.0).unwrap().dilution(), 16.0);
    /// assert!(InjectorRatio::one_in_total(0.5).is_err());
    /// ```
    pub fn one_in_total(parts: f64) -> Result<Self, Error> {
        Self::new(parts, InjectorConvention::InTotal)
    }

    /// 1 part of stock to `parts` parts of water.
    ///
    /// # Errors
    /// When `parts` is not finite or negative.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::injector::InjectorRatio;
    /// assert_eq!(InjectorRatio::one_to_water(15.0).unwrap().dilution(), 16.0);
    /// ```
    pub fn one_to_water(parts: f64) -> Result<Self, Error> {
        Self::new(parts, InjectorConvention::ToWater)
    }

    /// From the number after the colon and what it counts.
    ///
    /// # Errors
    /// When the number is not finite, below 1 in the total or below 0 of water.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::injector::{InjectorConvention, InjectorRatio};
    /// let ratio = InjectorRatio::new(100.0, InjectorConvention::ToWater).unwrap();
    /// assert_eq!(ratio.to_string(), "1 + 100");
    /// ```
    pub fn new(parts: f64, convention: InjectorConvention) -> Result<Self, Error> {
        let lowest = match convention {
            InjectorConvention::InTotal => 1.0,
            InjectorConvention::ToWater => 0.0,
        };
        if parts.is_finite() && parts >= lowest {
            Ok(Self { parts, convention })
        } else {
            Err(fault::out_of_range(
                "the injector ratio",
                &format!("1:{parts}"),
                &format!("a number of parts from {lowest} up, such as 1:100"),
            ))
        }
    }

    /// The number after the colon.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::injector::InjectorRatio;
    /// assert_eq!(InjectorRatio::one_to_water(100.0).unwrap().parts(), 100.0);
    /// ```
    #[must_use]
    pub fn parts(self) -> f64 {
        self.parts
    }

    /// What that number counts.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::injector::{InjectorConvention, InjectorRatio};
    /// let ratio = InjectorRatio::one_in_total(100.0).unwrap();
    /// assert_eq!(ratio.convention(), InjectorConvention::InTotal);
    /// ```
    #[must_use]
    pub fn convention(self) -> InjectorConvention {
        self.convention
    }

    /// How many times the stock is thinned: stock concentration over feed concentration.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::injector::InjectorRatio;
    /// assert_eq!(InjectorRatio::one_in_total(200.0).unwrap().dilution(), 200.0);
    /// ```
    #[must_use]
    pub fn dilution(self) -> f64 {
        match self.convention {
            InjectorConvention::InTotal => self.parts,
            InjectorConvention::ToWater => self.parts + 1.0,
        }
    }

    /// The volume of stock as a share of the finished feed.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::injector::InjectorRatio;
    /// assert_eq!(InjectorRatio::one_in_total(100.0).unwrap().stock_share().value, 0.01);
    /// ```
    #[must_use]
    pub fn stock_share(self) -> Ratio {
        Ratio::new::<ratio>(1.0 / self.dilution())
    }
}

impl fmt::Display for InjectorRatio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let parts = crate::round::shortest(self.parts);
        match self.convention {
            InjectorConvention::InTotal => write!(f, "1 in {parts}"),
            InjectorConvention::ToWater => write!(f, "1 + {parts}"),
        }
    }
}
