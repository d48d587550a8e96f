//! The time course of a drying film, with the energy balance solved at every point.

use super::path::{Path, leg};
use crate::leaf::Leaf;
use crate::mix::Mix;
use crate::moist_air::MoistAir;
use crate::surface::{Surface, SurfaceBalance};
use guardcell_units::quantity::{
    ArealMassDensity, MassConcentration, Ratio, Time, Velocity, mg_per_l,
};
use guardcell_units::uom::si::{
    areal_mass_density::kilogram_per_square_meter, ratio::ratio, time::second,
    velocity::meter_per_second,
};

/// A drying film at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Time since the film was laid.
    pub time: Time,
    /// Liquid water per wet side.
    pub water: ArealMassDensity,
    /// Water that has evaporated.
    pub evaporated: ArealMassDensity,
    /// Water bound in crystals.
    pub bound: ArealMassDensity,
    /// Feed salts in solution.
    pub dissolved: ArealMassDensity,
    /// Feed salts in crystals, without their water.
    pub solids: ArealMassDensity,
    /// Carbonate scale; counted as fallen from the start.
    pub scale: ArealMassDensity,
    /// Everything dissolved per volume of solution.
    pub concentration: MassConcentration,
    /// Water activity of the film.
    pub water_activity: Ratio,
    /// The energy balance of the leaf.
    pub balance: SurfaceBalance,
}

/// Parts into which the dilute stretch of a drying is cut.
const DILUTE_PARTS: u32 = 24;

/// The course of a drying to its end: dry, or as near to equilibrium as a thousandth of the way.
///
/// Water, solutes and energy are conserved at every moment. Empty for a load of nothing.
///
/// ```
/// # mod guardcell {
/// #     pub use guardcell_error::{Error};
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::{Leaf, Mix, MoistAir, drying_course};
/// use guardcell::units::quantity::{ArealMassDensity, Velocity};
/// use guardcell::units::uom::si::{areal_mass_density::kilogram_per_square_meter, velocity::meter_per_second};
/// let course = drying_course(
///     &Mix::pure_water(),
///     &Leaf::default(),
///     &MoistAir::from_celsius_percent(22.0, 60.0)?,
///     Velocity::new::<meter_per_second>(0.5),
///     ArealMassDensity::new::<kilogram_per_square_meter>(0.1),
/// );
/// assert!(course.last().expect("not empty").water.value < 1e-12);
/// # Ok::<(), guardcell::Error>(())
/// ```
#[must_use]
pub fn drying_course(
    mix: &Mix,
    leaf: &Leaf,
    air: &MoistAir,
    air_speed: Velocity,
    load: ArealMassDensity,
) -> Vec<Moment> {
    let surface = Surface::new(leaf, air, air_speed.get::<meter_per_second>().max(0.0));
    let path = Path::new(mix, load.get::<kilogram_per_square_meter>().max(0.0));
    if path.start <= 0.0 {
        return Vec::new();
    }
    let resting = surface.resting_activity();
    let stops = stops(&path, resting);
    let mut out = Vec::with_capacity(stops.len());
    let mut seconds = 0.0;
    let mut before: Option<(f64, f64)> = None;
    for (water, a) in stops {
        let balance = surface.balance(a);
        if let Some((last_water, last_flux)) = before {
            match leg(last_water - water, last_flux, balance.evaporation) {
                Some(s) => seconds += s,
                None => break,
            }
        }
        before = Some((water, balance.evaporation));
        out.push(moment(&path, seconds, water, a, balance.into()));
    }
    out
}

/// The points of the course: water in kg/m² and water activity, from wet to dry.
fn stops(path: &Path<'_>, resting: f64) -> Vec<(f64, f64)> {
    let end = path.resting_water(resting);
    // Equilibrium itself is reached only after an endless time.
    let end = if end > 0.0 { end + 0.001 * (path.start - end) } else { 0.0 };
    let mut out: Vec<(f64, f64)> = (0..DILUTE_PARTS)
        .map(|i| path.start * (1.0 - f64::from(i) / f64::from(DILUTE_PARTS)))
        .filter(|w| *w >= end)
        .map(|w| (w, path.activity(w)))
        .collect();
    let from = out.last().map_or(path.start, |p| p.0);
    for node in &path.mix.nodes {
        let water = path.water(node);
        if water < from && water > end && node.a > resting {
            out.push((water, node.a));
        }
    }
    if out.last().is_none_or(|p| p.0 > end) {
        out.push((end, path.activity(end)));
    }
    out
}

fn moment(path: &Path<'_>, seconds: f64, water: f64, a: f64, balance: SurfaceBalance) -> Moment {
    let node = path.mix.at(a);
    let area = |g_per_l: f64| {
        ArealMassDensity::new::<kilogram_per_square_meter>(g_per_l / 1000.0 * path.load)
    };
    let kg = ArealMassDensity::new::<kilogram_per_square_meter>;
    let bound = area(node.bound_g);
    let solutes = node.salts_g + node.urea_g;
    let concentration = if path.mix.dissolved_g + path.mix.scale_g <= 0.0 {
        0.0
    } else if water > path.water(&node) && node.solids_g <= 0.0 {
        (solutes + path.mix.scale_g) * path.load / water.max(1e-30)
    } else {
        Mix::concentration(&node)
    };
    Moment {
        time: Time::new::<second>(seconds),
        water: kg(water),
        evaporated: kg(path.start - water) - bound,
        bound,
        dissolved: area(solutes),
        solids: area(node.solids_g) - bound,
        scale: area(path.mix.scale_g),
        concentration: mg_per_l(concentration * 1000.0),
        water_activity: Ratio::new::<ratio>(a),
        balance,
    }
}
