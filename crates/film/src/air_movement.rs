//! Air movement at the leaf: measured, or one of five words with a stated range.

use crate::bound;
use guardcell_call::Limited;
use guardcell_error::Error;
use guardcell_reference::parameters::{Parameter, film as data, unit};
use guardcell_units::quantity::Velocity;
use guardcell_units::uom::si::velocity::meter_per_second;
use serde::{Deserialize, Serialize};

/// A word for the air movement at the leaves; its speeds are in `data/film.csv`
/// (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum AirWord {
    /// No movement felt: a closed case or cabinet (0.02–0.1 m/s).
    Still,
    /// Leaves hang still, smoke drifts: an open room (0.1–0.4 m/s).
    Light,
    /// A fan on the plants: thin leaves tremble (0.3–1 m/s).
    Fan,
    /// Leaves move all the time: a shade house, an open door (1–2.5 m/s).
    Breezy,
    /// Twigs move: outdoors in wind (2.5–7 m/s).
    Windy,
}

impl AirWord {
    /// Every word, from the least movement to the most.
    pub const ALL: [Self; 5] = [Self::Still, Self::Light, Self::Fan, Self::Breezy, Self::Windy];

    /// The word itself.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Still => "still",
            Self::Light => "light",
            Self::Fan => "fan",
            Self::Breezy => "breezy",
            Self::Windy => "windy",
        }
    }

    const fn parameter(self) -> Parameter<unit::MetrePerSecond> {
        match self {
            Self::Still => data::AIR_STILL,
            Self::Light => data::AIR_LIGHT,
            Self::Fan => data::AIR_FAN,
            Self::Breezy => data::AIR_BREEZY,
            Self::Windy => data::AIR_WINDY,
        }
    }
}

/// An air speed with its range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirSpeed {
    low: f64,
    likely: f64,
    high: f64,
}

impl AirSpeed {
    /// A measured air speed at the leaf, 0 to 20 m/s; its uncertainty is that of `data/film.csv`.
    ///
    /// # Errors
    /// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) outside 0 to 20 m/s.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub use guardcell_error::{Error};
    /// #     pub mod film { pub use guardcell_film::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::film::AirSpeed;
    /// use guardcell::units::{quantity::Velocity, uom::si::velocity::meter_per_second};
    /// let speed = AirSpeed::measured(Velocity::new::<meter_per_second>(0.5))?;
    /// assert!(speed.low() < speed.likely() && speed.likely() < speed.high());
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    pub fn measured(speed: Velocity) -> Result<Self, Error> {
        let v = speed.get::<meter_per_second>();
        v.check(&bound::AIR_SPEED, "/air_m_s")?;
        let spread = (2.0 * data::AIR_SPEED_LOG_SD.number()).exp();
        Ok(Self { low: v / spread, likely: v, high: v * spread })
    }

    /// The low end, about 1 in 40 below it.
    #[must_use]
    pub fn low(&self) -> Velocity {
        Velocity::new::<meter_per_second>(self.low)
    }

    /// The likely speed, with which times are computed.
    #[must_use]
    pub fn likely(&self) -> Velocity {
        Velocity::new::<meter_per_second>(self.likely)
    }

    /// The high end, about 1 in 40 above it.
    #[must_use]
    pub fn high(&self) -> Velocity {
        Velocity::new::<meter_per_second>(self.high)
    }

    pub(crate) const fn likely_m_s(&self) -> f64 {
        self.likely
    }

    /// Log-normal standard deviation that spans low to high as ±2 σ.
    pub(crate) fn log_sd(&self) -> f64 {
        if self.low > 0.0 { (self.high / self.low).ln() / 4.0 } else { 0.0 }
    }
}

impl From<AirWord> for AirSpeed {
    fn from(word: AirWord) -> Self {
        let p = word.parameter();
        let likely = p.m_per_s();
        let (low, high) = p.any().range();
        Self { low: low.unwrap_or(likely), likely, high: high.unwrap_or(likely) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_rise() {
        let speeds: Vec<f64> = AirWord::ALL.into_iter().map(|w| AirSpeed::from(w).likely).collect();
        assert!(speeds.is_sorted());
        for w in AirWord::ALL {
            let s = AirSpeed::from(w);
            assert!(s.low < s.likely && s.likely < s.high, "{}", w.name());
        }
    }

    /// Two standard deviations of the logarithm to either end.
    #[test]
    fn a_measured_speed_has_its_spread() {
        let s = AirSpeed::measured(Velocity::new::<meter_per_second>(1.0)).expect("in range");
        let spread = (2.0 * data::AIR_SPEED_LOG_SD.number()).exp();
        assert!((s.high - spread).abs() < 1e-12 && (s.low * spread - 1.0).abs() < 1e-12);
        assert!((s.log_sd() - data::AIR_SPEED_LOG_SD.number()).abs() < 1e-12);
        let still = AirSpeed::measured(Velocity::new::<meter_per_second>(0.0)).expect("in range");
        assert_eq!(still.log_sd(), 0.0);
    }

    #[test]
    fn a_gale_is_refused() {
        assert!(AirSpeed::measured(Velocity::new::<meter_per_second>(30.0)).is_err());
        assert!(AirSpeed::measured(Velocity::new::<meter_per_second>(f64::NAN)).is_err());
    }
}
