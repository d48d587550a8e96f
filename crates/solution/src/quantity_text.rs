//! Figures of a report written as text with a unit, as numbers in the units of the kernels.

use guardcell_error::{Code, Error, excerpt};
use guardcell_units::conductivity::{Compensation, Conductivity};
use guardcell_units::quantity::{celsius, us_per_cm};
use guardcell_units::{
    parse_alkalinity, parse_conductivity, parse_hardness, parse_specific_conductance,
};

/// Conductivity at 25 °C from a reading at a temperature, compensated as meters do.
pub(crate) fn ec_to_25(reading_us_cm: f64, temp_c: f64) -> Result<f64, Error> {
    Conductivity::new(us_per_cm(reading_us_cm), celsius(temp_c))
        .at_25(Compensation::METER)
        .map(|k| k.us_per_cm())
}

/// Hardness, mmol/L of Ca and Mg.
pub(crate) fn hardness_mmol_l(text: &str) -> Result<f64, Error> {
    parse_hardness(text).map(|h| h.mmol_per_l())
}

/// Alkalinity, meq/L.
pub(crate) fn alkalinity_meq_l(text: &str) -> Result<f64, Error> {
    parse_alkalinity(text).map(|a| a.meq_per_l())
}

/// Conductivity at 25 °C from `0.62 mS/cm at 20 °C`; a temperature beside the text holds where
/// the text has none.
pub(crate) fn ec25_us_cm(text: &str, temp_c: Option<f64>) -> Result<f64, Error> {
    let Some(temp_c) = temp_c else {
        return parse_specific_conductance(text, Compensation::METER).map(|k| k.us_per_cm());
    };
    if text.contains('°') || text.contains(" at ") || text.contains('@') {
        return Err(Error::new(
            Code::Conflict,
            format!("{:?} states a temperature, and so does ec_temp_c", excerpt(text, 60)),
            "give the temperature once: in the text or in ec_temp_c",
        ));
    }
    let reading = parse_conductivity(text)?;
    ec_to_25(guardcell_units::quantity::in_us_per_cm(reading.value()), temp_c)
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
    }

    // 1.9 %/K of the value at 25 °C (ISO 7888): 620/(1 − 0.095).
    #[test]
    fn temperature_once() {
        assert!((ec25_us_cm("0,62 mS/cm at 20 °C", None).unwrap() - 685.1).abs() < 0.2);
        assert!((ec25_us_cm("0.62 mS/cm", Some(20.0)).unwrap() - 685.1).abs() < 0.2);
        assert!(ec25_us_cm("0.62 mS/cm at 20 °C", Some(20.0)).is_err());
    }
}
