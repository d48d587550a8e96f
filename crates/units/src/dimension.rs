//! The kinds of quantity that are read and written.

use serde::{Deserialize, Serialize};

/// A kind of quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Dimension {
    /// Mass.
    Mass,
    /// Volume.
    Volume,
    /// Length.
    Length,
    /// Area.
    Area,
    /// Time.
    Time,
    /// Absolute temperature.
    Temperature,
    /// Temperature difference.
    TemperatureInterval,
    /// Pressure.
    Pressure,
    /// Speed of air.
    Speed,
    /// Power (only as part of an irradiance).
    Power,
    /// Power of radiation per area.
    Irradiance,
    /// Luminous flux (only as part of an illuminance).
    LuminousFlux,
    /// Illuminance: light on a surface as the eye weighs it.
    Illuminance,
    /// Photosynthetic photon flux density (PPFD): photons of 400 to 700 nm per area and time.
    PhotonFluxDensity,
    /// Amount of substance.
    Amount,
    /// Amount of charge.
    Charge,
    /// Electrical conductance (only as part of a conductivity).
    Conductance,
    /// Electrical conductivity (EC).
    Conductivity,
    /// EC shown as ppm by a meter on a TDS scale.
    MeterPpm,
    /// Parts per million before its meaning is known.
    Ppm,
    /// Mass per volume of solution, or the bulk density of a powder.
    MassPerVolume,
    /// Mass concentration of an analyte on a basis.
    AsBasis,
    /// Mass concentration of everything dissolved from the feed.
    FeedStrength,
    /// Amount of substance per volume.
    AmountPerVolume,
    /// Amount of charge per volume.
    ChargePerVolume,
    /// Hardness: calcium and magnesium together.
    Hardness,
    /// Alkalinity: acid taken up.
    Alkalinity,
    /// Mass per mass.
    MassFraction,
    /// Volume per volume.
    VolumeFraction,
    /// A percentage of something not stated.
    Percentage,
    /// Relative humidity.
    Humidity,
    /// Mass per area.
    ArealMass,
    /// Injector ratio.
    InjectorRatio,
}

impl Dimension {
    /// The kind in words with its article, for messages.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::dimension::Dimension;
    /// assert_eq!(Dimension::Hardness.with_article(), "a hardness");
    /// ```
    #[must_use]
    pub const fn with_article(self) -> &'static str {
        match self {
            Self::Mass => "a mass",
            Self::Volume => "a volume",
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Time => "a time",
            Self::Temperature => "a temperature",
            Self::TemperatureInterval => "a temperature difference",
            Self::Pressure => "a pressure",
            Self::Speed => "a speed",
            Self::Power => "a power",
            Self::Irradiance => "an irradiance",
            Self::LuminousFlux => "a luminous flux",
            Self::Illuminance => "an illuminance",
            Self::PhotonFluxDensity => "a photon flux density (PPFD)",
            Self::Amount => "an amount of substance",
            Self::Charge => "an amount of charge",
            Self::Conductance => "a conductance",
            Self::Conductivity => "an electrical conductivity (EC)",
            Self::MeterPpm => "a meter reading in ppm",
            Self::Ppm => "a bare ppm",
            Self::MassPerVolume => "a mass per volume",
            Self::AsBasis => "a mass concentration of a nutrient or ion",
            Self::FeedStrength => "a feed strength",
            Self::AmountPerVolume => "an amount of substance per volume",
            Self::ChargePerVolume => "an amount of charge per volume",
            Self::Hardness => "a hardness",
            Self::Alkalinity => "an alkalinity",
            Self::MassFraction => "a share by mass",
            Self::VolumeFraction => "a volume per volume",
            Self::Percentage => "a percentage",
            Self::Humidity => "a relative humidity",
            Self::ArealMass => "a mass per area",
            Self::InjectorRatio => "an injector ratio",
        }
    }

    /// An example of a quantity of this kind.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::dimension::Dimension;
    /// assert_eq!(Dimension::ArealMass.example(), "80 g/m2");
    /// ```
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Self::Mass => "12 g or 1/2 oz",
            Self::Volume => "8 L, 500 mL or 2 gal",
            Self::Length => "12 cm or 5 in",
            Self::Area => "0.5 m2",
            Self::Time => "30 min",
            Self::Temperature => "18 °C or 64 °F",
            Self::TemperatureInterval => "3 K difference",
            Self::Pressure => "101.3 kPa",
            Self::Speed => "0.3 m/s",
            Self::Power => "18 W",
            Self::Irradiance => "350 W/m2",
            Self::LuminousFlux => "800 lm",
            Self::Illuminance => "10000 lux or 900 fc",
            Self::PhotonFluxDensity => "200 µmol/m2/s",
            Self::Amount => "2 mmol",
            Self::Charge => "2 meq",
            Self::Conductance => "1 mS",
            Self::Conductivity => "1.4 mS/cm or 1.4 mS/cm at 18 °C",
            Self::MeterPpm => "350 ppm meter 500",
            Self::Ppm => "150 ppm N",
            Self::MassPerVolume => "2 g/L or 1/2 oz/gal",
            Self::AsBasis => "150 mg/L N",
            Self::FeedStrength => "300 mg/L feed",
            Self::AmountPerVolume => "2 mmol/L Ca",
            Self::ChargePerVolume => "2 meq/L",
            Self::Hardness => "14 °dH or 250 mg/L CaCO3",
            Self::Alkalinity => "3 meq/L or 150 mg/L CaCO3",
            Self::MassFraction => "20 % N or 200 g/kg",
            Self::VolumeFraction => "5 mL/L or 1 tsp/gal",
            Self::Percentage => "20 %",
            Self::Humidity => "70 % RH",
            Self::ArealMass => "80 g/m2",
            Self::InjectorRatio => "1:100",
        }
    }
}
