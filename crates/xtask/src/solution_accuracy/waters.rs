//! Saturation of tap waters with calcite against the geochemical reference.

use super::reference::{Comparison, table};
use guardcell::reference::Solute;
use guardcell::solution::{WaterReport, WaterRequest, water};
use guardcell::units::uom::si::molar_mass::gram_per_mole;

#[expect(clippy::field_reassign_with_default, reason = "the type can gain fields")]
pub(super) fn measure(out: &mut Vec<Comparison>) -> Result<(), String> {
    let (mut index, mut precipitation) = (Vec::new(), Vec::new());
    for row in table("iphreeqc_waters.csv")? {
        let mg = |s: Solute| -> Result<Option<f64>, String> {
            Ok(Some(row.needed(s.name())? * s.molar_mass().get::<gram_per_mole>()))
        };
        let mut report = WaterReport::default();
        report.ca_mg_l = mg(Solute::Ca)?;
        report.mg_mg_l = mg(Solute::Mg)?;
        report.k_mg_l = mg(Solute::K)?;
        report.na_mg_l = mg(Solute::Na)?;
        report.no3_mg_l = mg(Solute::No3)?;
        report.so4_mg_l = mg(Solute::So4)?;
        report.cl_mg_l = mg(Solute::Cl)?;
        report.alkalinity_mg_l_caco3 = Some(row.needed("alkalinity_meq")? * 50.043);
        report.ph = Some(row.needed("ph")?);
        report.temp_c = Some(row.needed("temp_c")?);
        let found = water(&WaterRequest::new(report)).map_err(|e| e.to_string())?.indices;
        let missing = || "an index is missing".to_owned();
        index.push(found.calcite_saturation_index.ok_or_else(missing)? - row.needed("si_calcite")?);
        let theirs = row.needed("calcite_mmol")? * 100.086;
        precipitation.push(found.ccpp_mg_l_caco3.ok_or_else(missing)? - theirs);
    }
    out.push(Comparison::of("waters, saturation index of calcite", "", &index).worst(0.03));
    let name = "waters, calcium carbonate precipitation potential";
    out.push(Comparison::of(name, " mg/L", &precipitation).worst(2.0).mean(0.5));
    Ok(())
}
