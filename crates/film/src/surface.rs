//! Energy balance of a wet leaf: leaf temperature and evaporation at a water activity.

use crate::boundary_layer::Exchange;
use crate::leaf::Leaf;
use crate::moist_air::{MoistAir, latent_heat_j_kg};
use crate::saturation;
use guardcell_reference::parameters::film as data;
use guardcell_units::quantity::{
    HeatFluxDensity, MassFlux, Ratio, ThermodynamicTemperature, Velocity,
};
use guardcell_units::uom::si::{
    heat_flux_density::watt_per_square_meter, mass_flux::kilogram_per_square_meter_second,
    ratio::ratio, thermodynamic_temperature::kelvin, velocity::meter_per_second,
};

impl MoistAir {
    /// Virtual temperature in K: that of dry air of the same density.
    pub(crate) fn virtual_k(&self) -> f64 {
        virtual_k(self.t_k, self.vapour_pa(), self.p_pa)
    }
}

fn virtual_k(t_k: f64, vapour_pa: f64, p_pa: f64) -> f64 {
    t_k / (1.0 - vapour_pa / p_pa * (1.0 - data::WATER_AIR_MASS_RATIO.number()))
}

/// Terms of the balance at one leaf temperature, per area of one side of the leaf, in W/m².
#[derive(Clone, Copy, Debug)]
pub(crate) struct Terms {
    pub(crate) leaf_k: f64,
    /// Evaporation from one wet side in kg/(m² s).
    pub(crate) evaporation: f64,
    pub(crate) radiation: f64,
    pub(crate) long_wave: f64,
    pub(crate) sensible: f64,
    pub(crate) latent: f64,
}

impl Terms {
    pub(crate) fn rest(&self) -> f64 {
        self.radiation - self.long_wave - self.sensible - self.latent
    }
}

/// A leaf in its air, ready to be asked for its evaporation.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Surface {
    exchange: Exchange,
    air: MoistAir,
    heat_capacity: f64,
    long_wave: f64,
    radiation: f64,
    sides: f64,
    virtual_k: f64,
}

/// A balance that is open by less than this, in W/m², is closed: a billionth of what evaporation
/// takes.
const CLOSED_W_M2: f64 = 1e-7;

impl Surface {
    pub(crate) fn new(leaf: &Leaf, air: &MoistAir, speed_m_s: f64) -> Self {
        Self::with(Exchange::new(leaf, air, speed_m_s), leaf, air)
    }

    /// With an exchange other than that of a flat leaf.
    pub(crate) fn with(exchange: Exchange, leaf: &Leaf, air: &MoistAir) -> Self {
        Self {
            exchange,
            air: *air,
            heat_capacity: air.density_kg_m3() * data::AIR_HEAT_CAPACITY.kj_per_kg_k() * 1000.0,
            // Both sides exchange long-wave with surroundings at air temperature.
            long_wave: 2.0 * data::LEAF_EMISSIVITY.number() * data::STEFAN_BOLTZMANN.coefficient(),
            radiation: leaf.net_radiation_w_m2,
            sides: leaf.sides.count(),
            virtual_k: air.virtual_k(),
        }
    }

    /// The terms at a leaf temperature, with the water activity of the film.
    pub(crate) fn terms(&self, leaf_k: f64, activity: f64) -> Terms {
        let at_leaf = activity * saturation::pressure(leaf_k);
        let in_air = self.air.vapour_pa();
        let lift = virtual_k(leaf_k, at_leaf, self.air.p_pa) - self.virtual_k;
        let (heat, vapour) = self.exchange.conductances(lift);
        let r = data::GAS_CONSTANT_VAPOUR.j_per_kg_k();
        let evaporation = vapour * (at_leaf / (r * leaf_k) - in_air / (r * self.air.t_k));
        let t = self.air.t_k;
        Terms {
            leaf_k,
            evaporation,
            radiation: self.radiation,
            long_wave: self.long_wave * (leaf_k.powi(4) - t.powi(4)),
            sensible: 2.0 * self.heat_capacity * heat * (leaf_k - t),
            latent: self.sides * evaporation * latent_heat_j_kg(leaf_k),
        }
    }

    /// Solves the balance at a water activity: secant steps inside a bracket that closes in.
    pub(crate) fn balance(&self, activity: f64) -> Terms {
        self.balance_near(activity, self.air.t_k)
    }

    /// The same from a leaf temperature in K that is expected.
    fn balance_near(&self, activity: f64, expected_k: f64) -> Terms {
        // The rest falls with leaf temperature: gains at the low end, losses at the high end.
        let (mut low, mut high) = (self.air.t_k - 40.0, self.air.t_k + 60.0);
        let mut x = expected_k.clamp(low, high);
        let mut terms = self.terms(x, activity);
        let mut before: Option<(f64, f64)> = None;
        for _ in 0..60 {
            let rest = terms.rest();
            if rest.abs() < CLOSED_W_M2 {
                break;
            }
            if rest > 0.0 {
                low = x;
            } else {
                high = x;
            }
            // The first step from the slope of a wet leaf, about −25 W/(m² K).
            let mut next = match before {
                Some((px, prest)) if prest != rest => x - rest * (x - px) / (rest - prest),
                _ => x + rest / 25.0,
            };
            if !(next > low && next < high) {
                next = 0.5 * (low + high);
            }
            before = Some((x, rest));
            if next == x {
                break;
            }
            x = next;
            terms = self.terms(x, activity);
        }
        terms
    }

    /// The water activity at which nothing evaporates: room humidity, corrected for a leaf that
    /// radiation warms or cools.
    pub(crate) fn resting_activity(&self) -> f64 {
        if self.radiation == 0.0 {
            return self.air.rh;
        }
        // Without evaporation the balance is that of a dry leaf.
        let (mut low, mut high) = (self.air.t_k - 40.0, self.air.t_k + 80.0);
        let activity = |leaf_k: f64| {
            self.air.vapour_pa() / self.air.t_k * leaf_k / saturation::pressure(leaf_k)
        };
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if self.terms(middle, activity(middle)).rest() > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        activity(0.5 * (low + high))
    }
}

/// Evaporation against water activity, from four solutions of the balance: `(a − rest)` times a
/// cubic through them, which is right within 1 % because the flux is nearly straight in `a`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FluxCurve {
    pub(crate) resting: f64,
    /// Leaf temperature in K at the resting and the highest water activity.
    pub(crate) coldest_k: f64,
    at: [f64; 3],
    newton: [f64; 4],
}

impl FluxCurve {
    pub(crate) fn new(surface: &Surface) -> Self {
        let resting = surface.resting_activity();
        let span = (1.0 - resting).max(1e-3);
        let mut coldest_k = f64::INFINITY;
        // The leaf cools nearly in step with its water activity, so that the next temperature is
        // expected on the line through the last two.
        let (mut last, mut slope) = ((resting, surface.air.t_k), 0.0);
        let mut point = |share: f64| {
            let a = resting + share * span;
            let terms = surface.balance_near(a, last.1 + slope * (a - last.0));
            if a > last.0 && coldest_k.is_finite() {
                slope = (terms.leaf_k - last.1) / (a - last.0);
            }
            last = (a, terms.leaf_k);
            coldest_k = coldest_k.min(terms.leaf_k);
            (a, terms.evaporation / (a - resting))
        };
        let (x0, y0) = point(0.01);
        let (x1, y1) = point(0.15);
        let (x2, y2) = point(0.5);
        let (x3, y3) = point(1.0);
        // Divided differences.
        let (d01, d12, d23) = ((y1 - y0) / (x1 - x0), (y2 - y1) / (x2 - x1), (y3 - y2) / (x3 - x2));
        let (d012, d123) = ((d12 - d01) / (x2 - x0), (d23 - d12) / (x3 - x1));
        Self {
            resting,
            coldest_k,
            at: [x0, x1, x2],
            newton: [y0, d01, d012, (d123 - d012) / (x3 - x0)],
        }
    }

    /// Evaporation from a wet side in kg/(m² s); negative where the air is the wetter.
    #[inline]
    pub(crate) fn at(&self, a: f64) -> f64 {
        let ([x0, x1, x2], [c0, c1, c2, c3]) = (self.at, self.newton);
        (a - self.resting) * (c0 + (a - x0) * (c1 + (a - x1) * (c2 + (a - x2) * c3)))
    }
}

/// The balance of a wet leaf at one moment, per area of one side of the leaf.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct SurfaceBalance {
    /// Evaporation from one wet side; negative for dew.
    pub evaporation: MassFlux,
    /// Leaf temperature.
    pub leaf_temperature: ThermodynamicTemperature,
    /// Absorbed net radiation.
    pub net_radiation: HeatFluxDensity,
    /// Long-wave loss of both sides.
    pub long_wave: HeatFluxDensity,
    /// Sensible heat lost by both sides.
    pub sensible: HeatFluxDensity,
    /// Latent heat lost by the wet sides.
    pub latent: HeatFluxDensity,
}

/// Solves the energy balance of a wet leaf whose film has a water activity (1 for pure water).
///
/// The leaf is taken in steady state: its heat capacity delays it by a minute or a few, against a
/// drying time of tens. Air speed below 0 counts as 0.
///
/// ```
/// # mod guardcell {
/// #     pub use guardcell_error::{Error};
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::{Leaf, MoistAir, surface::surface_balance};
/// use guardcell::units::{quantity::{Ratio, Velocity}, uom::si::{ratio::ratio, velocity::meter_per_second}};
/// let air = MoistAir::from_celsius_percent(20.0, 50.0)?;
/// let b = surface_balance(
///     &Leaf::default(),
///     &air,
///     Velocity::new::<meter_per_second>(0.5),
///     Ratio::new::<ratio>(1.0),
/// );
/// assert!(b.leaf_temperature < air.temperature() && b.leaf_temperature > air.wet_bulb());
/// let rest = b.net_radiation - b.long_wave - b.sensible - b.latent;
/// assert!(rest.abs() < b.latent * 1e-6);
/// # Ok::<(), guardcell::Error>(())
/// ```
#[must_use]
pub fn surface_balance(
    leaf: &Leaf,
    air: &MoistAir,
    air_speed: Velocity,
    water_activity: Ratio,
) -> SurfaceBalance {
    let speed = air_speed.get::<meter_per_second>().max(0.0);
    let activity = water_activity.get::<ratio>().clamp(0.0, 1.0);
    Surface::new(leaf, air, speed).balance(activity).into()
}

impl From<Terms> for SurfaceBalance {
    fn from(t: Terms) -> Self {
        let w = HeatFluxDensity::new::<watt_per_square_meter>;
        Self {
            evaporation: MassFlux::new::<kilogram_per_square_meter_second>(t.evaporation),
            leaf_temperature: ThermodynamicTemperature::new::<kelvin>(t.leaf_k),
            net_radiation: w(t.radiation),
            long_wave: w(t.long_wave),
            sensible: w(t.sensible),
            latent: w(t.latent),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn balance_closes_everywhere() {
        for c in [-5.0, 10.0, 25.0, 50.0] {
            for rh in [1.0, 40.0, 99.0] {
                for u in [0.0, 0.05, 0.5, 20.0] {
                    for rad in [-150.0, 0.0, 300.0, 800.0] {
                        let leaf = Leaf { net_radiation_w_m2: rad, ..Leaf::default() };
                        let air = MoistAir::from_celsius_percent(c, rh).expect("in range");
                        let s = Surface::new(&leaf, &air, u);
                        for a in [0.2, 0.8, 1.0] {
                            let t = s.balance(a);
                            let largest = t.latent.abs().max(t.sensible.abs()).max(1.0);
                            assert!(t.rest().abs() < 1e-6 * largest, "{c} {rh} {u} {rad} {a}");
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn curve_follows_the_balance() {
        let leaf = Leaf::default();
        // In still air the lift of moist, cool air passes through zero, and the flux has a dent.
        for (c, rh, u, tolerance) in
            [(20.0, 50.0, 0.5, 0.01), (30.0, 20.0, 0.02, 0.06), (10.0, 90.0, 3.0, 0.01)]
        {
            let air = MoistAir::from_celsius_percent(c, rh).expect("in range");
            let s = Surface::new(&leaf, &air, u);
            let curve = FluxCurve::new(&s);
            for i in 1..=20 {
                let a = curve.resting + (1.0 - curve.resting) * f64::from(i) / 20.0;
                let exact = s.balance(a).evaporation;
                assert!(
                    (curve.at(a) / exact - 1.0).abs() < tolerance,
                    "{c} {rh} {u} {a} {} {exact}",
                    curve.at(a)
                );
            }
        }
    }
}
