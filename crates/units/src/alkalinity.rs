//! Alkalinity: the acid a water can take up, a quantity of its own.
//!
//! Hardness and alkalinity are both printed as mg/L CaCO3 and in degrees, and are not the same
//! thing: a softened water has alkalinity and no hardness. They do not add. 1 °dKH = 10 mg CaO/L,
//! 1 meq/L = 61.016 mg HCO3/L = 50.04 mg CaCO3/L, by the formula masses.

use crate::equivalents as eq;
use crate::quantity::{MolarConcentration, in_mmol_per_l, mmol_per_l};
use core::{fmt, iter, ops};

/// The alkalinity of a water: the strong acid it takes up before its pH drops.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::alkalinity::Alkalinity;
/// let tap = Alkalinity::from_mg_per_l_hco3(183.05);
/// assert!((tap.meq_per_l() - 3.0).abs() < 1e-3);
/// ```
#[derive(Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Alkalinity {
    meq_per_l: MolarConcentration,
}

impl Alkalinity {
    /// None of it.
    pub const ZERO: Self = Self {
        meq_per_l: MolarConcentration {
            dimension: core::marker::PhantomData,
            units: core::marker::PhantomData,
            value: 0.0,
        },
    };

    /// From the concentration of charge (equivalents).
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::alkalinity::Alkalinity;
    /// use guardcell::units::quantity::mmol_per_l;
    /// assert_eq!(Alkalinity::from_equivalents(mmol_per_l(2.0)), Alkalinity::from_meq_per_l(2.0));
    /// ```
    #[must_use]
    pub const fn from_equivalents(charge: MolarConcentration) -> Self {
        Self { meq_per_l: charge }
    }

    /// The concentration of charge (equivalents): mol of charge per volume.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::alkalinity::Alkalinity;
    /// use guardcell::units::quantity::in_mmol_per_l;
    /// assert_eq!(in_mmol_per_l(Alkalinity::from_meq_per_l(2.0).equivalents()), 2.0);
    /// ```
    #[must_use]
    pub const fn equivalents(self) -> MolarConcentration {
        self.meq_per_l
    }

    /// From a number of meq/L.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::alkalinity::Alkalinity;
    /// assert!((Alkalinity::from_meq_per_l(1.0).mg_per_l_caco3() - 50.04).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn from_meq_per_l(value: f64) -> Self {
        Self::from_equivalents(mmol_per_l(value))
    }

    /// The number of meq/L.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::alkalinity::Alkalinity;
    /// assert!((Alkalinity::from_mg_per_l_caco3(100.086).meq_per_l() - 2.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn meq_per_l(self) -> f64 {
        in_mmol_per_l(self.meq_per_l)
    }

    /// From a number of mg/L as CaCO3 (the ppm of water reports).
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::alkalinity::Alkalinity;
    /// assert!((Alkalinity::from_mg_per_l_caco3(178.48).german_degrees() - 10.0).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn from_mg_per_l_caco3(value: f64) -> Self {
        Self::from_meq_per_l(value / eq::MG_CACO3_PER_MEQ)
    }

    /// The number of mg/L as CaCO3 (the ppm of water reports).
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::alkalinity::Alkalinity;
    /// assert!((Alkalinity::from_meq_per_l(3.0).mg_per_l_caco3() - 150.13).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn mg_per_l_caco3(self) -> f64 {
        self.meq_per_l() * eq::MG_CACO3_PER_MEQ
    }

    /// From a number of mg/L as HCO3.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::alkalinity::Alkalinity;
    /// assert!((Alkalinity::from_mg_per_l_hco3(61.016).meq_per_l() - 1.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn from_mg_per_l_hco3(value: f64) -> Self {
        Self::from_meq_per_l(value / eq::MG_HCO3_PER_MEQ)
    }

    /// The number of mg/L as HCO3.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::alkalinity::Alkalinity;
    /// assert!((Alkalinity::from_meq_per_l(2.0).mg_per_l_hco3() - 122.03).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn mg_per_l_hco3(self) -> f64 {
        self.meq_per_l() * eq::MG_HCO3_PER_MEQ
    }

    /// From a number of German degrees of carbonate hardness, °dKH.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::alkalinity::Alkalinity;
    /// assert!((Alkalinity::from_german_degrees(2.804).meq_per_l() - 1.0).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn from_german_degrees(value: f64) -> Self {
        Self::from_meq_per_l(value * eq::MEQ_PER_GERMAN_DEGREE)
    }

    /// The number of German degrees of carbonate hardness, °dKH.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::alkalinity::Alkalinity;
    /// assert!((Alkalinity::from_meq_per_l(1.0).german_degrees() - 2.804).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn german_degrees(self) -> f64 {
        self.meq_per_l() / eq::MEQ_PER_GERMAN_DEGREE
    }
}

impl fmt::Debug for Alkalinity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} meq/L alkalinity", self.meq_per_l())
    }
}
impl ops::Add for Alkalinity {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::from_equivalents(self.meq_per_l + other.meq_per_l)
    }
}
impl ops::Sub for Alkalinity {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::from_equivalents(self.meq_per_l - other.meq_per_l)
    }
}
impl ops::Mul<f64> for Alkalinity {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::from_equivalents(self.meq_per_l * factor)
    }
}
impl ops::Div<f64> for Alkalinity {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self::from_equivalents(self.meq_per_l / divisor)
    }
}
impl iter::Sum for Alkalinity {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, |a, b| a + b)
    }
}
