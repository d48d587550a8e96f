//! The leaf that carries the film.

use crate::bound;
use guardcell_call::Limited;
use guardcell_error::Error;
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
/// # mod guardcell {
/// #     pub use guardcell_error::{Error};
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::{Leaf, WetSides};
/// use guardcell::units::{quantity::{HeatFluxDensity, Length}, uom::si::{heat_flux_density::watt_per_square_meter, length::centimeter}};
/// let leaf = Leaf::new(Length::new::<centimeter>(5.0))?
///     .wet_on(WetSides::Both)
///     .absorbing(HeatFluxDensity::new::<watt_per_square_meter>(50.0))?;
/// # let _ = leaf; Ok::<(), guardcell::Error>(())
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
    /// net radiation and is too stiff to flutter.
    ///
    /// # Errors
    /// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) outside 0.2 to 60 cm.
    pub fn new(width: Length) -> Result<Self, Error> {
        let cm = bound::checked(width.get::<meter>() * 100.0, &bound::LEAF_WIDTH, "/leaf_cm")?;
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
    /// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) outside that range.
    pub fn absorbing(self, net: HeatFluxDensity) -> Result<Self, Error> {
        let w = net.get::<watt_per_square_meter>();
        w.check(&bound::NET_RADIATION, "/net_radiation_w_m2")?;
        Ok(Self { net_radiation_w_m2: w, ..self })
    }

    /// The same leaf, thin enough to flutter in wind: forced convection rises to 1.4 times that of
    /// a flat plate (Schuepp 1972) between the speed at which leaves begin to tremble and that at
    /// which they move all the time (`data/film.csv`).
    #[must_use]
    pub const fn fluttering(self) -> Self {
        Self { flutters: true, ..self }
    }
}

impl Default for Leaf {
    /// A stiff leaf of the default width, wet on one side, without net radiation.
    fn default() -> Self {
        Self {
            width_m: data::LEAF_WIDTH_DEFAULT.cm() / 100.0,
            sides: WetSides::One,
            net_radiation_w_m2: 0.0,
            flutters: false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn radiation_and_width_have_their_ranges() {
        let absorbing = |w: f64| {
            Leaf::default().absorbing(HeatFluxDensity::new::<watt_per_square_meter>(w)).is_ok()
        };
        for (w, accepted) in [(-150.0, true), (-150.1, false), (800.0, true), (800.1, false)] {
            assert_eq!(absorbing(w), accepted, "{w}");
        }
        let wide = |m: f64| Leaf::new(Length::new::<meter>(m)).is_ok();
        for (m, accepted) in [(0.002, true), (0.0019, false), (0.6, true), (0.601, false)] {
            assert_eq!(wide(m), accepted, "{m}");
        }
        assert!(!wide(f64::NAN) && !absorbing(f64::NAN));
    }

    #[test]
    fn sides_are_counted() {
        assert_eq!((WetSides::One.count(), WetSides::Both.count()), (1.0, 2.0));
    }
}
