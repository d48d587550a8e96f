//! Illuminance and photon flux density, which only the spectrum of the light ties together.
//!
//! Lux weighs light by the eye, photosynthetic photon flux density (PPFD) counts photons of 400 to
//! 700 nm. The ratio of the two is a property of the lamp. Factors: `data/light_sources.csv`.

use crate::quantity::{Illuminance, PhotonFluxDensity};
use serde::{Deserialize, Serialize};

mod table {
    include!(concat!(env!("OUT_DIR"), "/light_sources.rs"));
}

/// A kind of light whose spectrum is known well enough to convert lux to PPFD.
///
/// White LEDs are not among them: their ratio runs over a wide range with colour temperature and
/// phosphor, so use the figure of the maker or a quantum meter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum LightSource {
    /// Sun and sky together, also through clear glass.
    Sunlight,
    /// Blue sky without the sun.
    BlueSky,
    /// High-pressure sodium lamp.
    HighPressureSodium,
    /// Metal halide lamp.
    MetalHalide,
    /// Cool white fluorescent lamp.
    CoolWhiteFluorescent,
    /// Incandescent lamp.
    Incandescent,
}

impl LightSource {
    /// Every light source.
    pub const ALL: [Self; 6] = [
        Self::Sunlight,
        Self::BlueSky,
        Self::HighPressureSodium,
        Self::MetalHalide,
        Self::CoolWhiteFluorescent,
        Self::Incandescent,
    ];

    /// The name, as in requests.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::light::LightSource;
    /// assert_eq!(LightSource::MetalHalide.as_str(), "metal_halide");
    /// ```
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Sunlight => "sunlight",
            Self::BlueSky => "blue_sky",
            Self::HighPressureSodium => "high_pressure_sodium",
            Self::MetalHalide => "metal_halide",
            Self::CoolWhiteFluorescent => "cool_white_fluorescent",
            Self::Incandescent => "incandescent",
        }
    }

    /// Lux per µmol/(m² s).
    pub(crate) const fn lux_per_ppfd(self) -> f64 {
        match self {
            Self::Sunlight => table::SUNLIGHT,
            Self::BlueSky => table::BLUE_SKY,
            Self::HighPressureSodium => table::HIGH_PRESSURE_SODIUM,
            Self::MetalHalide => table::METAL_HALIDE,
            Self::CoolWhiteFluorescent => table::COOL_WHITE_FLUORESCENT,
            Self::Incandescent => table::INCANDESCENT,
        }
    }

    /// The photon flux density that comes with an illuminance.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::light::LightSource;
    /// use guardcell::units::quantity::{Illuminance, in_umol_per_m2_s};
    /// use guardcell::units::uom::si::illuminance::lux;
    /// let shade = Illuminance::new::<lux>(10_800.0);
    /// let ppfd = LightSource::Sunlight.photon_flux_density(shade);
    /// assert!((in_umol_per_m2_s(ppfd) - 200.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn photon_flux_density(self, light: Illuminance) -> PhotonFluxDensity {
        let lux = light.get::<uom::si::illuminance::lux>();
        crate::quantity::umol_per_m2_s(lux / self.lux_per_ppfd())
    }

    /// The illuminance that comes with a photon flux density.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::light::LightSource;
    /// use guardcell::units::quantity::umol_per_m2_s;
    /// use guardcell::units::uom::si::illuminance::lux;
    /// let light = LightSource::HighPressureSodium.illuminance(umol_per_m2_s(100.0));
    /// assert!((light.get::<lux>() - 8200.0).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn illuminance(self, light: PhotonFluxDensity) -> Illuminance {
        let ppfd = crate::quantity::in_umol_per_m2_s(light);
        Illuminance::new::<uom::si::illuminance::lux>(ppfd * self.lux_per_ppfd())
    }
}
