//! Nights that stay wet.
//!
//! The limit is the shortest wetness after which *Botrytis cinerea* fruited on inoculated
//! geranium leaves (Sirjusingh & Sutton 1996, abstract): 6, 4, 6 and 6 h at 15, 21, 25 and
//! 30 °C, read off by straight lines between. It stands in for orchids, for which no such table
//! was found; bacterial spots, which water also spreads, have none either.

use crate::{Because, ClockError, Code, LightHours, Reason};
use guardcell_reference::parameters::clock as p;
use guardcell_units::quantity::{ThermodynamicTemperature, Time};
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;
use guardcell_units::uom::si::time::{hour, second};
use jiff::Timestamp;

/// How a wet night stands to its limit.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum WetNightVerdict {
    /// Dry soon enough.
    Fine,
    /// Within the last quarter of the limit.
    Near,
    /// Beyond the limit.
    TooLong,
}

/// A wet night judged.
#[derive(Clone, Debug, PartialEq)]
pub struct WetNight {
    /// The wetness in the dark as given.
    pub wet: Time,
    /// The longest that is held safe at that temperature.
    pub limit: Time,
    /// How the two stand.
    pub verdict: WetNightVerdict,
    /// Why.
    pub reasons: Vec<Reason>,
}

/// The limits with their temperatures, °C and hours.
const LIMITS: [(f64, f64); 5] = [
    (10.0, p::WET_NIGHT_LIMIT_10C.value),
    (15.0, p::WET_NIGHT_LIMIT_15C.value),
    (21.0, p::WET_NIGHT_LIMIT_21C.value),
    (25.0, p::WET_NIGHT_LIMIT_25C.value),
    (30.0, p::WET_NIGHT_LIMIT_30C.value),
];

fn limit_h(t_c: f64) -> f64 {
    let [(_, first), .., (_, last)] = LIMITS;
    if t_c >= 30.0 {
        return last;
    }
    for pair in LIMITS.windows(2) {
        if let &[(t0, h0), (t1, h1)] = pair
            && (t0..t1).contains(&t_c)
        {
            return h0 + (h1 - h0) * (t_c - t0) / (t1 - t0);
        }
    }
    first
}

/// Judges hours of leaf wetness in the dark at the mean temperature of those hours.
///
/// # Errors
/// [`ClockError::Value`] for a negative duration or one over 240 h, and for a temperature
/// outside −50 … 70 °C.
///
/// ```
/// use guardcell_clock::{WetNightVerdict, wet_night};
/// use guardcell_units::quantity::{ThermodynamicTemperature, Time};
/// use guardcell_units::uom::si::{thermodynamic_temperature::degree_celsius, time::hour};
/// # fn main() -> Result<(), guardcell_clock::ClockError> {
/// let mild = ThermodynamicTemperature::new::<degree_celsius>(21.0);
/// let night = wet_night(Time::new::<hour>(5.0), mild)?;
/// assert_eq!(night.verdict, WetNightVerdict::TooLong); // infection in 4 h at 21 °C
/// # Ok(())
/// # }
/// ```
pub fn wet_night(wet: Time, mean: ThermodynamicTemperature) -> Result<WetNight, ClockError> {
    let (wet_h, t_c) = (wet.get::<hour>(), mean.get::<degree_celsius>());
    let wrong = |what, value, should| ClockError::Value { what, value, should };
    if !(0.0..=240.0).contains(&wet_h) {
        return Err(wrong("the wetness", wet_h, "from 0 to 240 h"));
    }
    if !(-50.0..=70.0).contains(&t_c) {
        return Err(wrong("the temperature", t_c, "from -50 to 70 °C"));
    }
    let limit = limit_h(t_c);
    let (verdict, code) = if wet_h > limit {
        (WetNightVerdict::TooLong, Code::WetNightTooLong)
    } else if wet_h >= limit * p::WET_NIGHT_NEAR_SHARE.value {
        (WetNightVerdict::Near, Code::WetNightNear)
    } else {
        (WetNightVerdict::Fine, Code::WetNightFine)
    };
    let mut reasons = vec![Reason {
        code,
        because: [("wet_h", wet_h), ("limit_h", limit), ("mean_c", t_c)]
            .map(|(name, value)| Because { name, value })
            .to_vec(),
    }];
    if t_c < 15.0 {
        reasons.push(Reason::plain(Code::WetNightColdGuess));
    } else if t_c > 30.0 {
        reasons.push(Reason::plain(Code::WetNightWarmGuess));
    }
    Ok(WetNight { wet, limit: Time::new::<hour>(limit), verdict, reasons })
}

/// How much of a wet spell falls in the dark, within the window of the light.
///
/// ```
/// use guardcell_clock::*;
/// use guardcell_units::uom::si::time::hour;
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// use jiff::civil::time;
/// let place = Place::new(
///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
/// let light = Light::Lamps(Lamps::between(time(6, 0, 0, 0), time(18, 0, 0, 0))?);
/// let shelf = Site { place, light, shelter: Shelter::UnderCover };
/// let hours = light_hours(&shelf, "2026-05-01T00:00Z".parse()?, "2026-05-02T00:00Z".parse()?)?;
/// let wet = wet_in_the_dark(&hours, "2026-05-01T16:00Z".parse()?, "2026-05-01T20:30Z".parse()?);
/// assert_eq!(wet.get::<hour>(), 2.5);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn wet_in_the_dark(light: &LightHours, from: Timestamp, until: Timestamp) -> Time {
    let (a, b) = (from.as_second().max(light.from), until.as_second().min(light.to));
    Time::new::<second>(crate::light::overlap(&light.dark, a, b) as f64)
}

#[cfg(test)]
mod tests {
    use super::limit_h;

    #[test]
    fn limits_meet_their_points_and_hold_outside() {
        for (t, h) in [
            (-10.0, 6.0),
            (10.0, 6.0),
            (15.0, 6.0),
            (18.0, 5.0),
            (21.0, 4.0),
            (23.0, 5.0),
            (30.0, 6.0),
            (45.0, 6.0),
        ] {
            assert!((limit_h(t) - h).abs() < 1e-9, "{t} °C");
        }
    }
}
