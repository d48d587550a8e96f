//! How a film dries: time, concentration, solids and leaf temperature.

mod course;
mod path;

pub use course::{Moment, drying_course};
pub(crate) use path::{Path, leg};

use crate::leaf::Leaf;
use crate::mix::{FilmState, Mix};
use crate::moist_air::MoistAir;
use crate::surface::{FluxCurve, Surface};
use guardcell_units::quantity::{
    ArealMassDensity, MassConcentration, Ratio, ThermodynamicTemperature, Time, Velocity, mg_per_l,
};
use guardcell_units::uom::si::{
    areal_mass_density::kilogram_per_square_meter, ratio::ratio, thermodynamic_temperature::kelvin,
    time::second, velocity::meter_per_second,
};

/// The outcome of one drying.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Drying {
    /// What is on the leaf in the end.
    pub state: FilmState,
    /// Time until the leaf is dry to the touch: 1 % of the water or 1 g/m² is left, whichever is
    /// less; all of it gone for pure water. `None` if the feed stays wet (all salts dissolved) or
    /// the air lets more than that stay.
    pub time_to_dry: Option<Time>,
    /// The water that is left at equilibrium with the air.
    pub liquid_left: ArealMassDensity,
    /// The highest concentration of everything dissolved that the film passes through.
    pub peak_concentration: MassConcentration,
    /// The lowest temperature of the leaf.
    pub coldest: ThermodynamicTemperature,
    /// The humidity over the film at which it rests: that of the room, corrected for a leaf that
    /// radiation warms or cools.
    pub resting_humidity: Ratio,
}

/// Dries a film of this load (per wet side) in steady air; the fast path, a few microseconds.
///
/// A litre of the solution is taken as a kilogram. Loads up to 1000 g/m² make sense.
///
/// ```
/// # mod guardcell {
/// #     pub use guardcell_error::{Error};
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::{FilmState, Leaf, Mix, MoistAir, drying};
/// use guardcell::units::quantity::{ArealMassDensity, Velocity};
/// use guardcell::units::uom::si::{areal_mass_density::kilogram_per_square_meter, time::minute, velocity::meter_per_second};
/// let outcome = drying(
///     &Mix::pure_water(),
///     &Leaf::default(),
///     &MoistAir::from_celsius_percent(22.0, 60.0)?,
///     Velocity::new::<meter_per_second>(0.5),
///     ArealMassDensity::new::<kilogram_per_square_meter>(0.1),
/// );
/// assert_eq!(outcome.state, FilmState::Dry);
/// let minutes = outcome.time_to_dry.expect("it dries").get::<minute>();
/// assert!(minutes > 10.0 && minutes < 60.0);
/// # Ok::<(), guardcell::Error>(())
/// ```
#[must_use]
pub fn drying(
    mix: &Mix,
    leaf: &Leaf,
    air: &MoistAir,
    air_speed: Velocity,
    load: ArealMassDensity,
) -> Drying {
    let surface = Surface::new(leaf, air, air_speed.get::<meter_per_second>().max(0.0));
    let curve = FluxCurve::new(&surface);
    let load = load.get::<kilogram_per_square_meter>().max(0.0);
    outcome(mix, &curve, load)
}

/// The outcome with a flux curve in hand, for a load in kg/m².
pub(crate) fn outcome(mix: &Mix, curve: &FluxCurve, load: f64) -> Drying {
    let path = Path::new(mix, load);
    let resting = Ratio::new::<ratio>(curve.resting);
    let state = mix.state_at(resting);
    let time =
        if state == FilmState::Wet { None } else { path.seconds_to(path.dry_water(), curve) };
    Drying {
        state,
        time_to_dry: time.map(Time::new::<second>),
        liquid_left: ArealMassDensity::new::<kilogram_per_square_meter>(
            path.resting_water(curve.resting),
        ),
        peak_concentration: mg_per_l(path.peak_g_l(curve.resting) * 1000.0),
        coldest: ThermodynamicTemperature::new::<kelvin>(curve.coldest_k),
        resting_humidity: resting,
    }
}

#[cfg(test)]
mod tests;
