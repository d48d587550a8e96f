//! What a water alone leaves when it dries.
//!
//! Scale is that of [`Scale`], as everywhere in guardcell. What it leaves in solution counts as
//! other salts: sodium and potassium carbonate, sulfates, chlorides, nitrates, each without crystal
//! water.

use super::response::WaterResidue;
use guardcell_reference::{Composition, Scale, Solute};
use guardcell_units::basis::{Basis, CO3};
use guardcell_units::quantity::{in_mg_per_l, in_mmol_per_l, mmol_per_l};
use guardcell_units::uom::si::molar_mass::gram_per_mole;

pub(super) fn of(c: &Composition, alkalinity_meq_l: f64) -> WaterResidue {
    let scale = Scale::at_alkalinity(c, mmol_per_l(alkalinity_meq_l));
    let others: f64 = c
        .iter()
        .filter(|(s, _)| *s != Solute::Dic)
        .map(|(s, m)| {
            let fallen = match s {
                Solute::Ca => in_mmol_per_l(scale.calcite()),
                Solute::Mg => in_mmol_per_l(scale.nesquehonite()),
                _ => 0.0,
            };
            (in_mmol_per_l(m) - fallen).max(0.0) * s.molar_mass().get::<gram_per_mole>()
        })
        .sum::<f64>()
        + 0.5 * in_mmol_per_l(scale.alkalinity_left()) * CO3::FORMULA.g_per_mol();
    WaterResidue {
        scale_caco3_mg_l: in_mg_per_l(scale.as_caco3()),
        scale_mg_l: in_mg_per_l(scale.mass()),
        other_salts_mg_l: others,
        total_mg_l: in_mg_per_l(scale.mass()) + others,
    }
}
