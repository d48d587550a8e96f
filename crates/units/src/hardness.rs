//! Hardness: calcium and magnesium together, a quantity of its own.
//!
//! Every degree is exact by its definition and the formula masses: 1 °dH = 10 mg CaO/L,
//! 1 °fH = 10 mg CaCO3/L, 1 °e (Clark) = 1 grain CaCO3 per imperial gallon, 1 gpg = 1 grain CaCO3
//! per US gallon, and 1 mmol/L of Ca + Mg = 2 meq/L.

use crate::basis::{Basis, Of, analyte};
use crate::equivalents as eq;
use crate::quantity::{MolarConcentration, in_mmol_per_l, mmol_per_l};
use core::{fmt, iter, ops};

/// The hardness of a water: the amount of calcium and magnesium together.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::hardness::Hardness;
/// let tap = Hardness::from_german_degrees(14.0);
/// assert!((tap.mg_per_l_caco3() - 249.87).abs() < 0.01);
/// ```
#[derive(Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Hardness {
    meq_per_l: MolarConcentration,
}

impl Hardness {
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
    /// use guardcell::units::hardness::Hardness;
    /// use guardcell::units::quantity::mmol_per_l;
    /// assert_eq!(Hardness::from_equivalents(mmol_per_l(2.0)), Hardness::from_meq_per_l(2.0));
    /// ```
    #[must_use]
    pub const fn from_equivalents(charge: MolarConcentration) -> Self {
        Self { meq_per_l: charge }
    }

    /// The concentration of charge (equivalents): mol of charge per volume.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// use guardcell::units::quantity::in_mmol_per_l;
    /// assert_eq!(in_mmol_per_l(Hardness::from_meq_per_l(2.0).equivalents()), 2.0);
    /// ```
    #[must_use]
    pub const fn equivalents(self) -> MolarConcentration {
        self.meq_per_l
    }

    /// From a number of meq/L.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_meq_per_l(1.0).mg_per_l_caco3() - 50.04).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn from_meq_per_l(value: f64) -> Self {
        Self::from_equivalents(mmol_per_l(value))
    }

    /// The number of meq/L.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_mg_per_l_caco3(100.086).meq_per_l() - 2.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn meq_per_l(self) -> f64 {
        in_mmol_per_l(self.meq_per_l)
    }

    /// From a number of mmol/L of Ca + Mg.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert_eq!(Hardness::from_mmol_per_l(1.5).meq_per_l(), 3.0);
    /// ```
    #[must_use]
    pub fn from_mmol_per_l(value: f64) -> Self {
        Self::from_meq_per_l(value * 2.0)
    }

    /// The number of mmol/L of Ca + Mg.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert_eq!(Hardness::from_meq_per_l(3.0).mmol_per_l(), 1.5);
    /// ```
    #[must_use]
    pub fn mmol_per_l(self) -> f64 {
        self.meq_per_l() / 2.0
    }

    /// From a number of mg/L as CaCO3 (the ppm of water reports).
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_mg_per_l_caco3(178.48).german_degrees() - 10.0).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn from_mg_per_l_caco3(value: f64) -> Self {
        Self::from_meq_per_l(value / eq::MG_CACO3_PER_MEQ)
    }

    /// The number of mg/L as CaCO3 (the ppm of water reports).
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_meq_per_l(3.0).mg_per_l_caco3() - 150.13).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn mg_per_l_caco3(self) -> f64 {
        self.meq_per_l() * eq::MG_CACO3_PER_MEQ
    }

    /// From a number of German degrees, °dH (°dGH).
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_german_degrees(2.804).meq_per_l() - 1.0).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn from_german_degrees(value: f64) -> Self {
        Self::from_meq_per_l(value * eq::MEQ_PER_GERMAN_DEGREE)
    }

    /// The number of German degrees, °dH (°dGH).
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_meq_per_l(1.0).german_degrees() - 2.804).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn german_degrees(self) -> f64 {
        self.meq_per_l() / eq::MEQ_PER_GERMAN_DEGREE
    }

    /// From a number of French degrees, °fH.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_french_degrees(25.0).mg_per_l_caco3() - 250.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn from_french_degrees(value: f64) -> Self {
        Self::from_meq_per_l(value * eq::MEQ_PER_FRENCH_DEGREE)
    }

    /// The number of French degrees, °fH.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_mg_per_l_caco3(250.0).french_degrees() - 25.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn french_degrees(self) -> f64 {
        self.meq_per_l() / eq::MEQ_PER_FRENCH_DEGREE
    }

    /// From a number of English (Clark) degrees, °e.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_clark_degrees(1.0).mg_per_l_caco3() - 14.254).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn from_clark_degrees(value: f64) -> Self {
        Self::from_meq_per_l(value * eq::MEQ_PER_CLARK_DEGREE)
    }

    /// The number of English (Clark) degrees, °e.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_mg_per_l_caco3(142.54).clark_degrees() - 10.0).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn clark_degrees(self) -> f64 {
        self.meq_per_l() / eq::MEQ_PER_CLARK_DEGREE
    }

    /// From a number of grains of CaCO3 per US gallon, gpg.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_grains_per_us_gallon(1.0).mg_per_l_caco3() - 17.118).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn from_grains_per_us_gallon(value: f64) -> Self {
        Self::from_meq_per_l(value * eq::MEQ_PER_GRAIN_PER_US_GALLON)
    }

    /// The number of grains of CaCO3 per US gallon, gpg.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::hardness::Hardness;
    /// assert!((Hardness::from_mg_per_l_caco3(171.18).grains_per_us_gallon() - 10.0).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn grains_per_us_gallon(self) -> f64 {
        self.meq_per_l() / eq::MEQ_PER_GRAIN_PER_US_GALLON
    }
}

impl Hardness {
    /// From the calcium and magnesium of a water, on any basis.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::basis::{Ca, Mg, Of};
    /// use guardcell::units::hardness::Hardness;
    /// let h = Hardness::from_calcium_and_magnesium(
    ///     Of::<Ca>::from_mg_per_l(40.078),
    ///     Of::<Mg>::from_mg_per_l(24.305),
    /// );
    /// assert!((h.mmol_per_l() - 2.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn from_calcium_and_magnesium<C, M>(calcium: Of<C>, magnesium: Of<M>) -> Self
    where
        C: Basis<Analyte = analyte::Calcium>,
        M: Basis<Analyte = analyte::Magnesium>,
    {
        Self::from_equivalents((calcium.molar() + magnesium.molar()) * 2.0)
    }
}

impl fmt::Debug for Hardness {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} meq/L hardness", self.meq_per_l())
    }
}
impl ops::Add for Hardness {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::from_equivalents(self.meq_per_l + other.meq_per_l)
    }
}
impl ops::Sub for Hardness {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::from_equivalents(self.meq_per_l - other.meq_per_l)
    }
}
impl ops::Mul<f64> for Hardness {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::from_equivalents(self.meq_per_l * factor)
    }
}
impl ops::Div<f64> for Hardness {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self::from_equivalents(self.meq_per_l / divisor)
    }
}
impl iter::Sum for Hardness {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, |a, b| a + b)
    }
}
