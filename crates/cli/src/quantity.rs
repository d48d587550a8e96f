//! Quantities of the flags: one reader. Each kind has the unit of a number without one; a kind
//! without such a unit must be written with it.

use crate::error::argument;
use guardcell::Error;
use guardcell::film::{AirSpeed, AirWord};
use guardcell::units::basis::N;
use guardcell::units::conductivity::Compensation;
use guardcell::units::feed_strength::FeedStrength;
use guardcell::units::quantity::in_us_per_cm;
use guardcell::units::uom::si::{
    areal_mass_density::gram_per_square_meter, length::centimeter, length::millimeter, mass::gram,
    mass_concentration::milligram_per_liter, pressure::kilopascal, ratio::percent,
    thermodynamic_temperature::degree_celsius, time::minute, velocity::meter_per_second,
    volume::liter, volume::milliliter,
};
use guardcell::units::{
    parse_air_speed, parse_alkalinity, parse_areal_mass, parse_feed_strength, parse_humidity,
    parse_length, parse_mass, parse_of, parse_pressure, parse_specific_conductance,
    parse_temperature, parse_time, parse_volume, with_unit,
};

/// A text with the unit of a plain number, read; the option is named in the error.
fn read<T>(
    name: &str,
    text: &str,
    unit: &str,
    parse: impl FnOnce(&str) -> Result<T, Error>,
) -> Result<T, Error> {
    if !text.contains(|c: char| c.is_ascii_digit()) {
        return Err(argument(
            name,
            format!("{text:?} is not a number"),
            format!("write a number in {unit}, or one with its unit"),
        ));
    }
    parse(&with_unit(text, unit)).map_err(|e| e.without_pointer().of_argument(name))
}

/// `24`, `24C`, `24 °C`, `75F`, `75 °F`, `-5`, in °C.
pub(crate) fn celsius(name: &str, text: &str) -> Result<f64, Error> {
    let text = text.trim();
    // A letter right behind the number is the unit that people leave the sign of a degree out of.
    let lettered = |letters: [char; 2], unit: &str| {
        let number = text.strip_suffix(letters)?.trim();
        let spelt = with_unit(number, unit);
        (spelt != number).then_some(spelt)
    };
    let spelt = lettered(['F', 'f'], "°F").or_else(|| lettered(['C', 'c'], "°C"));
    let spelt = spelt.unwrap_or_else(|| text.to_owned());
    Ok(tidy(read(name, &spelt, "°C", parse_temperature)?.get::<degree_celsius>()))
}

/// `60`, `60 %`, in %.
pub(crate) fn humidity(name: &str, text: &str) -> Result<f64, Error> {
    Ok(tidy(read(name, text, "%", parse_humidity)?.get::<percent>()))
}

/// The word of an air movement, where it is one.
pub(crate) fn air_word(text: &str) -> Option<AirWord> {
    let lower = text.trim().to_lowercase();
    AirWord::ALL.into_iter().find(|w| w.name() == lower)
}

/// `fan`, `0.3`, `0.3 m/s`, in m/s.
pub(crate) fn air(name: &str, text: &str) -> Result<f64, Error> {
    if let Some(word) = air_word(text) {
        return Ok(AirSpeed::from(word).likely().get::<meter_per_second>());
    }
    if !text.trim().starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        let words: Vec<&str> = AirWord::ALL.iter().map(|w| w.name()).collect();
        return Err(argument(
            name,
            format!("{text:?} is not an air movement"),
            format!("write one of {}, or m/s such as 0.3", words.join(", ")),
        ));
    }
    Ok(tidy(read(name, text, "m/s", parse_air_speed)?.get::<meter_per_second>()))
}

/// Air pressure in kPa, which is the unit of a plain number.
pub(crate) fn kilopascals(name: &str, text: &str) -> Result<f64, Error> {
    Ok(read(name, text, "kPa", parse_pressure)?.get::<kilopascal>())
}

/// L, the unit of a plain number.
pub(crate) fn litres(name: &str, text: &str) -> Result<f64, Error> {
    Ok(read(name, text, "L", parse_volume)?.get::<liter>())
}

/// mL, the unit of a plain number.
pub(crate) fn millilitres(name: &str, text: &str) -> Result<f64, Error> {
    Ok(tidy(read(name, text, "mL", parse_volume)?.get::<milliliter>()))
}

/// g, the unit of a plain number.
pub(crate) fn grams(name: &str, text: &str) -> Result<f64, Error> {
    Ok(tidy(read(name, text, "g", parse_mass)?.get::<gram>()))
}

/// cm, the unit of a plain number.
pub(crate) fn centimetres(name: &str, text: &str) -> Result<f64, Error> {
    Ok(read(name, text, "cm", parse_length)?.get::<centimeter>())
}

/// mm, the unit of a plain number.
pub(crate) fn millimetres(name: &str, text: &str) -> Result<f64, Error> {
    Ok(tidy(read(name, text, "mm", parse_length)?.get::<millimeter>()))
}

/// Minutes, the unit of a plain number.
pub(crate) fn minutes(name: &str, text: &str) -> Result<f64, Error> {
    Ok(tidy(read(name, text, "min", parse_time)?.get::<minute>()))
}

/// g/m², the unit of a plain number.
pub(crate) fn grams_per_square_metre(name: &str, text: &str) -> Result<f64, Error> {
    Ok(tidy(read(name, text, "g/m2", parse_areal_mass)?.get::<gram_per_square_meter>()))
}

/// A feed strength; a plain number is mg/L.
pub(crate) fn strength(name: &str, text: &str) -> Result<FeedStrength, Error> {
    read(name, text, "mg/L", parse_feed_strength)
}

/// mg/L of dissolved feed.
pub(crate) fn strength_mg_l(name: &str, text: &str) -> Result<f64, Error> {
    let strength = strength(name, text)?;
    Ok(tidy(strength.mass_concentration().get::<milligram_per_liter>()))
}

/// mg/L N, the unit of a plain number.
pub(crate) fn nitrogen(name: &str, text: &str) -> Result<f64, Error> {
    Ok(tidy(read(name, text, "mg/L N", parse_of::<N>)?.mg_per_l()))
}

/// µS/cm at 25 °C; a plain number is mS/cm.
pub(crate) fn conductance(name: &str, text: &str) -> Result<f64, Error> {
    let parse = |t: &str| parse_specific_conductance(t, Compensation::default());
    Ok(in_us_per_cm(read(name, text, "mS/cm", parse)?.value()))
}

/// mg/L CaCO3. What a plain number counts is not known: a unit is needed.
pub(crate) fn alkalinity(name: &str, text: &str) -> Result<f64, Error> {
    parse_alkalinity(text)
        .map(|a| a.mg_per_l_caco3())
        .map_err(|e| e.without_pointer().of_argument(name))
}

/// To nine significant digits: what the change of units adds beyond that is dust.
fn tidy(v: f64) -> f64 {
    format!("{v:.8e}").parse().unwrap_or(v)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_numbers_and_suffixes() {
        // 75 °F is (75 − 32) × 5 / 9 = 23.89 °C, 14 °F is −10 °C.
        for (text, c) in [
            ("24", 24.0),
            ("24C", 24.0),
            ("24 °C", 24.0),
            ("75F", 23.889),
            ("75 °F", 23.889),
            ("14f", -10.0),
            ("-2", -2.0),
        ] {
            assert!((celsius("--temp", text).unwrap() - c).abs() < 0.001, "{text}");
        }
        assert_eq!(humidity("--humidity", "60").unwrap(), 60.0);
        assert_eq!(air("--air", "0.3").unwrap(), 0.3);
        assert!(air("--air", "fan").unwrap() > air("--air", "light").unwrap());
        assert_eq!(litres("--volume", "2").unwrap(), 2.0);
        assert_eq!(millilitres("--volume", "0.5 L").unwrap(), 500.0);
        assert_eq!(minutes("--soak", "30").unwrap(), 30.0);
        assert_eq!(minutes("--soak", "0.5 h").unwrap(), 30.0);
        assert_eq!(strength_mg_l("--strength", "300").unwrap(), 300.0);
        assert_eq!(conductance("--ceiling", "0.8").unwrap(), 800.0);
        for wrong in ["warm", "", "nan", "24 bar", "inf"] {
            let refused = celsius("--temp", wrong).unwrap_err();
            assert_eq!(refused.place().unwrap().argument.as_deref(), Some("--temp"), "{wrong}");
            assert!(air("--air", wrong).is_err() && litres("--volume", wrong).is_err(), "{wrong}");
        }
        assert!(alkalinity("--to", "60").is_err());
    }
}
