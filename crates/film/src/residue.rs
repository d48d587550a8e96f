//! What a spraying leaves, and how likely the grower sees it.

use crate::air_movement::AirSpeed;
use crate::drying::{Path, outcome};
use crate::leaf::Leaf;
use crate::mix::{FilmState, Mix, Node};
use crate::moist_air::MoistAir;
use crate::quadrature::{NORMAL_3, NORMAL_5, standard_normal};
use crate::spraying::Spraying;
use crate::surface::{FluxCurve, Surface};
use crate::uptake::{Entering, rate_per_hour};
use guardcell_reference::parameters::{film as data, uptake};
use guardcell_units::quantity::{ArealMassDensity, Ratio};
use guardcell_units::uom::si::{areal_mass_density::gram_per_square_meter, ratio::ratio};

/// The residue at which this grower sees white: a log-normal distribution.
///
/// ```
/// # mod guardcell { pub mod film { pub use guardcell_film::*; } }
/// use guardcell::film::ResidueThreshold;
/// let shipped = ResidueThreshold::shipped();
/// assert!(shipped.median().value > 0.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ResidueThreshold {
    median_g_m2: f64,
    log_sd: f64,
    scale_visibility: f64,
}

impl ResidueThreshold {
    /// The shipped threshold, calibrated on common practice (no source).
    #[must_use]
    pub fn shipped() -> Self {
        Self {
            median_g_m2: data::RESIDUE_THRESHOLD_MEDIAN.g_per_m2(),
            log_sd: data::RESIDUE_THRESHOLD_LOG_SD.number(),
            scale_visibility: data::SCALE_VISIBILITY.number(),
        }
    }

    /// A learned threshold: its median and the standard deviation of its natural logarithm. A
    /// median that is not positive, or a negative spread, counts as the smallest number.
    #[must_use]
    pub fn new(median: ArealMassDensity, log_sd: Ratio) -> Self {
        let positive = |x: f64| if x > f64::MIN_POSITIVE { x } else { f64::MIN_POSITIVE };
        Self {
            median_g_m2: positive(median.get::<gram_per_square_meter>()),
            log_sd: positive(log_sd.get::<ratio>()),
            scale_visibility: data::SCALE_VISIBILITY.number(),
        }
    }

    /// The same, with a gram of carbonate scale counting as this many of feed salts.
    #[must_use]
    pub fn seeing_scale_as(self, factor: Ratio) -> Self {
        Self { scale_visibility: factor.get::<ratio>().max(0.0), ..self }
    }

    /// The residue that half of such growers see.
    #[must_use]
    pub fn median(&self) -> ArealMassDensity {
        ArealMassDensity::new::<gram_per_square_meter>(self.median_g_m2)
    }

    /// Standard deviation of the natural logarithm.
    #[must_use]
    pub fn log_sd(&self) -> Ratio {
        Ratio::new::<ratio>(self.log_sd)
    }
}

/// One-sided tenth of the normal distribution.
const Z_TENTH: f64 = 1.281_551_6;

/// What a spraying leaves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Residue {
    /// Solid feed salts, water of crystallisation and what sets between the crystals included.
    pub feed: ArealMassDensity,
    /// Carbonate scale of the water; the remedy is other water, not less feed.
    pub scale: ArealMassDensity,
    /// A low value of both together: about 1 chance in 10 that it is less.
    pub low: ArealMassDensity,
    /// A high value of both together: about 1 chance in 10 that it is more.
    pub high: ArealMassDensity,
    /// How far the feed salts among it vary from one day to the next that read the same: the
    /// standard deviation of their natural logarithm, from the humidity at the leaf and the film
    /// load; `None` if none are solid. The scale varies with the film load alone. What the mixing
    /// rule is off is off every day alike, and is not in it.
    pub feed_log_sd: Option<Ratio>,
    /// The probability that the grower sees it.
    pub probability: Ratio,
    /// What the leaf takes up: during drying, and for the hours after (`uptake_hours` of
    /// `data/film.csv`) of what stays dissolved.
    pub taken_up: ArealMassDensity,
    /// What is on the leaf in the end.
    pub state: FilmState,
}

impl Residue {
    /// Feed and scale together.
    #[must_use]
    pub fn total(&self) -> ArealMassDensity {
        self.feed + self.scale
    }
}

/// Residue of a spraying in steady air, with its uncertainty by quadrature over humidity (sensor,
/// place and the mixing rule), uptake, film load and threshold. A few microseconds.
///
/// `air` is what the film dries in; where drier air follows before the next spraying, ask again
/// with that: residue is decided by the driest air. Drying time matters little, because salts dry
/// ten to a hundred times faster than they enter.
///
/// ```
/// # mod guardcell {
/// #     pub use guardcell_error::{Error};
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod reference { pub use guardcell_reference::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::{AirSpeed, AirWord, Leaf, Mix, MoistAir, ResidueThreshold, Spraying, residue};
/// use guardcell::reference::{Composition, Solute};
/// use guardcell::units::{quantity::{ArealMassDensity, mmol_per_l}, uom::si::{areal_mass_density::gram_per_square_meter, ratio::ratio}};
/// let mut c = Composition::PURE_WATER;
/// c[Solute::K] = mmol_per_l(3.0);
/// c[Solute::No3] = mmol_per_l(3.0);
/// let air = MoistAir::from_celsius_percent(22.0, 50.0)?;
/// let left = residue(
///     &Mix::new(&c, air.temperature()),
///     &Leaf::default(),
///     &air,
///     &AirSpeed::from(AirWord::Light),
///     &Spraying::one_pass(ArealMassDensity::new::<gram_per_square_meter>(100.0)),
///     &ResidueThreshold::shipped(),
/// );
/// // 303 mg/L × 100 g/m² = 0.03 g/m²; potassium nitrate alone is all solid at 50 %.
/// assert!((left.feed.get::<gram_per_square_meter>() - 0.0303).abs() < 0.0005);
/// # Ok::<(), guardcell::Error>(())
/// ```
#[must_use]
pub fn residue(
    mix: &Mix,
    leaf: &Leaf,
    air: &MoistAir,
    air_speed: &AirSpeed,
    spraying: &Spraying,
    threshold: &ResidueThreshold,
) -> Residue {
    Exposure::new(leaf, air, air_speed).residue(mix, spraying, threshold)
}

/// A leaf in its air, prepared once for all that may be sprayed on it there: most of the work of
/// [`residue`] does not depend on the mix.
///
/// ```
/// # mod guardcell {
/// #     pub use guardcell_error::{Error};
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::{AirSpeed, AirWord, Exposure, Leaf, Mix, MoistAir, ResidueThreshold, Spraying};
/// use guardcell::units::{quantity::ArealMassDensity, uom::si::areal_mass_density::gram_per_square_meter};
/// let air = MoistAir::from_celsius_percent(22.0, 50.0)?;
/// let exposure = Exposure::new(&Leaf::default(), &air, &AirSpeed::from(AirWord::Light));
/// let once = Spraying::one_pass(ArealMassDensity::new::<gram_per_square_meter>(100.0));
/// let left = exposure.residue(&Mix::pure_water(), &once, &ResidueThreshold::shipped());
/// assert_eq!(left.feed.value, 0.0);
/// # Ok::<(), guardcell::Error>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Exposure {
    curve: FluxCurve,
    air_speed: AirSpeed,
}

impl Exposure {
    /// Solves the energy balance of the leaf in this air.
    #[must_use]
    pub fn new(leaf: &Leaf, air: &MoistAir, air_speed: &AirSpeed) -> Self {
        let surface = Surface::new(leaf, air, air_speed.likely_m_s());
        Self { curve: FluxCurve::new(&surface), air_speed: *air_speed }
    }

    /// As [`residue`].
    #[must_use]
    pub fn residue(&self, mix: &Mix, spraying: &Spraying, threshold: &ResidueThreshold) -> Residue {
        from_curve(mix, &self.curve, &self.air_speed, spraying, threshold)
    }
}

fn from_curve(
    mix: &Mix,
    curve: &FluxCurve,
    air_speed: &AirSpeed,
    spraying: &Spraying,
    threshold: &ResidueThreshold,
) -> Residue {
    let load = spraying.load.get::<gram_per_square_meter>().max(0.0);
    let dried = outcome(mix, curve, load / 1000.0);
    let path = Path::new(mix, load / 1000.0);
    let hours = dried.time_to_dry.map_or_else(
        || {
            path.seconds_to(path.dry_water(), curve)
                .map_or(data::UPTAKE_HOURS.hours(), |s| s / 3600.0)
        },
        |t| t.value / 3600.0,
    );
    let deposit = Deposit {
        mix,
        grams_to_area: load / 1000.0,
        feed: spraying.feed_multiple(),
        scale: spraying.scale_multiple(),
        wet_hours: hours.min(data::UPTAKE_HOURS.hours()),
        agent: spraying.wetting_agent,
    };
    let (feed, scale) = (deposit.feed_g_m2(curve.resting, 1.0), deposit.scale_g_m2());
    let load_sd = data::LOAD_LOG_SD.number();
    let humidity_sd = data::HUMIDITY_SD.percent().hypot(data::MIXING_SD.percent()) / 100.0;
    // A slower drying and a faster uptake act alike, as their product.
    let uptake_sd = uptake::RATE_LOG_SD.number().hypot(air_speed.log_sd());
    let spread = threshold.log_sd.hypot(load_sd);
    let ln_threshold = threshold.median_g_m2.ln();
    let mut probability = 0.0;
    let lefts = NORMAL_3.map(|(zk, wk)| (deposit.left((zk * uptake_sd).exp()), wk));
    for (z, w) in NORMAL_5 {
        let solid = deposit.solid(curve.resting + z * humidity_sd);
        for (left, wk) in lefts {
            let seen = deposit.feed(solid, left) + threshold.scale_visibility * scale;
            if seen > 0.0 {
                probability += w * wk * standard_normal((seen.ln() - ln_threshold) / spread);
            }
        }
    }
    let end = |z: f64| {
        let solid = deposit.feed_g_m2(curve.resting - z * humidity_sd, 1.0);
        let load = (z * load_sd).exp();
        area((solid + scale) * load)
    };
    // If nothing is solid in damper air, the middle is taken as the low end.
    let air_sd = data::HUMIDITY_SD.percent() / 100.0;
    let solid = |z: f64| deposit.feed_g_m2(curve.resting - z * air_sd, 1.0);
    let humidity_log_sd = match (solid(-Z_TENTH), feed, solid(Z_TENTH)) {
        (low, _, high) if low > 0.0 => Some((high / low).ln() / (2.0 * Z_TENTH)),
        (_, middle, high) if middle > 0.0 => Some((high / middle).ln() / Z_TENTH),
        _ => None,
    };
    Residue {
        feed_log_sd: humidity_log_sd.map(|sd| Ratio::new::<ratio>(sd.max(0.0).hypot(load_sd))),
        feed: area(feed),
        scale: area(scale),
        low: end(-Z_TENTH),
        high: end(Z_TENTH),
        probability: Ratio::new::<ratio>(probability.clamp(0.0, 1.0)),
        taken_up: area(deposit.taken_up_g_m2(curve.resting)),
        state: dried.state,
    }
}

fn area(g: f64) -> ArealMassDensity {
    ArealMassDensity::new::<gram_per_square_meter>(g)
}

/// What lies on the leaf, against humidity.
struct Deposit<'a> {
    mix: &'a Mix,
    /// From g/L of the mix to g/m².
    grams_to_area: f64,
    feed: f64,
    scale: f64,
    wet_hours: f64,
    agent: bool,
}

impl Deposit<'_> {
    /// Solid feed salts less what entered while all was wet, with a factor on the uptake.
    fn feed_g_m2(&self, a: f64, uptake_factor: f64) -> f64 {
        self.feed(self.solid(a), self.left(uptake_factor))
    }

    /// Salts and urea that are solid or set, per litre sprayed, had none entered.
    fn solid(&self, a: f64) -> (f64, f64) {
        let node = self.mix.at(a.clamp(0.0, 1.0 - 1e-9));
        let set = self.set_share(&node);
        (
            node.solids_g - node.solid_urea_g + set * node.salts_g,
            node.solid_urea_g + set * node.urea_g,
        )
    }

    /// The shares of salts and urea that had not entered when all was wet.
    fn left(&self, uptake_factor: f64) -> (f64, f64) {
        let hours = self.wet_hours * uptake_factor;
        let left = |what| (-rate_per_hour(what, 1.0, self.agent) * hours).exp();
        (left(Entering::Salts), left(Entering::Urea))
    }

    fn feed(&self, (salts, urea): (f64, f64), (salts_left, urea_left): (f64, f64)) -> f64 {
        self.grams_to_area * self.feed * (salts * salts_left + urea * urea_left)
    }

    /// The share of the solution between the crystals that has set to a crust with them: more in
    /// drier air, none without crystals. Calibrated; no source.
    fn set_share(&self, node: &Node) -> f64 {
        let (from, full) = (data::CRUST_FROM.percent() / 100.0, data::CRUST_FULL.percent() / 100.0);
        let dryness = ((from - node.a) / (from - full)).clamp(0.0, 1.0);
        let crystals = if self.mix.dissolved_g > 0.0 {
            (node.solids_g - node.bound_g) / self.mix.dissolved_g
        } else {
            0.0
        };
        dryness * (crystals / data::CRUST_SEED.number()).clamp(0.0, 1.0)
    }

    fn scale_g_m2(&self) -> f64 {
        self.grams_to_area * self.scale * self.mix.scale_g
    }

    fn taken_up_g_m2(&self, a: f64) -> f64 {
        let node = self.mix.at(a.clamp(0.0, 1.0 - 1e-9));
        let salts_solid = node.solids_g - node.solid_urea_g - node.bound_g;
        let part = |what, dissolved: f64, solid: f64| {
            let wet = (-rate_per_hour(what, 1.0, self.agent) * self.wet_hours).exp();
            let after = (-rate_per_hour(what, a, self.agent)
                * (data::UPTAKE_HOURS.hours() - self.wet_hours))
                .exp();
            solid * (1.0 - wet) + dissolved * (1.0 - wet * after)
        };
        self.grams_to_area
            * self.feed
            * (part(Entering::Salts, node.salts_g, salts_solid)
                + part(Entering::Urea, node.urea_g, node.solid_urea_g))
    }
}

#[cfg(test)]
mod tests;
