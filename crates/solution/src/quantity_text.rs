//! Figures of a report written as text with a unit, as numbers in the units of the kernels.

use guardcell_error::{Code, Error, excerpt};
use guardcell_units::quantity::in_celsius;
use guardcell_units::{parse_alkalinity, parse_conductivity, parse_hardness};

/// Hardness, mmol/L of Ca and Mg.
pub(crate) fn hardness_mmol_l(text: &str) -> Result<f64, Error> {
    parse_hardness(text).map(|h| h.mmol_per_l())
}

/// Alkalinity, meq/L.
pub(crate) fn alkalinity_meq_l(text: &str) -> Result<f64, Error> {
    parse_alkalinity(text).map(|a| a.meq_per_l())
}

/// Conductivity, µS/cm, and the temperature it was read at, °C (none where it refers to 25 °C),
/// from `0.62 mS/cm at 20 °C`; a temperature beside the text holds where the text has none.
pub(crate) fn ec_us_cm(text: &str, temp_c: Option<f64>) -> Result<(f64, Option<f64>), Error> {
    let reading = parse_conductivity(text)?;
    let us_cm = guardcell_units::quantity::in_us_per_cm(reading.value());
    let own = in_celsius(reading.at());
    let states_temperature = text.contains('°') || text.contains(" at ") || text.contains('@');
    match temp_c {
        Some(_) if states_temperature => Err(Error::new(
            Code::Conflict,
            format!("{:?} states a temperature, and so does ec_temp_c", excerpt(text, 60)),
            "give the temperature once: in the text or in ec_temp_c",
        )),
        Some(t) => Ok((us_cm, Some(t))),
        None => Ok((us_cm, states_temperature.then_some(own))),
    }
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

    #[test]
    fn temperature_once() {
        let (ec, at) = ec_us_cm("0,62 mS/cm at 20 °C", None).unwrap();
        assert!((ec - 620.0).abs() < 1e-6 && (at.unwrap() - 20.0).abs() < 1e-9);
        let (ec, at) = ec_us_cm("0.62 mS/cm", Some(20.0)).unwrap();
        assert!((ec - 620.0).abs() < 1e-6 && at == Some(20.0));
        assert_eq!(ec_us_cm("0.62 mS/cm", None).unwrap().1, None);
        assert!(ec_us_cm("0.62 mS/cm at 20 °C", Some(20.0)).is_err());
    }
}
