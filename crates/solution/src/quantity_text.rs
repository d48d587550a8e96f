//! Figures of a report written as text with a unit.

use guardcell_reference::parameters::solution as parameter;
use guardcell_units::basis::{Basis, CaCO3, CaO, HCO3};

/// Conductivity at 25 °C from a reading at a temperature, by the linear compensation of meters.
pub(crate) fn ec_to_25(us_cm: f64, temp_c: f64) -> f64 {
    us_cm / (1.0 + parameter::EC_COMPENSATION.value / 100.0 * (temp_c - 25.0))
}

/// A number and the words around it: `14 °dH`, `°dH 14`.
fn number_and_unit(text: &str) -> Result<(f64, String), String> {
    let t = text.trim();
    let start = t
        .find(|c: char| c.is_ascii_digit())
        .ok_or_else(|| "Write a number with its unit, such as 14 °dH".to_owned())?;
    let digits: String = t[start..] // `start` is a character boundary: find gave it
        .chars()
        .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
        .collect();
    let number = crate::label::parse_number(digits.trim_end_matches([',', '.']))
        .ok_or_else(|| format!("{digits:?} is not a number; write 1.5 or 1,5"))?;
    if t[..start].trim_end().ends_with('-') {
        return Err("It cannot be negative".into());
    }
    let unit = format!("{} {}", &t[..start], &t[start + digits.len()..]);
    let unit = unit.trim().to_lowercase().replace(['µ', 'μ'], "u");
    Ok((number, unit))
}

/// Hardness, mmol/L of Ca and Mg.
pub(crate) fn hardness_mmol_l(text: &str) -> Result<f64, String> {
    let (v, unit) = number_and_unit(text)?;
    let u: String = unit.chars().filter(|c| !c.is_whitespace()).collect();
    let caco3 = CaCO3::FORMULA.g_per_mol();
    let factor = match u.as_str() {
        "°dh" | "dh" | "°dgh" | "dgh" | "°d" => 10.0 / CaO::FORMULA.g_per_mol(),
        "°fh" | "fh" | "°f" => 10.0 / caco3,
        "°e" | "°clark" | "clark" | "e" => 1000.0 / 70.0 / caco3,
        "gpg" | "gpg(us)" | "grain/gal" => 17.118_061 / caco3,
        "mmol/l" => 1.0,
        "meq/l" | "mval/l" => 0.5,
        "mg/lcaco3" | "ppmcaco3" | "mg/lascaco3" | "ppmascaco3" => 1.0 / caco3,
        _ => {
            return Err("Write the unit: °dH, °fH, °e, gpg, mmol/L, meq/L or mg/L CaCO3".to_owned());
        }
    };
    Ok(v * factor)
}

/// Alkalinity, meq/L.
pub(crate) fn alkalinity_meq_l(text: &str) -> Result<f64, String> {
    let (v, unit) = number_and_unit(text)?;
    let u: String = unit.chars().filter(|c| !c.is_whitespace()).collect();
    let caco3 = CaCO3::FORMULA.g_per_mol();
    let factor = match u.as_str() {
        "meq/l" | "mval/l" => 1.0,
        "mmol/lhco3" | "mmol/l" => 1.0,
        "mg/lcaco3" | "ppmcaco3" | "mg/lascaco3" | "ppmascaco3" => 2.0 / caco3,
        "mg/lhco3" | "ppmhco3" | "mg/lashco3" => 1.0 / HCO3::FORMULA.g_per_mol(),
        "°dkh" | "dkh" | "°dh" | "dh" => 20.0 / CaO::FORMULA.g_per_mol(),
        "°fh" | "fh" => 20.0 / caco3,
        _ => {
            return Err("Write the unit: mg/L CaCO3, mg/L HCO3, meq/L, °dKH or °fH".to_owned());
        }
    };
    Ok(v * factor)
}

/// Conductivity at 25 °C, µS/cm, from `0.62 mS/cm at 20 °C`; a temperature beside the text holds
/// where the text has none.
pub(crate) fn ec25_us_cm(text: &str, temp_c: Option<f64>) -> Result<f64, String> {
    let (reading, at) = match text.split_once(" at ").or_else(|| text.split_once('@')) {
        Some((r, t)) => {
            let (v, unit) = number_and_unit(t)?;
            if !matches!(unit.as_str(), "°c" | "c") {
                return Err("Write the temperature in °C, such as 0.62 mS/cm at 20 °C".into());
            }
            if temp_c.is_some() {
                return Err("Give the temperature once: here or in ec_temp_c".into());
            }
            if !(0.0..=40.0).contains(&v) {
                return Err("The temperature should lie between 0 and 40 °C".into());
            }
            (r, v)
        }
        None => (text, temp_c.unwrap_or(25.0)),
    };
    let (v, unit) = number_and_unit(reading)?;
    let u: String = unit.chars().filter(|c| !c.is_whitespace()).collect();
    let factor = match u.as_str() {
        "us/cm" | "umho/cm" => 1.0,
        "ms/cm" | "ds/m" | "mmho/cm" => 1000.0,
        "ms/m" => 10.0,
        _ => return Err("Write the unit: µS/cm, mS/cm, dS/m or mS/m".into()),
    };
    let k = v * factor;
    if !(0.0..=20_000.0).contains(&k) {
        return Err("It should lie between 0 and 20 000 µS/cm".into());
    }
    Ok(ec_to_25(k, at))
}

#[cfg(test)]
mod tests {
    use super::*;

    // DIN 38409-6: 1 °dH is 10 mg/L CaO, 0.1783 mmol/L.
    #[test]
    fn german_degrees() {
        assert!((hardness_mmol_l("14 °dH").unwrap() - 2.4965).abs() < 0.001);
        assert!((alkalinity_meq_l("10 °dKH").unwrap() - 3.566).abs() < 0.002);
        assert!(hardness_mmol_l("14").is_err());
        assert!((ec25_us_cm("0,62 mS/cm at 20 °C", None).unwrap() - 685.1).abs() < 0.2);
    }
}
