//! What is dissolved in a solution, as analytical totals.

use core::ops::{Add, Index, IndexMut, Mul};
use guardcell_units::quantity::{MassConcentration, MolarConcentration, mmol_per_l};
use guardcell_units::uom::si::molar_mass::gram_per_mole;
use guardcell_units::{atomic_weight::Element, formula::Formula, quantity::MolarMass};

/// One dissolved constituent, counted as an analytical total (all its species together).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Solute {
    /// Calcium.
    Ca,
    /// Magnesium.
    Mg,
    /// Potassium.
    K,
    /// Sodium.
    Na,
    /// Ammoniacal nitrogen (NH4⁺ and NH3).
    Nh4,
    /// Nitrate.
    No3,
    /// Orthophosphate (H3PO4 … PO4³⁻).
    P,
    /// Sulfate.
    So4,
    /// Chloride.
    Cl,
    /// Dissolved inorganic carbon (CO2, HCO3⁻, CO3²⁻).
    Dic,
    /// Urea, which carries no charge.
    Urea,
}

impl Solute {
    /// Every solute, in the order of the table.
    pub const ALL: [Self; 11] = [
        Self::Ca,
        Self::Mg,
        Self::K,
        Self::Na,
        Self::Nh4,
        Self::No3,
        Self::P,
        Self::So4,
        Self::Cl,
        Self::Dic,
        Self::Urea,
    ];

    /// The name on the wire, such as `no3`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Ca => "ca",
            Self::Mg => "mg",
            Self::K => "k",
            Self::Na => "na",
            Self::Nh4 => "nh4",
            Self::No3 => "no3",
            Self::P => "p",
            Self::So4 => "so4",
            Self::Cl => "cl",
            Self::Dic => "dic",
            Self::Urea => "urea",
        }
    }

    /// The formula in which the solute is weighed: the form that prevails near pH 6–7
    /// (H2PO4⁻ for phosphate, HCO3⁻ for inorganic carbon).
    #[must_use]
    pub const fn formula(self) -> Formula {
        use Element::{C, Ca, Cl, H, K, Mg, N, Na, O, P, S};
        match self {
            Self::Ca => Formula::new(&[(Ca, 1)]),
            Self::Mg => Formula::new(&[(Mg, 1)]),
            Self::K => Formula::new(&[(K, 1)]),
            Self::Na => Formula::new(&[(Na, 1)]),
            Self::Nh4 => Formula::new(&[(N, 1), (H, 4)]),
            Self::No3 => Formula::new(&[(N, 1), (O, 3)]),
            Self::P => Formula::new(&[(H, 2), (P, 1), (O, 4)]),
            Self::So4 => Formula::new(&[(S, 1), (O, 4)]),
            Self::Cl => Formula::new(&[(Cl, 1)]),
            Self::Dic => Formula::new(&[(H, 1), (C, 1), (O, 3)]),
            Self::Urea => Formula::new(&[(C, 1), (O, 1), (N, 2), (H, 4)]),
        }
    }

    /// The molar mass of [`Self::formula`].
    #[must_use]
    pub fn molar_mass(self) -> MolarMass {
        MolarMass::new::<gram_per_mole>(self.formula().g_per_mol())
    }
}

/// Totals of every solute of a solution, in molar concentration.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } pub mod units { pub use guardcell_units::*; } }
/// use guardcell::reference::{Composition, Solute};
/// use guardcell::units::quantity::{in_mg_per_l, mmol_per_l};
/// let mut c = Composition::PURE_WATER;
/// c[Solute::K] = mmol_per_l(1.0);
/// c[Solute::No3] = mmol_per_l(1.0);
/// assert!((in_mg_per_l(c.dissolved_mass()) - 101.102).abs() < 1e-3);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Composition([MolarConcentration; 11]);

impl Composition {
    /// Nothing dissolved.
    pub const PURE_WATER: Self = Self(
        [MolarConcentration {
            dimension: core::marker::PhantomData,
            units: core::marker::PhantomData,
            value: 0.0,
        }; 11],
    );

    /// The mass of everything dissolved, each solute weighed as [`Solute::formula`].
    #[must_use]
    pub fn dissolved_mass(&self) -> MassConcentration {
        Solute::ALL
            .into_iter()
            .map(|s| MassConcentration::from(self[s] * s.molar_mass()))
            .fold(guardcell_units::quantity::mg_per_l(0.0), |a, b| a + b)
    }

    /// Each solute with its total.
    pub fn iter(&self) -> impl Iterator<Item = (Solute, MolarConcentration)> + '_ {
        Solute::ALL.into_iter().map(|s| (s, self[s]))
    }
}

impl Default for Composition {
    fn default() -> Self {
        Self::PURE_WATER
    }
}

impl Index<Solute> for Composition {
    type Output = MolarConcentration;
    fn index(&self, s: Solute) -> &MolarConcentration {
        &self.0[s as usize] // one slot per variant, in declaration order
    }
}

impl IndexMut<Solute> for Composition {
    fn index_mut(&mut self, s: Solute) -> &mut MolarConcentration {
        &mut self.0[s as usize]
    }
}

impl Add for Composition {
    type Output = Self;
    fn add(mut self, other: Self) -> Self {
        for s in Solute::ALL {
            self[s] += other[s];
        }
        self
    }
}

impl Mul<f64> for Composition {
    type Output = Self;
    fn mul(mut self, factor: f64) -> Self {
        for s in Solute::ALL {
            self[s] = mmol_per_l(0.0) + self[s] * factor;
        }
        self
    }
}
