//! Chemical formulas and their masses.

use crate::atomic_weight::Element;
use crate::quantity::MolarMass;
use uom::si::molar_mass::gram_per_mole;

/// A chemical formula: elements with their counts. The mass is computed, never typed in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Formula(&'static [(Element, u16)]);

impl Formula {
    /// A formula from its elements and counts.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::{atomic_weight::Element, formula::Formula};
    /// const UREA: Formula =
    ///     Formula::new(&[(Element::C, 1), (Element::O, 1), (Element::N, 2), (Element::H, 4)]);
    /// assert_eq!(UREA.count(Element::N), 2);
    /// ```
    #[must_use]
    pub const fn new(atoms: &'static [(Element, u16)]) -> Self {
        Self(atoms)
    }

    /// The formula mass as a number of g/mol, usable in constants.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::basis::{Basis, CaCO3};
    /// assert!((CaCO3::FORMULA.g_per_mol() - 100.086).abs() < 1e-9);
    /// ```
    #[must_use]
    pub const fn g_per_mol(self) -> f64 {
        let mut sum = 0.0;
        let mut i = 0;
        while i < self.0.len() {
            sum += self.0[i].0.g_per_mol() * self.0[i].1 as f64;
            i += 1;
        }
        sum
    }

    /// The formula mass.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::{atomic_weight::Element, formula::Formula};
    /// use guardcell::units::uom::si::molar_mass::gram_per_mole;
    /// const WATER: Formula = Formula::new(&[(Element::H, 2), (Element::O, 1)]);
    /// assert!((WATER.molar_mass().get::<gram_per_mole>() - 18.015).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn molar_mass(self) -> MolarMass {
        MolarMass::new::<gram_per_mole>(self.g_per_mol())
    }

    /// How many atoms of `element` one formula unit holds.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::{atomic_weight::Element, basis::{Basis, P2O5}};
    /// assert_eq!(P2O5::FORMULA.count(Element::O), 5);
    /// ```
    #[must_use]
    pub fn count(self, element: Element) -> u16 {
        self.0.iter().filter(|(e, _)| *e == element).map(|(_, n)| n).sum()
    }
}
