//! Recipe and meter against each other: a meter must give back what the recipe was made for.

use super::reference::{Comparison, conductance_over_25, percent};
use guardcell::solution::meter::MeterReading;
use guardcell::solution::recipe::{BasisName, Target};
use guardcell::solution::{Label, MeterRequest, RecipeRequest, WaterReport, meter, recipe};

/// Labels that name their materials, so that the ions are known.
const LABELS: [&str; 3] = [
    "name,derived_from,n_percent,k2o_percent\nA,potassium nitrate,13.8,46.5\n",
    "name,derived_from,n_percent,ca_percent\nB,calcium nitrate,15.5,19\n",
    "name,derived_from,n_percent,p2o5_percent\nC,monoammonium phosphate,12,61\n",
];
/// Rain, a soft and a hard tap water.
const WATERS: [&str; 3] = [
    "ec_us_cm = 20\n",
    "ca_mg_l = 30\nmg_mg_l = 4\nna_mg_l = 12\ncl_mg_l = 18\nso4_mg_l = 20\n\
     alkalinity_mg_l_caco3 = 70\nph = 7.6\n",
    "ca_mg_l = 100\nmg_mg_l = 15\nna_mg_l = 20\ncl_mg_l = 40\nso4_mg_l = 60\n\
     alkalinity_mg_l_caco3 = 240\nph = 7.4\nec_us_cm = 680\n",
];

/// Feed strength read back over the one weighed in, and a water read at another temperature than
/// 25 °C over the same read at 25 °C.
pub(super) fn measure(out: &mut Vec<Comparison>) -> Result<(), String> {
    let (mut strength, mut water) = (Vec::new(), Vec::new());
    for temp_c in [0.0, 5.0, 10.0, 20.0, 25.0, 30.0, 40.0] {
        for text in WATERS {
            let report = WaterReport::from_toml(text).map_err(|e| e.to_string())?;
            for csv in LABELS {
                strength.push(round_trip(csv, &report, temp_c)?);
            }
            water.push(reread(&report, temp_c)?);
        }
    }
    out.push(
        Comparison::of("meter after recipe, feed strength, 0-40 °C", "%", &strength).worst(0.5),
    );
    out.push(Comparison::of("water read at 0-40 °C, EC at 25 °C", "%", &water).worst(0.5));
    Ok(())
}

fn round_trip(csv: &str, water: &WaterReport, temp_c: f64) -> Result<f64, String> {
    let label = Label::from_csv(csv).map_err(|e| e.to_string())?.remove(0);
    let wanted = 100.0;
    let request =
        RecipeRequest::single(label.clone(), 10.0, Target::nutrient(BasisName::N, wanted))
            .with_water(water.clone())
            .with_temp_c(temp_c);
    let made = recipe(&request).map_err(|e| e.to_string())?;
    let read = MeterRequest::new(label, MeterReading::EcUsCm(made.ec_us_cm.middle()))
        .with_water(water.clone())
        .with_uncompensated_at_c(temp_c);
    let found = meter(&read).map_err(|e| e.to_string())?;
    Ok(percent(found.n_mg_l.middle(), wanted))
}

/// A water whose ions are stated, read with a plain meter at a temperature.
fn reread(report: &WaterReport, temp_c: f64) -> Result<f64, String> {
    use guardcell::solution::{WaterRequest, water};
    let at_25 = water(&WaterRequest::new(report.clone())).map_err(|e| e.to_string())?;
    // What the ions conduct at that temperature by the model of the library itself.
    let factor = conductance_over_25(&at_25.ions_mmol_l, temp_c)?;
    let mut other = report.clone();
    other.ec_us_cm = Some(at_25.ec25_us_cm * factor);
    other.ec_temp_c = Some(temp_c);
    let found = water(&WaterRequest::new(other)).map_err(|e| e.to_string())?;
    Ok(percent(found.ec25_us_cm, at_25.ec25_us_cm))
}
