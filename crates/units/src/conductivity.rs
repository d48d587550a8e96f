//! Electrical conductivity, which means nothing without its temperature.
//!
//! A [`Conductivity`] is what a cell reads at the temperature of the water; a
//! [`SpecificConductance`] is the same water brought to 25 °C, and a type of its own. A
//! [`Compensation`] leads from one to the other. Most meters show the specific conductance.

use crate::fault;
use crate::quantity::{ElectricalConductivity, ThermodynamicTemperature, in_us_per_cm, us_per_cm};
use crate::quantity::{celsius, in_celsius};
use core::fmt;
use guardcell_error::Error;

mod table {
    include!(concat!(env!("OUT_DIR"), "/f25.rs"));
}
use table::F25;

/// The reference temperature of specific conductance, in °C.
const REFERENCE_C: f64 = 25.0;

/// How EC is brought to 25 °C.
///
/// Both ways are of ISO 7888:1985 (EN 27888). They agree within 1 % from 18 to 32 °C and part
/// by several per cent towards 0 °C. Neither knows what is dissolved: feeds measured between 15
/// and 25 °C run from 1.6 to 2.1 %/K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Compensation {
    /// `EC25 = EC / (1 + α (t − 25 °C))` with α a share of EC25 per kelvin.
    Linear {
        /// The coefficient α, per kelvin (0.019 for 1.9 %/K).
        per_kelvin: TemperatureCoefficient,
    },
    /// `EC25 = f25(t) · EC`, the tabulated function for natural waters, 0 °C to below 36 °C.
    NaturalWater,
}

impl Compensation {
    /// Linear with 1.9 %/K, which meters ship with.
    pub const METER: Self = Self::Linear { per_kelvin: TemperatureCoefficient::METER };

    /// The factor `EC25 / EC` for water at `at`.
    ///
    /// # Errors
    /// When `at` is outside 0 to 100 °C (linear) or 0 to below 36 °C (natural water), or when
    /// the linear line would fall to zero or below.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::Compensation;
    /// use guardcell::units::quantity::celsius;
    /// let f = Compensation::NaturalWater.factor(celsius(10.0)).unwrap();
    /// assert!((f - 1.428).abs() < 1e-12);
    /// ```
    pub fn factor(self, at: ThermodynamicTemperature) -> Result<f64, Error> {
        let t = in_celsius(at);
        match self {
            Self::Linear { per_kelvin } => {
                if !(0.0..=100.0).contains(&t) {
                    return Err(out_of_range(t, "0 to 100 °C, where water is liquid"));
                }
                let line = 1.0 + per_kelvin.0 * (t - REFERENCE_C);
                // The line is a tangent at 25 °C: far from it, with a steep coefficient, it
                // meets zero, which no water does.
                if line < 0.1 {
                    return Err(out_of_range(
                        t,
                        "a temperature nearer to 25 °C for this coefficient",
                    ));
                }
                Ok(1.0 / line)
            }
            Self::NaturalWater => {
                // Readings converted from °F or K miss whole degrees by a rounding error.
                let t = if (-1e-9..0.0).contains(&t) { 0.0 } else { t };
                if !(0.0..36.0).contains(&t) {
                    return Err(out_of_range(t, "0 to below 36 °C, the range of ISO 7888"));
                }
                Ok(f25(t))
            }
        }
    }
}

impl Default for Compensation {
    fn default() -> Self {
        Self::METER
    }
}

fn out_of_range(t: f64, range: &str) -> Error {
    let value = format!("{} °C", crate::round::significant(t, 6));
    fault::out_of_range("the temperature of the EC reading", &value, range)
}

/// Third-degree interpolation in the table of whole degrees; the printed tenths of a degree are
/// met within the last printed digit.
fn f25(t_c: f64) -> f64 {
    let last = F25.len() - 1;
    // `t_c` is within 0 to 36, so the cast is exact; the window of four nodes is kept inside.
    let start = (t_c as usize).saturating_sub(1).min(last - 3);
    let mut sum = 0.0;
    for i in start..start + 4 {
        let mut weight = 1.0;
        for j in start..start + 4 {
            if i != j {
                weight *= (t_c - j as f64) / (i as f64 - j as f64);
            }
        }
        sum += weight * F25.get(i).copied().unwrap_or(1.0);
    }
    sum
}

/// The linear temperature coefficient of EC, a share of EC at 25 °C per kelvin.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct TemperatureCoefficient(f64);

impl TemperatureCoefficient {
    /// 1.9 %/K: what ISO 7888 finds for most waters and most meters ship with.
    pub const METER: Self = Self(0.019);

    /// From a number of per cent per kelvin, between 0 and 10.
    ///
    /// # Errors
    /// When the number is not finite or outside 0 to 10 %/K.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::TemperatureCoefficient;
    /// assert!(TemperatureCoefficient::from_percent_per_kelvin(2.0).is_ok());
    /// assert!(TemperatureCoefficient::from_percent_per_kelvin(40.0).is_err());
    /// ```
    pub fn from_percent_per_kelvin(percent: f64) -> Result<Self, Error> {
        if (0.0..=10.0).contains(&percent) {
            Ok(Self(percent / 100.0))
        } else {
            Err(fault::out_of_range(
                "the temperature coefficient of EC",
                &format!("{percent} %/K"),
                "0 to 10 %/K (meters use 1.9 to 2.1)",
            ))
        }
    }

    /// The number of per cent per kelvin.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::TemperatureCoefficient;
    /// assert!((TemperatureCoefficient::METER.percent_per_kelvin() - 1.9).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn percent_per_kelvin(self) -> f64 {
        self.0 * 100.0
    }
}

/// An EC as measured, with the temperature of the water it was measured in.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::conductivity::{Compensation, Conductivity};
/// use guardcell::units::quantity::{celsius, us_per_cm};
/// let reading = Conductivity::new(us_per_cm(1400.0), celsius(18.0));
/// let ec25 = reading.at_25(Compensation::METER).unwrap();
/// assert!((ec25.us_per_cm() - 1614.8).abs() < 0.1);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conductivity {
    value: ElectricalConductivity,
    at: ThermodynamicTemperature,
}

impl Conductivity {
    /// From the uncompensated reading and the water temperature.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::Conductivity;
    /// use guardcell::units::quantity::{celsius, in_celsius, us_per_cm};
    /// let reading = Conductivity::new(us_per_cm(1400.0), celsius(18.0));
    /// assert!((in_celsius(reading.at()) - 18.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn new(value: ElectricalConductivity, at: ThermodynamicTemperature) -> Self {
        Self { value, at }
    }

    /// The reading.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::Conductivity;
    /// use guardcell::units::quantity::{celsius, us_per_cm};
    /// let reading = Conductivity::new(us_per_cm(1400.0), celsius(18.0));
    /// assert_eq!(reading.value(), us_per_cm(1400.0));
    /// ```
    #[must_use]
    pub fn value(self) -> ElectricalConductivity {
        self.value
    }

    /// The temperature of the water when it was read.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::Conductivity;
    /// use guardcell::units::quantity::{celsius, us_per_cm};
    /// assert_eq!(Conductivity::new(us_per_cm(1.0), celsius(18.0)).at(), celsius(18.0));
    /// ```
    #[must_use]
    pub fn at(self) -> ThermodynamicTemperature {
        self.at
    }

    /// Brought to 25 °C.
    ///
    /// # Errors
    /// When the temperature is outside the range of the compensation.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::{Compensation, Conductivity};
    /// use guardcell::units::quantity::{celsius, us_per_cm};
    /// let cold = Conductivity::new(us_per_cm(300.0), celsius(10.0));
    /// let ec25 = cold.at_25(Compensation::NaturalWater).unwrap();
    /// assert!((ec25.us_per_cm() - 428.4).abs() < 1e-9);
    /// ```
    pub fn at_25(self, compensation: Compensation) -> Result<SpecificConductance, Error> {
        Ok(SpecificConductance(self.value * compensation.factor(self.at)?))
    }
}

/// Specific conductance: the EC of a water at 25 °C. This is what a compensated meter shows.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct SpecificConductance(ElectricalConductivity);

impl SpecificConductance {
    /// From an EC that is already compensated to 25 °C.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::SpecificConductance;
    /// use guardcell::units::quantity::us_per_cm;
    /// let ec25 = SpecificConductance::new(us_per_cm(700.0));
    /// assert_eq!(ec25, SpecificConductance::from_us_per_cm(700.0));
    /// ```
    #[must_use]
    pub fn new(at_25: ElectricalConductivity) -> Self {
        Self(at_25)
    }

    /// From a number of µS/cm at 25 °C.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::SpecificConductance;
    /// assert_eq!(SpecificConductance::from_us_per_cm(700.0).to_string(), "700 µS/cm at 25 °C");
    /// ```
    #[must_use]
    pub fn from_us_per_cm(value: f64) -> Self {
        Self(us_per_cm(value))
    }

    /// The EC at 25 °C.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::SpecificConductance;
    /// use guardcell::units::quantity::us_per_cm;
    /// assert_eq!(SpecificConductance::from_us_per_cm(700.0).value(), us_per_cm(700.0));
    /// ```
    #[must_use]
    pub fn value(self) -> ElectricalConductivity {
        self.0
    }

    /// The number of µS/cm at 25 °C.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::SpecificConductance;
    /// assert!((SpecificConductance::from_us_per_cm(700.0).us_per_cm() - 700.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn us_per_cm(self) -> f64 {
        in_us_per_cm(self.0)
    }

    /// What an uncompensated cell would read in the same water at another temperature.
    ///
    /// # Errors
    /// When the temperature is outside the range of the compensation.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::{Compensation, SpecificConductance};
    /// use guardcell::units::quantity::celsius;
    /// let tap = SpecificConductance::from_us_per_cm(500.0);
    /// let cold = tap.read_at(celsius(5.0), Compensation::NaturalWater).unwrap();
    /// assert!((guardcell::units::quantity::in_us_per_cm(cold.value()) - 304.3).abs() < 0.1);
    /// ```
    pub fn read_at(
        self,
        at: ThermodynamicTemperature,
        compensation: Compensation,
    ) -> Result<Conductivity, Error> {
        Ok(Conductivity::new(self.0 / compensation.factor(at)?, at))
    }
}

impl From<SpecificConductance> for Conductivity {
    fn from(ec25: SpecificConductance) -> Self {
        Self::new(ec25.0, celsius(REFERENCE_C))
    }
}

impl fmt::Display for SpecificConductance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = crate::round::significant(self.us_per_cm(), 10);
        write!(f, "{number} µS/cm at 25 °C")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_met_at_its_nodes() {
        for (t, want) in F25.iter().enumerate() {
            assert!((f25(t as f64) - want).abs() < 1e-12, "{t} °C");
        }
    }

    #[test]
    fn ranges_are_kept() {
        assert!(Compensation::NaturalWater.factor(celsius(36.0)).is_err());
        assert!(Compensation::NaturalWater.factor(celsius(-0.5)).is_err());
        assert!(Compensation::METER.factor(celsius(101.0)).is_err());
        assert!(Compensation::METER.factor(celsius(f64::NAN)).is_err());
        let steep = TemperatureCoefficient::from_percent_per_kelvin(5.0).unwrap();
        let linear = Compensation::Linear { per_kelvin: steep };
        assert!(linear.factor(celsius(2.0)).is_err());
    }

    #[test]
    fn compensation_undoes_itself() {
        for t in [0.0, 4.5, 18.0, 25.0, 35.9] {
            for way in [Compensation::METER, Compensation::NaturalWater] {
                let ec25 = SpecificConductance::from_us_per_cm(815.0);
                let back = ec25.read_at(celsius(t), way).unwrap().at_25(way).unwrap();
                assert!((back.us_per_cm() - 815.0).abs() < 1e-9);
            }
        }
    }
}
