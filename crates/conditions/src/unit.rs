//! The unit a map states, as the way from its numbers to those of a reading.

use crate::error::in_map;
use guardcell::units::dimension::Dimension;
use guardcell::units::text::Target;
use guardcell::units::uom::si::{
    heat_flux_density::watt_per_square_meter, ratio::percent,
    thermodynamic_temperature::degree_celsius, velocity::meter_per_second,
};
use guardcell::units::{Error, parse_air_speed, parse_irradiance, parse_temperature};
use serde::{Deserialize, Serialize};

/// A unit of a map as the trade writes it; a text that is no unit stays as it is.
///
/// ```
/// assert_eq!(guardcell_conditions::trade("[degF]"), "°F");
/// ```
#[must_use]
pub fn trade(unit: &str) -> String {
    Target::parse(unit).map_or_else(|_| unit.to_owned(), |target| target.unit().trade())
}

/// What a map can read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum QuantityName {
    /// Air temperature, °C in a reading.
    Temperature,
    /// Relative humidity, % in a reading.
    Humidity,
    /// Dew point, turned into relative humidity.
    DewPoint,
    /// Air speed, m/s in a reading.
    AirSpeed,
    /// Global radiation, W/m² in a reading.
    Radiation,
}

impl QuantityName {
    pub(crate) const ALL: [Self; 5] =
        [Self::Temperature, Self::Humidity, Self::DewPoint, Self::AirSpeed, Self::Radiation];

    /// Its name in words.
    ///
    /// ```
    /// assert_eq!(guardcell_conditions::QuantityName::AirSpeed.words(), "air speed");
    /// ```
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Temperature => "temperature",
            Self::Humidity => "relative humidity",
            Self::DewPoint => "dew point",
            Self::AirSpeed => "air speed",
            Self::Radiation => "radiation",
        }
    }

    /// The unit it has in a reading.
    ///
    /// ```
    /// assert_eq!(guardcell_conditions::QuantityName::Radiation.unit(), "W/m²");
    /// ```
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Temperature | Self::DewPoint => "°C",
            Self::Humidity => "%",
            Self::AirSpeed => "m/s",
            Self::Radiation => "W/m²",
        }
    }

    /// The key it has in a map.
    pub(crate) const fn key(self) -> &'static str {
        match self {
            Self::Temperature => "temperature",
            Self::Humidity => "humidity",
            Self::DewPoint => "dew_point",
            Self::AirSpeed => "air_speed",
            Self::Radiation => "radiation",
        }
    }

    /// The units that are most often right, for messages.
    const fn examples(self) -> &'static str {
        match self {
            Self::Temperature | Self::DewPoint => "Cel, [degF] or K",
            Self::Humidity => "% or 1",
            Self::AirSpeed => "m/s, km/h, [mi_i]/h or [kn_i]",
            Self::Radiation => "W/m2",
        }
    }
}

/// From a number as stored to a number of a reading: `slope · x + offset`. Every unit read here is
/// linear, so two points determine it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Scale {
    slope: f64,
    offset: f64,
    /// The unit as the map writes it.
    pub(crate) written: String,
    /// The unit as the trade writes it.
    pub(crate) trade: String,
}

impl Scale {
    /// The scale of a unit for a quantity. `w_m2_per_unit` replaces a unit that does not
    /// measure energy.
    pub(crate) fn new(
        quantity: QuantityName,
        unit: &str,
        w_m2_per_unit: Option<f64>,
    ) -> Result<Self, Error> {
        if let Some(factor) = w_m2_per_unit {
            return Self::by_factor(quantity, unit, factor);
        }
        let fault = |wrong: String| {
            in_map("unit", wrong, format!("write a UCUM code such as {}", quantity.examples()))
        };
        if quantity == QuantityName::Humidity && unit.trim() == "1" {
            return Ok(Self::linear(100.0, 0.0, unit, "1"));
        }
        if quantity == QuantityName::Radiation {
            photons(unit)?;
        }
        let target = Target::parse(unit).map_err(|e| fault(e.detail().to_owned()))?;
        let matches = match quantity {
            QuantityName::Temperature | QuantityName::DewPoint => {
                target.dimension() == Dimension::Temperature
            }
            QuantityName::Humidity => {
                matches!(target.dimension(), Dimension::Percentage | Dimension::Humidity)
            }
            QuantityName::AirSpeed => target.dimension() == Dimension::Speed,
            QuantityName::Radiation => target.dimension() == Dimension::Irradiance,
        };
        if !matches {
            return Err(fault(format!(
                "{unit:?} measures {}, not {}",
                target.dimension().with_article(),
                quantity.words()
            )));
        }
        let at = |number: f64| -> Result<f64, Error> {
            let text = format!("{number} {unit}");
            Ok(match quantity {
                QuantityName::Temperature | QuantityName::DewPoint => {
                    parse_temperature(&text)?.get::<degree_celsius>()
                }
                QuantityName::Humidity => guardcell::units::parse_humidity(&text)?.get::<percent>(),
                QuantityName::AirSpeed => parse_air_speed(&text)?.get::<meter_per_second>(),
                QuantityName::Radiation => parse_irradiance(&text)?.get::<watt_per_square_meter>(),
            })
        };
        let zero = at(0.0).map_err(|e| fault(e.detail().to_owned()))?;
        let hundred = at(100.0).map_err(|e| fault(e.detail().to_owned()))?;
        Ok(Self::linear((hundred - zero) / 100.0, zero, unit, &target.unit().trade()))
    }

    fn by_factor(quantity: QuantityName, unit: &str, factor: f64) -> Result<Self, Error> {
        if quantity != QuantityName::Radiation {
            return Err(in_map(
                "w_m2_per_unit",
                format!("{} takes no factor", quantity.words()),
                "omit it and state the unit",
            ));
        }
        if !(factor.is_finite() && factor > 0.0) {
            return Err(in_map(
                "w_m2_per_unit",
                format!("{factor} is not a factor"),
                "give the W/m² that one unit stands for, above 0",
            ));
        }
        Ok(Self::linear(factor, 0.0, unit, unit))
    }

    fn linear(slope: f64, offset: f64, written: &str, trade: &str) -> Self {
        Self { slope, offset, written: written.to_owned(), trade: trade.to_owned() }
    }

    /// A number of a reading, to a millionth: far finer than any sensor, and free of the last
    /// digits that a change of unit leaves behind.
    pub(crate) fn to_reading(&self, number: f64) -> f64 {
        let value = self.slope * number + self.offset;
        let rounded = (value * 1e6).round() / 1e6;
        // Adding zero turns −0 into 0.
        if rounded.is_finite() { rounded + 0.0 } else { value }
    }

    /// A difference in the unit of a reading.
    pub(crate) fn difference(&self, number: f64) -> f64 {
        (self.slope * number).abs()
    }

    /// Whether both turn numbers into the same.
    pub(crate) fn agrees_with(&self, other: &Self) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0);
        close(self.slope, other.slope) && close(self.offset, other.offset)
    }
}

/// Refuses what counts photons or what the eye sees.
fn photons(unit: &str) -> Result<(), Error> {
    let lower = unit.to_lowercase();
    let right = "state `w_m2_per_unit` from the maker of the sensor or lamp, or measure in W/m2";
    if lower.contains("mol") || lower.contains("ppfd") {
        return Err(in_map(
            "unit",
            format!(
                "{unit:?} counts photons (PPFD), and how much energy they carry differs between \
                 daylight and lamps, so there is no one factor to W/m²"
            ),
            right,
        ));
    }
    if lower.contains("lx") || lower.contains("lux") || lower.contains("lm") {
        return Err(in_map(
            "unit",
            format!(
                "{unit:?} weighs light as the eye sees it, and how much energy that is differs \
                 between daylight and lamps, so there is no one factor to W/m²"
            ),
            right,
        ));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scale(q: QuantityName, unit: &str) -> Scale {
        Scale::new(q, unit, None).unwrap()
    }

    /// 71.6 °F is 22 °C, 295.15 K is 22 °C: definitions of the scales, NIST Handbook 44 app. C.
    #[test]
    fn turns_units_into_those_of_a_reading() {
        use QuantityName as Q;
        for (q, unit, number, value) in [
            (Q::Temperature, "[degF]", 71.6, 22.0),
            (Q::Temperature, "°F", -40.0, -40.0),
            (Q::Temperature, "K", 295.15, 22.0),
            (Q::Temperature, "Cel", 21.5, 21.5),
            (Q::Humidity, "%", 84.0, 84.0),
            (Q::Humidity, "1", 0.84, 84.0),
            (Q::AirSpeed, "km/h", 3.6, 1.0),
            (Q::AirSpeed, "m/s", 0.3, 0.3),
            (Q::Radiation, "W/m2", 420.0, 420.0),
        ] {
            assert_eq!(scale(q, unit).to_reading(number), value, "{number} {unit}");
        }
    }

    #[test]
    fn says_what_is_wrong_with_a_unit() {
        use QuantityName as Q;
        for (q, unit, word) in [
            (Q::Temperature, "%", "percentage"),
            (Q::Temperature, "furlong", "furlong"),
            (Q::AirSpeed, "m", "length"),
            (Q::Radiation, "umol/m2/s", "photons"),
            (Q::Radiation, "klx", "eye"),
            (Q::Humidity, "g/m3", "mass per volume"),
            (Q::Temperature, "5 Cel", "number"),
        ] {
            let fault = Scale::new(q, unit, None).unwrap_err();
            assert!(fault.detail().contains(word), "{unit}: {}", fault.detail());
        }
        let ppfd = Scale::new(Q::Radiation, "umol/m2/s", Some(0.5)).unwrap();
        assert_eq!(ppfd.to_reading(200.0), 100.0);
        assert!(Scale::new(Q::Temperature, "Cel", Some(0.5)).is_err());
        assert!(Scale::new(Q::Radiation, "x", Some(f64::NAN)).is_err());
    }
}
