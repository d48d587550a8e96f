//! Water scale: the carbonates that fall out as a drying film loses its carbon dioxide.

use guardcell_reference::{Composition, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::formula::Formula;
use guardcell_units::quantity::in_mmol_per_l;

/// Amounts of every solute in mol per m³ (the same number as mmol/L), in the order of
/// [`Solute::ALL`].
pub(crate) type Amounts = [f64; Solute::ALL.len()];

const CALCITE: Formula = Formula::new(&[(Element::Ca, 1), (Element::C, 1), (Element::O, 3)]);
/// MgCO3·3H2O.
const NESQUEHONITE: Formula =
    Formula::new(&[(Element::Mg, 1), (Element::C, 1), (Element::O, 6), (Element::H, 6)]);

pub(crate) fn amounts(c: &Composition) -> Amounts {
    let mut out = [0.0; Solute::ALL.len()];
    for (slot, (_, n)) in out.iter_mut().zip(c.iter()) {
        *slot = in_mmol_per_l(n).max(0.0);
    }
    out
}

/// What falls out as carbonate: Ca²⁺ + 2 HCO3⁻ → CaCO3 + CO2 + H2O, calcium before magnesium.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Scale {
    pub(crate) calcite: f64,
    pub(crate) nesquehonite: f64,
}

impl Scale {
    /// Takes the scale out of the amounts and returns it, in the same unit.
    pub(crate) fn take(n: &mut Amounts) -> Self {
        let mut fall = |metal: Solute| {
            let x = n[metal as usize].min(0.5 * n[Solute::Dic as usize]);
            n[metal as usize] -= x;
            n[Solute::Dic as usize] -= 2.0 * x;
            x
        };
        Self { calcite: fall(Solute::Ca), nesquehonite: fall(Solute::Mg) }
    }

    /// Mass in g where the amounts are in mol.
    pub(crate) fn mass_g(&self) -> f64 {
        self.calcite * CALCITE.g_per_mol() + self.nesquehonite * NESQUEHONITE.g_per_mol()
    }
}
