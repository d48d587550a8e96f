//! Moist air: what its temperature, humidity and pressure say about drying.
//!
//! Equations of ASHRAE Handbook Fundamentals 2017, chapter 1 (perfect gas, no enhancement factor),
//! always over liquid water. Valid from −5 to 50 °C, 1 to 100 % and 50 to 110 kPa.

use crate::bound;
use crate::saturation;
use guardcell_error::Error;
use guardcell_reference::parameters::film as data;
use guardcell_units::quantity::{MassDensity, Pressure, Ratio, ThermodynamicTemperature};
use guardcell_units::uom::si::f64::{AvailableEnergy, DiffusionCoefficient};
use guardcell_units::uom::si::{
    available_energy::joule_per_kilogram, diffusion_coefficient::square_meter_per_second,
    mass_density::kilogram_per_cubic_meter, pressure::pascal, ratio::ratio,
    thermodynamic_temperature::kelvin,
};

pub(crate) const ZERO_CELSIUS_K: f64 = 273.15; // definition of the Celsius scale

/// Air of a stated temperature, relative humidity and pressure.
///
/// ```
/// # mod guardcell {
/// #     pub use guardcell_error::{Error};
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::MoistAir;
/// use guardcell::units::uom::si::thermodynamic_temperature::degree_celsius;
/// let air = MoistAir::from_celsius_percent(25.0, 50.0)?;
/// assert!((air.dew_point().get::<degree_celsius>() - 13.86).abs() < 0.02);
/// # Ok::<(), guardcell::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MoistAir {
    pub(crate) t_k: f64,
    pub(crate) rh: f64,
    pub(crate) p_pa: f64,
    pub(crate) saturation_pa: f64,
}

impl MoistAir {
    /// Air of −5 to 50 °C, 1 to 100 % relative humidity (over water) and 50 to 110 kPa.
    ///
    /// # Errors
    /// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) if a quantity is outside these ranges or
    /// not a number.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub use guardcell_error::{Error};
    /// #     pub mod film { pub use guardcell_film::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::film::MoistAir;
    /// use guardcell::units::quantity::{Pressure, Ratio, ThermodynamicTemperature};
    /// use guardcell::units::uom::si::{pressure::kilopascal, ratio::percent, thermodynamic_temperature::degree_celsius};
    /// let air = MoistAir::new(
    ///     ThermodynamicTemperature::new::<degree_celsius>(20.0),
    ///     Ratio::new::<percent>(65.0),
    ///     Pressure::new::<kilopascal>(101.325),
    /// )?;
    /// assert!(MoistAir::from_celsius_percent(250.0, 65.0).is_err());
    /// # let _ = air; Ok::<(), guardcell::Error>(())
    /// ```
    pub fn new(
        temperature: ThermodynamicTemperature,
        relative_humidity: Ratio,
        pressure: Pressure,
    ) -> Result<Self, Error> {
        let t_k = temperature.get::<kelvin>();
        bound::checked(t_k - ZERO_CELSIUS_K, &bound::TEMPERATURE, "/temp_c")?;
        let percent = relative_humidity.get::<ratio>() * 100.0;
        bound::checked(percent, &bound::HUMIDITY, "/rh_percent")?;
        bound::checked(pressure.get::<pascal>() / 1000.0, &bound::PRESSURE, "/pressure_kpa")?;
        Ok(Self {
            t_k,
            rh: relative_humidity.get::<ratio>().min(1.0),
            p_pa: pressure.get::<pascal>(),
            saturation_pa: saturation::pressure(t_k),
        })
    }

    /// Air at sea-level pressure from a number of °C and of % relative humidity.
    ///
    /// # Errors
    /// As [`Self::new`].
    ///
    /// ```
    /// # mod guardcell { pub use guardcell_error::{Error}; pub mod film { pub use guardcell_film::*; } }
    /// let air = guardcell::film::MoistAir::from_celsius_percent(20.0, 65.0)?;
    /// # let _ = air; Ok::<(), guardcell::Error>(())
    /// ```
    pub fn from_celsius_percent(celsius: f64, percent: f64) -> Result<Self, Error> {
        Self::new(
            ThermodynamicTemperature::new::<kelvin>(celsius + ZERO_CELSIUS_K),
            Ratio::new::<ratio>(percent / 100.0),
            Pressure::new::<pascal>(data::STANDARD_PRESSURE.kpa() * 1000.0),
        )
    }

    /// The same air at another relative humidity, kept within the valid range.
    #[must_use]
    pub fn at_humidity(&self, relative_humidity: Ratio) -> Self {
        Self {
            rh: relative_humidity
                .get::<ratio>()
                .clamp(data::HUMIDITY_LOWEST.percent() / 100.0, 1.0),
            ..*self
        }
    }

    /// The air temperature.
    #[must_use]
    pub fn temperature(&self) -> ThermodynamicTemperature {
        ThermodynamicTemperature::new::<kelvin>(self.t_k)
    }

    /// The relative humidity over liquid water.
    #[must_use]
    pub fn relative_humidity(&self) -> Ratio {
        Ratio::new::<ratio>(self.rh)
    }

    /// The air pressure.
    #[must_use]
    pub fn pressure(&self) -> Pressure {
        Pressure::new::<pascal>(self.p_pa)
    }

    /// Saturation pressure over liquid water at the air temperature (ASHRAE 2017 eq. 6).
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub use guardcell_error::{Error};
    /// #     pub mod film { pub use guardcell_film::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::units::uom::si::pressure::pascal;
    /// let air = guardcell::film::MoistAir::from_celsius_percent(20.0, 65.0)?;
    /// assert!((air.saturation_pressure().get::<pascal>() - 2338.8).abs() < 1.0);
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    #[must_use]
    pub fn saturation_pressure(&self) -> Pressure {
        Pressure::new::<pascal>(self.saturation_pa)
    }

    pub(crate) fn vapour_pa(&self) -> f64 {
        self.rh * self.saturation_pa
    }

    /// Partial pressure of the water vapour.
    #[must_use]
    pub fn vapour_pressure(&self) -> Pressure {
        Pressure::new::<pascal>(self.vapour_pa())
    }

    /// Vapour pressure deficit of the air.
    #[must_use]
    pub fn vapour_pressure_deficit(&self) -> Pressure {
        Pressure::new::<pascal>(self.saturation_pa - self.vapour_pa())
    }

    /// Dew point, over liquid water also below 0 °C (as the WMO defines it).
    #[must_use]
    pub fn dew_point(&self) -> ThermodynamicTemperature {
        ThermodynamicTemperature::new::<kelvin>(saturation::temperature(self.vapour_pa()))
    }

    /// Mass of vapour per mass of dry air (ASHRAE 2017 eq. 20).
    #[must_use]
    pub fn humidity_ratio(&self) -> Ratio {
        Ratio::new::<ratio>(self.ratio_at(self.vapour_pa()))
    }

    fn ratio_at(&self, vapour_pa: f64) -> f64 {
        data::WATER_AIR_MASS_RATIO.number() * vapour_pa / (self.p_pa - vapour_pa)
    }

    /// Thermodynamic wet-bulb temperature over liquid water (ASHRAE 2017 eq. 33).
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub use guardcell_error::{Error};
    /// #     pub mod film { pub use guardcell_film::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::units::uom::si::thermodynamic_temperature::degree_celsius;
    /// let air = guardcell::film::MoistAir::from_celsius_percent(25.0, 50.0)?;
    /// assert!((air.wet_bulb().get::<degree_celsius>() - 17.88).abs() < 0.02);
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    #[must_use]
    pub fn wet_bulb(&self) -> ThermodynamicTemperature {
        let wanted = self.ratio_at(self.vapour_pa());
        let t = self.t_k - ZERO_CELSIUS_K;
        let ratio_for = |wb: f64| {
            let saturated = self.ratio_at(saturation::pressure(wb + ZERO_CELSIUS_K));
            let latent = data::VAPOUR_ENTHALPY_AT_ZERO.kj_per_kg();
            let (cv, cl) =
                (data::VAPOUR_HEAT_CAPACITY.kj_per_kg_k(), data::WATER_HEAT_CAPACITY.kj_per_kg_k());
            ((latent - (cl - cv) * wb) * saturated
                - data::AIR_HEAT_CAPACITY.kj_per_kg_k() * (t - wb))
                / (latent + cv * t - cl * wb)
        };
        // The ratio rises with the wet bulb, from below at the dew point to above at the dry bulb.
        let (mut low, mut high) = (saturation::temperature(self.vapour_pa()) - ZERO_CELSIUS_K, t);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if ratio_for(middle) > wanted {
                high = middle;
            } else {
                low = middle;
            }
        }
        ThermodynamicTemperature::new::<kelvin>(0.5 * (low + high) + ZERO_CELSIUS_K)
    }

    /// Density of the moist air.
    #[must_use]
    pub fn density(&self) -> MassDensity {
        MassDensity::new::<kilogram_per_cubic_meter>(self.density_kg_m3())
    }

    pub(crate) fn density_kg_m3(&self) -> f64 {
        let e = self.vapour_pa();
        ((self.p_pa - e) / data::GAS_CONSTANT_DRY_AIR.j_per_kg_k()
            + e / data::GAS_CONSTANT_VAPOUR.j_per_kg_k())
            / self.t_k
    }

    /// Latent heat of vaporisation of water at the air temperature.
    #[must_use]
    pub fn latent_heat(&self) -> AvailableEnergy {
        AvailableEnergy::new::<joule_per_kilogram>(latent_heat_j_kg(self.t_k))
    }

    /// Diffusivity of water vapour in this air.
    #[must_use]
    pub fn vapour_diffusivity(&self) -> DiffusionCoefficient {
        DiffusionCoefficient::new::<square_meter_per_second>(vapour_diffusivity_m2_s(
            self.t_k, self.p_pa,
        ))
    }
}

/// Latent heat in J/kg at a temperature in K, the form inside the ASHRAE psychrometer equation.
#[inline]
pub(crate) fn latent_heat_j_kg(t_k: f64) -> f64 {
    let slope = data::WATER_HEAT_CAPACITY.kj_per_kg_k() - data::VAPOUR_HEAT_CAPACITY.kj_per_kg_k();
    (data::VAPOUR_ENTHALPY_AT_ZERO.kj_per_kg() - slope * (t_k - ZERO_CELSIUS_K)) * 1000.0
}

/// Diffusivity of water vapour in m²/s at a temperature in K and pressure in Pa.
pub(crate) fn vapour_diffusivity_m2_s(t_k: f64, p_pa: f64) -> f64 {
    data::VAPOUR_DIFFUSIVITY_FACTOR.m2_per_s()
        * t_k.powf(data::VAPOUR_DIFFUSIVITY_EXPONENT.number())
        * (data::STANDARD_PRESSURE.kpa() * 1000.0 / p_pa)
}
