//! Acid against alkalinity, against the geochemical reference with citrate.

use super::reference::{Comparison, Row, percent, table};
use guardcell::reference::Solute;
use guardcell::reference::acid::acid as data_of;
use guardcell::solution::acid::{AcidName, AcidTarget};
use guardcell::solution::{AcidRequest, AcidResponse, NoticeCode, WaterReport, acid};
use guardcell::units::uom::si::molar_mass::gram_per_mole;

const ACIDS: [(&str, AcidName); 4] = [
    ("nitric", AcidName::Nitric),
    ("sulfuric", AcidName::Sulfuric),
    ("phosphoric", AcidName::Phosphoric),
    ("citric", AcidName::Citric),
];

/// Errors of one acid: dose to a pH and to an alkalinity in percent, pH after, pH after CO2 left.
#[derive(Default)]
struct Errors {
    dose_to_ph: Vec<f64>,
    dose_to_alkalinity: Vec<f64>,
    ph_after: Vec<f64>,
    ph_open: Vec<f64>,
}

/// Both databases: that of our constants with the published citrate added, and the one whose
/// constants are independent of ours.
pub(super) fn measure(out: &mut Vec<Comparison>) -> Result<(), String> {
    let (mut missed, mut false_alarms, mut cases) = (0, 0, 0);
    for (file, same_constants) in
        [("iphreeqc_acids.csv", true), ("iphreeqc_acids_minteq.csv", false)]
    {
        let rows = table(file)?;
        for (key, name) in ACIDS {
            let mut errors = Errors::default();
            for row in rows.iter().filter(|r| r.text("acid") == key) {
                let solid = compare(row, name, key, &mut errors)?;
                cases += 1;
                missed += usize::from(solid == (true, false));
                false_alarms += usize::from(solid == (false, true));
            }
            report(out, key, same_constants, &errors);
        }
    }
    let rate = |n: usize| vec![100.0 * n as f64 / cases as f64; cases];
    out.push(
        Comparison::of("acids, brushite or gypsum after CO2 has left, missed", "%", &rate(missed))
            .worst(1.0),
    );
    out.push(Comparison::of("acids, the same, false alarms", "%", &rate(false_alarms)).worst(1.0));
    Ok(())
}

fn report(out: &mut Vec<Comparison>, key: &str, same_constants: bool, errors: &Errors) {
    let of = if same_constants { "reference" } else { "minteq.v4" };
    let line = |what: &str, unit, list: &[f64]| {
        Comparison::of(format!("{of}, {key} acid, {what}"), unit, list)
    };
    // The constants of carbonate, sulfate and phosphate in minteq.v4 differ from ours: two
    // references differ by up to 10 % of a small dose and 0.04 of pH from each other.
    let (dose, mean_dose, ph) = if same_constants { (2.0, 0.5, 0.03) } else { (12.0, 1.5, 0.06) };
    out.push(line("dose to a pH", "%", &errors.dose_to_ph).worst(dose).mean(mean_dose));
    out.push(line("dose to an alkalinity", "%", &errors.dose_to_alkalinity).worst(2.0));
    out.push(line("pH after", "", &errors.ph_after).worst(ph));
    out.push(line("pH after CO2 has left", "", &errors.ph_open).worst(ph));
}

/// Adds the errors of one row; returns whether the reference, and whether we, see a solid once
/// CO2 has left.
fn compare(
    row: &Row,
    name: AcidName,
    key: &str,
    errors: &mut Errors,
) -> Result<(bool, bool), String> {
    let to_ph = answer(row, name, AcidTarget::Ph(row.needed("target_ph")?))?;
    let left = row.needed("target_alkalinity_meq")? * 50.043;
    let to_alkalinity = answer(row, name, AcidTarget::AlkalinityMgLCaco3(left))?;
    let g_mol = data_of(key).ok_or("an acid is missing")?.formula.g_per_mol();
    let mmol = |a: &AcidResponse| a.mass_g / g_mol * 1000.0;
    errors.dose_to_ph.push(percent(mmol(&to_ph), row.needed("dose_to_ph_mmol")?));
    errors
        .dose_to_alkalinity
        .push(percent(mmol(&to_alkalinity), row.needed("dose_to_alkalinity_mmol")?));
    errors.ph_after.push(to_alkalinity.ph_after - row.needed("ph_after")?);
    errors.ph_open.push(to_alkalinity.ph_after_co2_has_left - row.needed("open_ph")?);
    let mut theirs = false;
    for column in ["open_si_brushite", "open_si_gypsum"] {
        theirs |= row.number(column)?.is_some_and(|si| si > 0.0);
    }
    Ok((theirs, to_alkalinity.warnings.iter().any(|w| w.code == NoticeCode::Precipitation)))
}

#[expect(clippy::field_reassign_with_default, reason = "the type can gain fields")]
fn answer(row: &Row, acid_name: AcidName, target: AcidTarget) -> Result<AcidResponse, String> {
    let mg = |s: Solute| -> Result<Option<f64>, String> {
        Ok(Some(row.needed(s.name())? * s.molar_mass().get::<gram_per_mole>()))
    };
    let mut water = WaterReport::default();
    water.ca_mg_l = mg(Solute::Ca)?;
    water.mg_mg_l = mg(Solute::Mg)?;
    water.k_mg_l = mg(Solute::K)?;
    water.na_mg_l = mg(Solute::Na)?;
    water.no3_mg_l = mg(Solute::No3)?;
    water.so4_mg_l = mg(Solute::So4)?;
    water.cl_mg_l = mg(Solute::Cl)?;
    water.alkalinity_mg_l_caco3 = Some(row.needed("alkalinity_meq")? * 50.043);
    water.ph = Some(row.needed("ph_before")?);
    water.temp_c = Some(row.needed("temp_c")?);
    let request = AcidRequest::new(water, acid_name, 100.0, target, 1.0);
    acid(&request).map_err(|e| e.to_string())
}
