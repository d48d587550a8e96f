//! How long a leaf stays wet through changing air.

use crate::drying::Path;
use crate::leaf::Leaf;
use crate::mix::Mix;
use crate::moist_air::MoistAir;
use crate::surface::{FluxCurve, Surface};
use guardcell_units::quantity::{ArealMassDensity, HeatFluxDensity, Time, Velocity};
use guardcell_units::uom::si::{
    areal_mass_density::kilogram_per_square_meter, heat_flux_density::watt_per_square_meter,
    time::second, velocity::meter_per_second,
};

/// Air over a stretch of time, one hour in an hourly series.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirSpan {
    /// The air.
    pub air: MoistAir,
    /// The air speed at the leaf.
    pub speed: Velocity,
    /// Net radiation absorbed by the leaf.
    pub net_radiation: HeatFluxDensity,
    /// How long it lasts.
    pub lasts: Time,
}

/// How long a leaf stayed wet.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Wetness {
    /// Time until the leaf was dry to the touch; `None` if the series ends before.
    pub dry_after: Option<Time>,
    /// Liquid water left when it was dry, or at the end of the series.
    pub water_left: ArealMassDensity,
    /// Dew fell on the leaf while it was followed.
    pub dew: bool,
}

const STEP_MINUTES: f64 = 5.0;

/// Follows a film through a series of air, until the leaf is dry to the touch (1 % of the water or
/// 1 g/m², whichever is less) or the series ends. Dew on a leaf that is still wet adds to the film.
///
/// ```
/// # mod guardcell {
/// #     pub use guardcell_error::{Error};
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::{Leaf, Mix, MoistAir, wetness::{AirSpan, wetness}};
/// use guardcell::units::quantity::{ArealMassDensity, HeatFluxDensity, Time, Velocity};
/// use guardcell::units::uom::si::{areal_mass_density::kilogram_per_square_meter, heat_flux_density::watt_per_square_meter, time::hour, velocity::meter_per_second};
/// let span = |percent| Ok::<_, guardcell::Error>(AirSpan {
///     air: MoistAir::from_celsius_percent(18.0, percent)?,
///     speed: Velocity::new::<meter_per_second>(0.1),
///     net_radiation: HeatFluxDensity::new::<watt_per_square_meter>(0.0),
///     lasts: Time::new::<hour>(1.0),
/// });
/// let night = [span(90.0)?, span(95.0)?, span(70.0)?, span(60.0)?, span(60.0)?, span(60.0)?];
/// let load = ArealMassDensity::new::<kilogram_per_square_meter>(0.1);
/// let spell = wetness(&Mix::pure_water(), &Leaf::default(), load, &night);
/// assert!(spell.dry_after.expect("it dries") > Time::new::<hour>(2.0));
/// # Ok::<(), guardcell::Error>(())
/// ```
#[must_use]
pub fn wetness(mix: &Mix, leaf: &Leaf, load: ArealMassDensity, series: &[AirSpan]) -> Wetness {
    let path = Path::new(mix, load.get::<kilogram_per_square_meter>().max(0.0));
    let dry = path.dry_water();
    let mut water = path.start;
    let mut seconds = 0.0;
    let mut dew = false;
    let done = |water: f64| water <= dry || water <= 0.0;
    for span in series {
        if done(water) {
            break;
        }
        let leaf =
            Leaf { net_radiation_w_m2: span.net_radiation.get::<watt_per_square_meter>(), ..*leaf };
        let speed = span.speed.get::<meter_per_second>().max(0.0);
        let curve = FluxCurve::new(&Surface::new(&leaf, &span.air, speed));
        let lasts = span.lasts.get::<second>().max(0.0);
        let steps = (lasts / 60.0 / STEP_MINUTES).ceil().max(1.0);
        let step = lasts / steps;
        for _ in 0..steps as u32 {
            // Midpoint: the activity changes fast only when little water is left.
            let first = curve.at(path.activity(water));
            let half = (water - 0.5 * step * first).max(0.0);
            let flux = curve.at(path.activity(half));
            dew |= flux < 0.0;
            let next = water - step * flux;
            if flux > 0.0 && next <= dry {
                seconds += (water - dry) / flux;
                water = dry;
                break;
            }
            seconds += step;
            water = next;
        }
    }
    Wetness {
        dry_after: done(water).then(|| Time::new::<second>(seconds)),
        water_left: ArealMassDensity::new::<kilogram_per_square_meter>(water.max(0.0)),
        dew,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drying::drying;
    use guardcell_units::uom::si::time::minute;

    #[test]
    fn steady_air_agrees_with_one_drying() {
        let air = MoistAir::from_celsius_percent(20.0, 70.0).expect("valid");
        let speed = Velocity::new::<meter_per_second>(0.2);
        let load = ArealMassDensity::new::<kilogram_per_square_meter>(0.1);
        let span = AirSpan {
            air,
            speed,
            net_radiation: HeatFluxDensity::new::<watt_per_square_meter>(0.0),
            lasts: Time::new::<minute>(60.0),
        };
        let mix = Mix::pure_water();
        let a = wetness(&mix, &Leaf::default(), load, &[span; 12]);
        let b = drying(&mix, &Leaf::default(), &air, speed, load);
        let (a, b) = (a.dry_after.expect("dries").value, b.time_to_dry.expect("dries").value);
        assert!((a / b - 1.0).abs() < 1e-3, "{a} {b}");
    }

    // A film that holds salts is dry to the touch when it is so in one drying, however the air is
    // cut into spans; dew falls on a leaf that loses heat in saturated air, and nowhere else.
    #[test]
    fn salts_and_dew() {
        use guardcell_reference::{Composition, Solute};
        use guardcell_units::quantity::mmol_per_l;
        let mut c = Composition::PURE_WATER;
        c[Solute::K] = mmol_per_l(3.0);
        c[Solute::No3] = mmol_per_l(3.0);
        let span = |rh: f64, watt: f64| AirSpan {
            air: MoistAir::from_celsius_percent(20.0, rh).expect("valid"),
            speed: Velocity::new::<meter_per_second>(0.2),
            net_radiation: HeatFluxDensity::new::<watt_per_square_meter>(watt),
            lasts: Time::new::<minute>(30.0),
        };
        let load = ArealMassDensity::new::<kilogram_per_square_meter>(0.1);
        let air = span(60.0, 0.0).air;
        let mix = Mix::new(&c, air.temperature());
        let a = wetness(&mix, &Leaf::default(), load, &[span(60.0, 0.0); 12]);
        let b = drying(&mix, &Leaf::default(), &air, span(60.0, 0.0).speed, load);
        let (at, by) = (a.dry_after.expect("dries").value, b.time_to_dry.expect("dries").value);
        assert!((at / by - 1.0).abs() < 0.01 && !a.dew, "{at} {by}");
        let night = wetness(&mix, &Leaf::default(), load, &[span(100.0, -60.0)]);
        assert!(night.dew && night.dry_after.is_none() && night.water_left > load);
    }
}
