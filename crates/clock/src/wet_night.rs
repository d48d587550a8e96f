//! Nights that stay wet.
//!
//! The limit is the shortest wetness after which *Botrytis cinerea* fruited on inoculated
//! geranium leaves (Sirjusingh & Sutton 1996, abstract): 6, 4, 6 and 6 h at 15, 21, 25 and
//! 30 °C, read off by straight lines between. It is used for orchids, for which no such table
//! was found; nor was one for bacterial spots, which water also spreads.

use crate::code::Code;
use crate::light_hours::{LightHours, overlap};
use crate::reason::{Input, Reason};
use guardcell_error::Error;
use guardcell_reference::parameters::clock as p;
use guardcell_units::quantity::{ThermodynamicTemperature, Time};
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;
use guardcell_units::uom::si::time::{hour, second};
use jiff::Timestamp;

/// How a wet night compares with its limit.
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
#[non_exhaustive]
pub struct WetNight {
    /// The wetness in the dark as given.
    pub wet: Time,
    /// The longest that counts as safe at that temperature.
    pub limit: Time,
    /// How the two compare.
    pub verdict: WetNightVerdict,
    /// Why.
    pub reasons: Vec<Reason>,
}

/// The limits with their temperatures, °C and hours.
const LIMITS: [(f64, f64); 5] = [
    (10.0, p::WET_NIGHT_LIMIT_10C.hours()),
    (15.0, p::WET_NIGHT_LIMIT_15C.hours()),
    (21.0, p::WET_NIGHT_LIMIT_21C.hours()),
    (25.0, p::WET_NIGHT_LIMIT_25C.hours()),
    (30.0, p::WET_NIGHT_LIMIT_30C.hours()),
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
/// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) for a negative duration or one over
/// 240 h, and for a temperature outside −50 to 70 °C.
///
/// ```
/// # mod guardcell {
/// #     pub mod clock { pub use guardcell_clock::*; }
/// #     pub use guardcell_error::{Error};
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::clock::{WetNightVerdict, wet_night};
/// use guardcell::units::quantity::{ThermodynamicTemperature, Time};
/// use guardcell::units::uom::si::{thermodynamic_temperature::degree_celsius, time::hour};
/// # fn main() -> Result<(), guardcell::Error> {
/// let mild = ThermodynamicTemperature::new::<degree_celsius>(21.0);
/// let night = wet_night(Time::new::<hour>(5.0), mild)?;
/// assert_eq!(night.verdict, WetNightVerdict::TooLong); // infection in 4 h at 21 °C
/// # Ok(())
/// # }
/// ```
pub fn wet_night(wet: Time, mean: ThermodynamicTemperature) -> Result<WetNight, Error> {
    let (wet_h, t_c) = (wet.get::<hour>(), mean.get::<degree_celsius>());
    for (what, value, low, high, unit) in [
        ("wetness", wet_h, 0.0, p::WETNESS_LONGEST.hours(), "h"),
        ("a temperature", t_c, p::AIR_COLDEST.celsius(), p::AIR_WARMEST.celsius(), "°C"),
    ] {
        if !(low..=high).contains(&value) {
            return Err(Error::new(
                guardcell_error::Code::OutOfRange,
                format!("{what} of {value} {unit} is out of range"),
                format!("give {low} to {high} {unit}"),
            ));
        }
    }
    let limit = limit_h(t_c);
    let (verdict, code) = if wet_h > limit {
        (WetNightVerdict::TooLong, Code::WetNightTooLong)
    } else if wet_h >= limit * p::WET_NIGHT_NEAR_SHARE.number() {
        (WetNightVerdict::Near, Code::WetNightNear)
    } else {
        (WetNightVerdict::Fine, Code::WetNightFine)
    };
    let mut reasons = vec![Reason {
        code,
        inputs: [("wet_h", wet_h), ("limit_h", limit), ("mean_c", t_c)]
            .map(|(name, value)| Input { name, value })
            .to_vec(),
    }];
    if t_c < 15.0 {
        reasons.push(Reason::new(Code::WetNightColdGuess));
    } else if t_c > 30.0 {
        reasons.push(Reason::new(Code::WetNightWarmGuess));
    }
    Ok(WetNight { wet, limit: Time::new::<hour>(limit), verdict, reasons })
}

/// How much of a wet spell falls in the dark, within the window of the light.
///
/// ```
/// # mod guardcell {
/// #     pub mod clock { pub use guardcell_clock::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// #     pub use jiff;
/// # }
/// use guardcell::clock::*;
/// use guardcell::units::uom::si::time::hour;
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// use guardcell::jiff::civil::time;
/// let location = Location::new(
///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
/// let light = Light::Lamps(Lamps::between(time(6, 0, 0, 0), time(18, 0, 0, 0))?);
/// let shelf = Site { location, light, shelter: Shelter::UnderCover };
/// let hours = light_hours(&shelf, "2026-05-01T00:00Z".parse()?, "2026-05-02T00:00Z".parse()?)?;
/// let wet = wet_in_the_dark(&hours, "2026-05-01T16:00Z".parse()?, "2026-05-01T20:30Z".parse()?);
/// assert_eq!(wet.get::<hour>(), 2.5);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn wet_in_the_dark(light: &LightHours, from: Timestamp, until: Timestamp) -> Time {
    let (a, b) = (from.as_second().max(light.from), until.as_second().min(light.to));
    Time::new::<second>(overlap(&light.dark, a, b) as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

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

    fn judged(wet_h: f64, t_c: f64) -> WetNight {
        let mean = ThermodynamicTemperature::new::<degree_celsius>(t_c);
        wet_night(Time::new::<hour>(wet_h), mean).expect("in range")
    }

    /// The limit itself still counts as near it, and so does the share from which nearness begins.
    #[test]
    fn verdicts_have_their_bounds() {
        for (wet_h, verdict) in [
            (0.0, WetNightVerdict::Fine),
            (2.99, WetNightVerdict::Fine),
            (3.0, WetNightVerdict::Near),
            (4.0, WetNightVerdict::Near),
            (4.01, WetNightVerdict::TooLong),
        ] {
            assert_eq!(judged(wet_h, 21.0).verdict, verdict, "{wet_h} h");
        }
    }

    #[test]
    fn guesses_are_named() {
        let has = |t_c: f64, code| judged(1.0, t_c).reasons.iter().any(|r| r.code == code);
        for (t_c, cold, warm) in
            [(14.9, true, false), (15.0, false, false), (30.0, false, false), (30.1, false, true)]
        {
            assert_eq!(has(t_c, Code::WetNightColdGuess), cold, "{t_c}");
            assert_eq!(has(t_c, Code::WetNightWarmGuess), warm, "{t_c}");
        }
    }

    #[test]
    fn numbers_have_ranges() {
        for (wet_h, t_c) in
            [(-0.1, 20.0), (240.1, 20.0), (1.0, -50.1), (1.0, 70.1), (f64::NAN, 20.0)]
        {
            let mean = ThermodynamicTemperature::new::<degree_celsius>(t_c);
            assert!(wet_night(Time::new::<hour>(wet_h), mean).is_err(), "{wet_h} {t_c}");
        }
        assert_eq!(judged(240.0, 70.0).verdict, WetNightVerdict::TooLong);
        assert_eq!(judged(0.0, -50.0).verdict, WetNightVerdict::Fine);
    }
}
