//! The drop that hangs at a root tip or an emerging nub: how concentrated it gets, for how long.
//!
//! Tips have no velamen yet; water pearls off and hangs. The drop is a sphere in the air (Ranz &
//! Marshall 1952), cooled by its own evaporation, and shrinks as it dries.

use crate::boundary_layer::Exchange;
use crate::drying::{Path, leg};
use crate::leaf::{Leaf, WetSides};
use crate::mix::Mix;
use crate::moist_air::MoistAir;
use crate::surface::{FluxCurve, Surface};
use guardcell_reference::parameters::film as data;
use guardcell_units::quantity::{Length, MassConcentration, Time, Velocity, in_mg_per_l, mg_per_l};
use guardcell_units::uom::si::{
    length::{meter, millimeter},
    time::{minute, second},
    velocity::meter_per_second,
};

/// What a hanging drop does to a root tip.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Burn {
    /// The highest concentration of everything dissolved while more than a hundredth of the water
    /// is left.
    pub peak_concentration: MassConcentration,
    /// How long it is above the limit while more than a hundredth of the water is left; `None`
    /// where it stays so.
    pub above_limit: Option<Time>,
    /// The limit it was held against.
    pub limit: MassConcentration,
    /// Above the limit for longer than the stated time.
    pub at_risk: bool,
}

/// The default diameter of a hanging drop (`data/film.csv`; common practice, no source).
#[must_use]
pub fn root_drop() -> Length {
    Length::new::<millimeter>(data::ROOT_DROP_MM.mm())
}

/// The concentration limit at a root tip (`data/film.csv`; common practice, no source).
#[must_use]
pub fn burn_limit() -> MassConcentration {
    mg_per_l(data::BURN_LIMIT.g_per_l() * 1000.0)
}

const PARTS: u32 = 40;

/// Follows a hanging drop of this diameter (0.5 to 8 mm; held there) in steady air.
///
/// ```
/// # mod guardcell {
/// #     pub use guardcell_error::{Error};
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::{Mix, MoistAir, burn::{burn, burn_limit, root_drop}};
/// use guardcell::units::{quantity::Velocity, uom::si::velocity::meter_per_second};
/// let air = MoistAir::from_celsius_percent(22.0, 60.0)?;
/// let speed = Velocity::new::<meter_per_second>(0.2);
/// assert!(!burn(&Mix::pure_water(), &air, speed, root_drop(), burn_limit()).at_risk);
/// # Ok::<(), guardcell::Error>(())
/// ```
#[must_use]
pub fn burn(
    mix: &Mix,
    air: &MoistAir,
    air_speed: Velocity,
    diameter: Length,
    limit: MassConcentration,
) -> Burn {
    let d = diameter.get::<meter>().clamp(0.5e-3, 8e-3);
    let speed = air_speed.get::<meter_per_second>().max(0.0);
    // Water of a sphere per area of its surface: ρ d/6.
    let path = Path::new(mix, data::WATER_DENSITY.kg_per_m3() * d / 6.0);
    let limit_g_l = in_mg_per_l(limit).max(0.0) / 1000.0;
    let end = 0.01 * path.start;
    let mut peak: f64 = 0.0;
    let mut above = Some(0.0);
    let mut seconds_above = 0.0;
    let mut before: Option<(f64, f64, bool)> = None;
    for i in 0..=PARTS {
        // Even in the diameter, so that the end is followed as closely as the start.
        let share = 1.0 - f64::from(i) / f64::from(PARTS) * (1.0 - 0.01_f64.cbrt());
        let water = path.start * share.powi(3);
        let a = path.activity(water);
        let node = mix.at(a);
        let concentration = Mix::concentration(&node).min(mix.dissolved_g / share.powi(3));
        // Flux per area of the first sphere: the area shrinks as the square of the diameter.
        let flux = sphere_flux(air, speed, d * share).at(a) * share * share;
        if flux <= 0.0 || water < end * 0.999 {
            above = (concentration <= limit_g_l).then_some(seconds_above);
            peak = peak.max(concentration);
            break;
        }
        if let Some((last_water, last_flux, last_above)) = before {
            let Some(s) = leg(last_water - water, last_flux, flux) else {
                break;
            };
            if last_above || concentration > limit_g_l {
                seconds_above += s;
            }
        }
        before = Some((water, flux, concentration > limit_g_l));
        peak = peak.max(concentration);
        above = Some(seconds_above);
    }
    let above_limit = above.map(Time::new::<second>);
    let long = above_limit.is_none_or(|t| t.get::<minute>() >= data::BURN_MINUTES.minutes());
    Burn {
        peak_concentration: mg_per_l(peak * 1000.0),
        above_limit,
        limit,
        at_risk: peak > limit_g_l && long,
    }
}

fn sphere_flux(air: &MoistAir, speed: f64, d: f64) -> FluxCurve {
    let leaf = Leaf { width_m: d, sides: WetSides::Both, ..Leaf::default() };
    FluxCurve::new(&Surface::with(Exchange::sphere(d, air, speed), &leaf, air))
}

#[cfg(test)]
mod tests;
