//! What a water alone leaves when it dries.
//!
//! Scale is that of [`Scale`], as everywhere in guardcell. What it leaves in solution counts as
//! other salts: sodium and potassium carbonate, sulfates, chlorides, nitrates, each without crystal
//! water.

use guardcell_reference::{Composition, Scale, Solute};
use guardcell_units::basis::{Basis, CO3};
use guardcell_units::quantity::{in_mg_per_l, in_mmol_per_l, mmol_per_l};
use guardcell_units::uom::si::molar_mass::gram_per_mole;
use serde::{Deserialize, Serialize};

/// What a water alone leaves when it dries, in mg per litre dried.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct WaterResidue {
    /// Calcium and magnesium carbonate scale, after the bicarbonate has lost its CO2, mg/L as CaCO3.
    /// It needs an acid (vinegar, citric) to come off, not water.
    pub scale_caco3_mg_l: f64,
    /// The same as it lies on the leaf (calcite, and magnesium carbonate with its crystal water),
    /// mg/L.
    pub scale_mg_l: f64,
    /// Everything else (sulfates, chlorides, sodium and potassium salts), without crystal water,
    /// mg/L. Plain soft water rinses it off.
    pub other_salts_mg_l: f64,
    /// Both together, mg/L.
    pub total_mg_l: f64,
}

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
