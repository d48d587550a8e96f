//! Feed strength: everything dissolved that came from the feed.

use crate::quantity::{MassConcentration, in_mg_per_l, mg_per_l};
use core::{fmt, ops};

/// The mass concentration of everything dissolved that came from the feed.
///
/// It is neither ppm N nor what a meter reads: both need the product.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::feed_strength::FeedStrength;
/// assert_eq!(FeedStrength::from_mg_per_l(300.0).mg_per_l(), 300.0);
/// ```
#[derive(Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct FeedStrength(MassConcentration);

impl FeedStrength {
    /// From the mass concentration of what the feed brought.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::feed_strength::FeedStrength;
    /// use guardcell::units::quantity::mg_per_l;
    /// assert_eq!(FeedStrength::new(mg_per_l(300.0)), FeedStrength::from_mg_per_l(300.0));
    /// ```
    #[must_use]
    pub const fn new(mass: MassConcentration) -> Self {
        Self(mass)
    }

    /// From a number of mg/L.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::feed_strength::FeedStrength;
    /// assert_eq!(FeedStrength::from_mg_per_l(600.0) / FeedStrength::from_mg_per_l(300.0), 2.0);
    /// ```
    #[must_use]
    pub fn from_mg_per_l(value: f64) -> Self {
        Self(mg_per_l(value))
    }

    /// The mass concentration.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::feed_strength::FeedStrength;
    /// use guardcell::units::quantity::mg_per_l;
    /// assert_eq!(FeedStrength::from_mg_per_l(300.0).mass_concentration(), mg_per_l(300.0));
    /// ```
    #[must_use]
    pub const fn mass_concentration(self) -> MassConcentration {
        self.0
    }

    /// The number of mg/L.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::feed_strength::FeedStrength;
    /// assert_eq!((FeedStrength::from_mg_per_l(300.0) / 2.0).mg_per_l(), 150.0);
    /// ```
    #[must_use]
    pub fn mg_per_l(self) -> f64 {
        in_mg_per_l(self.0)
    }
}

impl fmt::Debug for FeedStrength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mg/L feed", self.mg_per_l())
    }
}
impl ops::Mul<f64> for FeedStrength {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}
impl ops::Div<f64> for FeedStrength {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}
impl ops::Div for FeedStrength {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        (self.0 / other.0).value
    }
}
