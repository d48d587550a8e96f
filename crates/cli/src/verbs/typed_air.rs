//! The air as it is now, typed at the command line: plain numbers where one unit makes sense.

use crate::args::TypedAir;
use crate::error::argument;
use guardcell::Error;
use guardcell::advice::Reading;
use guardcell::film::{AirSpeed, AirWord};
use guardcell::units::uom::si::{
    ratio::percent, thermodynamic_temperature::degree_celsius, velocity::meter_per_second,
};
use guardcell::units::{parse_air_speed, parse_humidity, parse_temperature};

/// The one reading for every area at this moment; none where none is typed.
pub(crate) fn reading(typed: &TypedAir, time: String) -> Result<Option<Reading>, Error> {
    let (Some(temp), Some(humidity)) = (&typed.temp, &typed.humidity) else { return Ok(None) };
    let of = |flag: &str, e: Error| e.without_pointer().of_argument(flag);
    let temp_c = temperature(temp).map_err(|e| of("--temp", e))?;
    let rh_percent = self::humidity(humidity).map_err(|e| of("--humidity", e))?;
    let air_m_s = typed.air.as_deref().map(air).transpose().map_err(|e| of("--air", e))?;
    Ok(Some(Reading::new(time, temp_c, rh_percent).with_air_m_s(air_m_s)))
}

/// `24`, `24C`, `24 °C`, `75F`, `75 °F`, `-5`.
pub(crate) fn temperature(text: &str) -> Result<f64, Error> {
    let text = text.trim();
    // A letter right behind the number is the unit that people leave the sign of a degree out of.
    let spelt = match (text.strip_suffix(['F', 'f']), text.strip_suffix(['C', 'c'])) {
        (Some(n), _) if is_number(n) => format!("{} °F", n.trim()),
        (_, Some(n)) if is_number(n) => format!("{} °C", n.trim()),
        _ => with_unit(text, "°C"),
    };
    parse_temperature(&spelt).map(|t| t.get::<degree_celsius>())
}

/// `60`, `60 %`.
pub(crate) fn humidity(text: &str) -> Result<f64, Error> {
    parse_humidity(&with_unit(text, "%")).map(|h| h.get::<percent>())
}

/// `fan`, `0.3`, `0.3 m/s`, in m/s.
pub(crate) fn air(text: &str) -> Result<f64, Error> {
    let lower = text.trim().to_lowercase();
    if let Some(word) = AirWord::ALL.into_iter().find(|w| w.name() == lower) {
        return Ok(AirSpeed::from(word).likely().get::<meter_per_second>());
    }
    if !lower.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        let words: Vec<&str> = AirWord::ALL.iter().map(|w| w.name()).collect();
        return Err(argument(
            "--air",
            format!("{text:?} is no air movement"),
            format!("write one of {}, or m/s such as 0.3", words.join(", ")),
        ));
    }
    parse_air_speed(&with_unit(&lower, "m/s")).map(|v| v.get::<meter_per_second>())
}

/// A plain number gets this unit.
fn with_unit(text: &str, unit: &str) -> String {
    let text = text.trim();
    if is_number(text) { format!("{text} {unit}") } else { text.to_owned() }
}

fn is_number(text: &str) -> bool {
    let text = text.trim();
    text.ends_with(|c: char| c.is_ascii_digit()) && text.parse::<f64>().is_ok_and(f64::is_finite)
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
            ("75F", 23.889),
            ("75 °F", 23.889),
            ("14f", -10.0),
            ("-2", -2.0),
        ] {
            assert!((temperature(text).unwrap() - c).abs() < 0.001, "{text}");
        }
        assert_eq!(air("0.3").unwrap(), 0.3);
        assert!(air("fan").unwrap() > air("light").unwrap());
        for wrong in ["warm", "", "nan", "24 bar"] {
            assert!(temperature(wrong).is_err() && air(wrong).is_err(), "{wrong}");
        }
    }
}
