//! The air at one moment, in the units its fields name, and how it is known.

use crate::error::below;
use crate::request::Reading;
use guardcell_error::Error;
use guardcell_film::{AirSpeed, AirWord, MoistAir};
use guardcell_reference::parameters::{film, practice as p};
use guardcell_units::quantity::{
    HeatFluxDensity, Pressure, Ratio, ThermodynamicTemperature, Velocity,
};
use guardcell_units::uom::si::{
    heat_flux_density::watt_per_square_meter, pressure::pascal, ratio::percent,
    thermodynamic_temperature::degree_celsius, velocity::meter_per_second,
};
use serde::{Deserialize, Serialize};

/// How the air of a time is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum AirBasis {
    /// From a reading, or between two.
    Reading,
    /// From a reading that lies after the start of the time looked at: a forecast.
    Forecast,
    /// Assumed from the readings before: the last full day repeats, or a day's course by shelter
    /// and light.
    Assumed,
}

impl AirBasis {
    /// The word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Reading => "reading",
            Self::Forecast => "forecast",
            Self::Assumed => "assumed",
        }
    }
}

/// The air at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Air {
    pub(crate) temp_c: f64,
    pub(crate) rh_percent: f64,
    pub(crate) air_m_s: Option<f64>,
    pub(crate) radiation_w_m2: Option<f64>,
}

/// The air at one moment with how it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct KnownAir {
    pub(crate) air: Air,
    pub(crate) basis: AirBasis,
    /// Standard deviation of the humidity beside that of the sensor, in % relative humidity: 0
    /// where it was read.
    pub(crate) rh_sd: f64,
    /// Hours from the nearest reading; 0 where it was read or forecast.
    pub(crate) hours_away: f64,
}

impl Air {
    pub(crate) fn from_reading(r: &Reading) -> Self {
        Self {
            temp_c: r.temp_c,
            rh_percent: r.rh_percent,
            air_m_s: r.air_m_s,
            radiation_w_m2: r.radiation_w_m2,
        }
    }

    /// The air part of the way to another.
    pub(crate) fn towards(self, other: Self, share: f64) -> Self {
        let mix = |a: f64, b: f64| a + (b - a) * share;
        let mix_some = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => Some(mix(a, b)),
            (a, b) => a.or(b),
        };
        Self {
            temp_c: mix(self.temp_c, other.temp_c),
            rh_percent: mix(self.rh_percent, other.rh_percent),
            air_m_s: mix_some(self.air_m_s, other.air_m_s),
            radiation_w_m2: mix_some(self.radiation_w_m2, other.radiation_w_m2),
        }
    }

    pub(crate) fn with_humidity(self, rh_percent: f64) -> Self {
        Self { rh_percent: rh_percent.clamp(0.0, 100.0), ..self }
    }

    /// The air for the film model.
    pub(crate) fn moist(self, pressure: Pressure) -> Result<MoistAir, Error> {
        MoistAir::new(
            ThermodynamicTemperature::new::<degree_celsius>(self.temp_c),
            Ratio::new::<percent>(self.rh_percent.max(film::HUMIDITY_LOWEST.percent())),
            pressure,
        )
        .map_err(|e| below("/readings", e))
    }

    /// The air speed at the leaf: as known, or light air where it is not.
    pub(crate) fn speed(self) -> Result<AirSpeed, Error> {
        match self.air_m_s {
            Some(v) => {
                let v = v.min(film::AIR_SPEED_HIGHEST.m_per_s());
                AirSpeed::measured(Velocity::new::<meter_per_second>(v))
                    .map_err(|e| below("/readings", e))
            }
            None => Ok(AirSpeed::from(AirWord::Light)),
        }
    }

    /// Net radiation from what falls on the leaf; none at night.
    pub(crate) fn net_radiation(self) -> HeatFluxDensity {
        let absorbed = self.radiation_w_m2.unwrap_or(0.0) * p::LEAF_ABSORBS.number();
        HeatFluxDensity::new::<watt_per_square_meter>(
            absorbed.min(film::NET_RADIATION_HIGHEST.w_per_m2()),
        )
    }

    /// Vapour pressure in Pa.
    pub(crate) fn vapour_pa(self, pressure: Pressure) -> Result<f64, Error> {
        Ok(self.moist(pressure)?.vapour_pressure().get::<pascal>())
    }

    /// Air of this temperature that holds this much vapour; at most saturated.
    pub(crate) fn holding(
        self,
        temp_c: f64,
        vapour_pa: f64,
        pressure: Pressure,
    ) -> Result<Self, Error> {
        let temp_c = temp_c
            .clamp(film::AIR_TEMPERATURE_LOWEST.celsius(), film::AIR_TEMPERATURE_HIGHEST.celsius());
        let at = Self { temp_c, ..self };
        let full = at.moist(pressure)?.saturation_pressure().get::<pascal>();
        Ok(at.with_humidity(vapour_pa / full * 100.0))
    }
}
