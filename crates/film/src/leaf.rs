//! The leaf that carries the film.

use crate::error::{FilmError, in_range};
use guardcell_reference::parameters::film as data;
use guardcell_units::quantity::{HeatFluxDensity, Length};
use guardcell_units::uom::si::{heat_flux_density::watt_per_square_meter, length::meter};
use serde::{Deserialize, Serialize};

/// Which sides of the leaf are wet.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum WetSides {
    /// One side; the other exchanges heat and stays dry.
    #[default]
    One,
    /// Both sides, each with the film load.
    Both,
}

impl WetSides {
    pub(crate) const fn count(self) -> f64 {
        match self {
            Self::One => 1.0,
            Self::Both => 2.0,
        }
    }
}

/// A flat leaf with a film.
///
/// ```
/// use guardcell_film::{Leaf, WetSides};
/// use guardcell_units::{quantity::{HeatFluxDensity, Length}, uom::si::{heat_flux_density::watt_per_square_meter, length::centimeter}};
/// let leaf = Leaf::new(Length::new::<centimeter>(5.0))?
///     .wet_on(WetSides::Both)
///     .absorbing(HeatFluxDensity::new::<watt_per_square_meter>(50.0))?;
/// # let _ = leaf; Ok::<(), guardcell_film::FilmError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaf {
    pub(crate) width_m: f64,
    pub(crate) sides: WetSides,
    pub(crate) net_radiation_w_m2: f64,
    pub(crate) flutters: bool,
}

impl Leaf {
    /// A leaf of this dimension along the air flow (0.2 to 60 cm), wet on one side, that absorbs no
    /// net radiation and hangs still.
    ///
    /// # Errors
    /// [`FilmError::OutOfRange`] outside 0.2 to 60 cm.
    pub fn new(width: Length) -> Result<Self, FilmError> {
        let cm = ((width.get::<meter>() * 100.0) * 1e9).round() / 1e9;
        let range = (data::LEAF_WIDTH_LOWEST.value, data::LEAF_WIDTH_HIGHEST.value);
        in_range("/leaf_cm", "leaf dimension", cm, range, "cm")?;
        Ok(Self {
            width_m: cm / 100.0,
            sides: WetSides::One,
            net_radiation_w_m2: 0.0,
            flutters: false,
        })
    }

    /// The same leaf wet on these sides.
    #[must_use]
    pub const fn wet_on(self, sides: WetSides) -> Self {
        Self { sides, ..self }
    }

    /// The same leaf absorbing this net radiation (per area of one side, what the leaf would absorb
    /// at air temperature), −150 to 800 W/m².
    ///
    /// # Errors
    /// [`FilmError::OutOfRange`] outside that range.
    pub fn absorbing(self, net: HeatFluxDensity) -> Result<Self, FilmError> {
        let w = net.get::<watt_per_square_meter>();
        let range = (data::NET_RADIATION_LOWEST.value, data::NET_RADIATION_HIGHEST.value);
        let w = in_range("/net_radiation_w_m2", "absorbed net radiation", w, range, "W/m²")?;
        Ok(Self { net_radiation_w_m2: w, ..self })
    }

    /// The same leaf fluttering in the wind: forced convection × 1.4 (Schuepp 1972).
    #[must_use]
    pub const fn fluttering(self) -> Self {
        Self { flutters: true, ..self }
    }
}

impl Default for Leaf {
    /// A still leaf of the default width, wet on one side, without net radiation.
    fn default() -> Self {
        Self {
            width_m: data::LEAF_WIDTH_DEFAULT.value / 100.0,
            sides: WetSides::One,
            net_radiation_w_m2: 0.0,
            flutters: false,
        }
    }
}
