//! What a water alone leaves when it dries.
//!
//! On drying, bicarbonate loses CO2 (2 HCO3⁻ → CO3²⁻ + CO2 + H2O) and calcium carbonate comes
//! down first. What is left counts as other salts: magnesium and sodium carbonate, sulfates,
//! chlorides, nitrates, each without crystal water.

use super::answer::WaterResidue;
use guardcell_reference::{Composition, Solute};
use guardcell_units::basis::{Basis, CO3, CaCO3};
use guardcell_units::quantity::in_mmol_per_l;
use guardcell_units::uom::si::molar_mass::gram_per_mole;

pub(super) fn of(c: &Composition, alkalinity_meq_l: f64) -> WaterResidue {
    let carbonate = (alkalinity_meq_l / 2.0).max(0.0);
    let scale = in_mmol_per_l(c[Solute::Ca]).min(carbonate);
    let g_mol = |s: Solute| s.molar_mass().get::<gram_per_mole>();
    let others: f64 = c
        .iter()
        .filter(|(s, _)| *s != Solute::Dic)
        .map(|(s, m)| {
            let left = if s == Solute::Ca { in_mmol_per_l(m) - scale } else { in_mmol_per_l(m) };
            left.max(0.0) * g_mol(s)
        })
        .sum::<f64>()
        + (carbonate - scale) * CO3::FORMULA.g_per_mol();
    let scale_mg = scale * CaCO3::FORMULA.g_per_mol();
    WaterResidue {
        scale_caco3_mg_l: scale_mg,
        other_salts_mg_l: others,
        total_mg_l: scale_mg + others,
    }
}
