//! What a water leaves as carbonate scale when it dries.
//!
//! The carbon dioxide of a drying film escapes, so that the alkalinity decides what falls out and
//! not the carbon that was dissolved: Ca²⁺ + 2 HCO3⁻ → CaCO3 + CO2 + H2O. Calcite falls first; what
//! alkalinity is left takes magnesium down as a hydrated carbonate (nesquehonite, MgCO3·3H2O), and
//! the rest stays in solution beside sodium and potassium. Calcium phosphates are not counted: for
//! each milliequivalent of alkalinity they would weigh more than the 50 mg of calcite that is
//! counted here.
//!
//! It is beside [`Composition`] because the film, the water report and the advice must give one
//! answer, and neither the film crate nor the solution crate may depend on the other.

use crate::composition::{Composition, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::formula::Formula;
use guardcell_units::quantity::{
    MassConcentration, MolarConcentration, in_mmol_per_l, mg_per_l, mmol_per_l,
};

const CALCITE: Formula = Formula::new(&[(Element::Ca, 1), (Element::C, 1), (Element::O, 3)]);
/// MgCO3·3H2O.
const NESQUEHONITE: Formula =
    Formula::new(&[(Element::Mg, 1), (Element::C, 1), (Element::O, 6), (Element::H, 6)]);

/// Charges of the solutes as far as they do not hang on the pH: phosphate as H2PO4⁻, carbon as
/// CO2, ammoniacal nitrogen as NH4⁺.
const CHARGES: [(Solute, f64); 9] = [
    (Solute::Ca, 2.0),
    (Solute::Mg, 2.0),
    (Solute::K, 1.0),
    (Solute::Na, 1.0),
    (Solute::Nh4, 1.0),
    (Solute::No3, -1.0),
    (Solute::P, -1.0),
    (Solute::So4, -2.0),
    (Solute::Cl, -1.0),
];
/// Of the sum of charges: a surplus below this is rounding.
const ROUNDING: f64 = 1e-9;

/// The carbonates that fall out as a water dries, per volume of the water.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } pub mod units { pub use guardcell_units::*; } }
/// use guardcell::reference::{Composition, Scale, Solute};
/// use guardcell::units::quantity::{in_mg_per_l, mmol_per_l};
/// // A hard water: 2 mmol/L of calcium and 4 meq/L of alkalinity, at two pH.
/// let water = |dic| {
///     let mut c = Composition::PURE_WATER;
///     c[Solute::Ca] = mmol_per_l(2.0);
///     c[Solute::Dic] = mmol_per_l(dic);
///     c
/// };
/// let (at_8, at_6) = (Scale::new(&water(4.1)), Scale::new(&water(12.0)));
/// assert_eq!(at_8, at_6);
/// assert!((in_mg_per_l(at_8.mass()) - 200.2).abs() < 0.1);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Scale {
    calcite_mmol_l: f64,
    nesquehonite_mmol_l: f64,
    /// Alkalinity that stays in solution, meq/L.
    left_meq_l: f64,
}

/// The charge that carbonate can hold in a composition: that of the cations over that of the
/// anions, with phosphate as H2PO4⁻ (the end point of a titration of alkalinity near pH 4.5), at
/// most two charges for each dissolved carbon.
///
/// It does not depend on the pH at which the composition was reported. An acid that is not
/// neutralised gives zero.
#[must_use]
pub fn carbonate_alkalinity(c: &Composition) -> MolarConcentration {
    let (mut open, mut sum) = (0.0, 0.0);
    for (solute, charge) in CHARGES {
        let charges = charge * in_mmol_per_l(c[solute]).max(0.0);
        open += charges;
        sum += charges.abs();
    }
    let carbon = 2.0 * in_mmol_per_l(c[Solute::Dic]).max(0.0);
    let open = if open > ROUNDING * (sum + carbon) { open } else { 0.0 };
    mmol_per_l(open.min(carbon))
}

impl Scale {
    /// The scale of a composition whose charges cancel.
    #[must_use]
    pub fn new(c: &Composition) -> Self {
        Self::at_alkalinity(c, carbonate_alkalinity(c))
    }

    /// The scale of a composition whose alkalinity (in equivalents) is known by itself.
    #[must_use]
    pub fn at_alkalinity(c: &Composition, alkalinity: MolarConcentration) -> Self {
        let mut left = in_mmol_per_l(alkalinity).max(0.0);
        let mut fall = |metal: Solute| {
            let x = in_mmol_per_l(c[metal]).max(0.0).min(0.5 * left);
            left = (left - 2.0 * x).max(0.0);
            x
        };
        let (calcite_mmol_l, nesquehonite_mmol_l) = (fall(Solute::Ca), fall(Solute::Mg));
        Self { calcite_mmol_l, nesquehonite_mmol_l, left_meq_l: left }
    }

    /// Calcium carbonate.
    #[must_use]
    pub fn calcite(&self) -> MolarConcentration {
        mmol_per_l(self.calcite_mmol_l)
    }

    /// Hydrated magnesium carbonate.
    #[must_use]
    pub fn nesquehonite(&self) -> MolarConcentration {
        mmol_per_l(self.nesquehonite_mmol_l)
    }

    /// Alkalinity that stays in solution beside sodium and potassium, in equivalents.
    #[must_use]
    pub fn alkalinity_left(&self) -> MolarConcentration {
        mmol_per_l(self.left_meq_l)
    }

    /// What lies on the leaf, water of crystallisation included.
    #[must_use]
    pub fn mass(&self) -> MassConcentration {
        mg_per_l(
            self.calcite_mmol_l * CALCITE.g_per_mol()
                + self.nesquehonite_mmol_l * NESQUEHONITE.g_per_mol(),
        )
    }

    /// Both carbonates counted as calcium carbonate, as hardness and alkalinity are.
    #[must_use]
    pub fn as_caco3(&self) -> MassConcentration {
        mg_per_l((self.calcite_mmol_l + self.nesquehonite_mmol_l) * CALCITE.g_per_mol())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell_units::quantity::in_mg_per_l;

    fn of(amounts: &[(Solute, f64)]) -> Composition {
        let mut c = Composition::PURE_WATER;
        for (solute, mmol) in amounts {
            c[*solute] = mmol_per_l(*mmol);
        }
        c
    }

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-9 * (1.0 + b.abs())
    }

    #[test]
    fn calcium_falls_before_magnesium() {
        // Ca 60 and Mg 36.5 mg/L with an alkalinity of 300 mg/L as CaCO3: 150 mg/L of calcite and
        // as much again, counted as CaCO3, of magnesium carbonate.
        let c = of(&[(Solute::Ca, 1.497), (Solute::Mg, 1.502), (Solute::Dic, 6.1)]);
        let scale = Scale::at_alkalinity(&c, mmol_per_l(5.995));
        assert!((in_mmol_per_l(scale.calcite()) - 1.497).abs() < 1e-12);
        assert!((in_mmol_per_l(scale.nesquehonite()) - 1.5005).abs() < 1e-9);
        assert!((in_mg_per_l(scale.as_caco3()) - 300.0).abs() < 0.1);
        assert!((in_mg_per_l(scale.mass()) - (149.83 + 1.5005 * 138.36)).abs() < 0.1);
        assert!(in_mmol_per_l(scale.alkalinity_left()) < 1e-12);
    }

    #[test]
    fn sodium_keeps_alkalinity_in_solution() {
        let c = of(&[(Solute::Ca, 0.5), (Solute::Na, 3.0), (Solute::Dic, 4.2)]);
        let scale = Scale::new(&c);
        assert!(near(in_mmol_per_l(scale.calcite()), 0.5));
        assert!(near(in_mmol_per_l(scale.alkalinity_left()), 3.0));
    }

    #[test]
    fn acid_and_phosphate() {
        // Strong acid takes the alkalinity: no scale however much CO2 is dissolved.
        let acid = of(&[(Solute::Ca, 1.0), (Solute::Cl, 2.5), (Solute::Dic, 9.0)]);
        assert_eq!(Scale::new(&acid), Scale::default());
        // Potassium dihydrogen phosphate brings none, dipotassium only what carbon there is.
        let mkp = of(&[(Solute::K, 3.0), (Solute::P, 3.0), (Solute::Dic, 1.0)]);
        assert_eq!(in_mmol_per_l(carbonate_alkalinity(&mkp)), 0.0);
        let dkp = of(&[(Solute::K, 6.0), (Solute::P, 3.0), (Solute::Dic, 0.1)]);
        assert!(near(in_mmol_per_l(carbonate_alkalinity(&dkp)), 0.2));
    }

    #[test]
    fn rounding_is_no_alkalinity() {
        let c = of(&[(Solute::K, 0.1 + 0.2), (Solute::No3, 0.3), (Solute::Dic, 1.0)]);
        assert_eq!(in_mmol_per_l(carbonate_alkalinity(&c)), 0.0);
    }
}
