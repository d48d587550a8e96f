//! Figures of compositions that products and recipes share.

use crate::notice::Bounds;
use guardcell_reference::parameters::solution as parameter;
use guardcell_reference::{Composition, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::quantity::{in_mmol_per_l, mmol_per_l};

/// mg/L of an element in a composition; `None` for elements that no solute counts.
pub(crate) fn element_of_ions(c: &Composition, element: Element) -> Option<f64> {
    let mmol = |s: Solute| in_mmol_per_l(c[s]);
    let n = match element {
        Element::N => mmol(Solute::No3) + mmol(Solute::Nh4) + 2.0 * mmol(Solute::Urea),
        Element::P => mmol(Solute::P),
        Element::K => mmol(Solute::K),
        Element::Ca => mmol(Solute::Ca),
        Element::Mg => mmol(Solute::Mg),
        Element::S => mmol(Solute::So4),
        Element::Na => mmol(Solute::Na),
        Element::Cl => mmol(Solute::Cl),
        _ => return None,
    };
    Some(n * element.g_per_mol())
}

/// Bounds of a conductance from one composition or from two closures, widened by the doubt of
/// the model. Only a single composition has a value.
pub(crate) fn conductance_bounds(kappas: &[f64]) -> Bounds {
    let doubt = parameter::CONDUCTANCE_DOUBT.percent() / 100.0;
    let low = kappas.iter().copied().fold(f64::INFINITY, f64::min);
    let high = kappas.iter().copied().fold(0.0, f64::max);
    let low = if low.is_finite() { low } else { 0.0 };
    Bounds {
        low: low * (1.0 - doubt),
        value: (kappas.len() == 1).then_some(high),
        high: high * (1.0 + doubt),
    }
}

/// The composition with one total set, in mmol per unit.
pub(crate) fn set(c: &mut Composition, s: Solute, mmol: f64) {
    c[s] = mmol_per_l(mmol);
}
