//! Conductance of the air layer at a leaf: forced, free and mixed convection, and still air.
//!
//! Forms of Schuepp 1993 and Leuning 1995: flat plate in laminar flow, horizontal plate in free
//! convection, a power-law join, and diffusion from a disk as the limit of still air.

use crate::leaf::Leaf;
use crate::moist_air::{MoistAir, ZERO_CELSIUS_K, vapour_diffusivity_m2_s};
use guardcell_reference::parameters::film as data;
use guardcell_units::quantity::{TemperatureInterval, Velocity};
use guardcell_units::uom::si::{temperature_interval::kelvin, velocity::meter_per_second};

/// What of the exchange does not change as the leaf warms or cools.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Exchange {
    /// Conductances in m/s of forced flow and of still air joined, to the mixing power.
    heat_power: f64,
    vapour_power: f64,
    /// Free conductance in m/s per fourth root of kelvin, to the mixing power.
    heat_free_power: f64,
    vapour_free_power: f64,
}

impl Exchange {
    pub(crate) fn new(leaf: &Leaf, air: &MoistAir, speed_m_s: f64) -> Self {
        let d = leaf.width_m;
        let spread = (air.t_k / ZERO_CELSIUS_K).powf(data::DIFFUSIVITY_EXPONENT.value)
            * (data::STANDARD_PRESSURE.value * 1000.0 / air.p_pa);
        let momentum = data::MOMENTUM_DIFFUSIVITY_ZERO.value * spread;
        let heat = data::THERMAL_DIFFUSIVITY_ZERO.value * spread;
        let vapour = vapour_diffusivity_m2_s(air.t_k, air.p_pa);
        let reynolds = (speed_m_s * d / momentum).sqrt();
        let flutter = if leaf.flutters { data::FLUTTER_FACTOR.value } else { 1.0 };
        let forced = data::FORCED_SHERWOOD.value * reynolds * flutter;
        let n = data::MIXED_EXPONENT.value;
        let joined = |diffusivity: f64| {
            let per = diffusivity / d;
            let flow = forced * (momentum / diffusivity).cbrt() * per;
            flow.powf(n) + (data::STILL_SHERWOOD.value * per).powf(n)
        };
        let grashof = data::GRAVITY.value * d * d * d / (air.virtual_k() * momentum * momentum);
        let free = data::FREE_NUSSELT.value * grashof.powf(0.25);
        Self {
            heat_power: joined(heat),
            vapour_power: joined(vapour),
            heat_free_power: (free * heat / d).powf(n),
            vapour_free_power: (free * (heat / vapour).powf(0.25) * vapour / d).powf(n),
        }
    }

    /// A sessile drop of this conductance for vapour by diffusion in m/s, in the flow over its leaf
    /// (conductances for heat and vapour in m/s).
    pub(crate) fn joined(vapour: f64, flow: (f64, f64), air: &MoistAir) -> Self {
        let n = data::MIXED_EXPONENT.value;
        let spread = (air.t_k / ZERO_CELSIUS_K).powf(data::DIFFUSIVITY_EXPONENT.value)
            * (data::STANDARD_PRESSURE.value * 1000.0 / air.p_pa);
        let ratio = data::THERMAL_DIFFUSIVITY_ZERO.value * spread
            / vapour_diffusivity_m2_s(air.t_k, air.p_pa);
        Self {
            heat_power: (vapour * ratio).powf(n) + flow.0.powf(n),
            vapour_power: vapour.powf(n) + flow.1.powf(n),
            heat_free_power: 0.0,
            vapour_free_power: 0.0,
        }
    }

    /// A sphere of diameter `d` in m: Sh = 2 + 0.6 Re^½ Sc^⅓ (Ranz & Marshall 1952).
    pub(crate) fn sphere(d: f64, air: &MoistAir, speed_m_s: f64) -> Self {
        let spread = (air.t_k / ZERO_CELSIUS_K).powf(data::DIFFUSIVITY_EXPONENT.value)
            * (data::STANDARD_PRESSURE.value * 1000.0 / air.p_pa);
        let momentum = data::MOMENTUM_DIFFUSIVITY_ZERO.value * spread;
        let reynolds = (speed_m_s * d / momentum).sqrt();
        let power = |diffusivity: f64| {
            let sherwood = data::SPHERE_STILL.value
                + data::SPHERE_FORCED.value * reynolds * (momentum / diffusivity).cbrt();
            (sherwood * diffusivity / d).powf(data::MIXED_EXPONENT.value)
        };
        Self {
            heat_power: power(data::THERMAL_DIFFUSIVITY_ZERO.value * spread),
            vapour_power: power(vapour_diffusivity_m2_s(air.t_k, air.p_pa)),
            heat_free_power: 0.0,
            vapour_free_power: 0.0,
        }
    }

    /// Conductances for heat and vapour in m/s at a difference of virtual temperature in K.
    #[inline]
    pub(crate) fn conductances(&self, virtual_difference: f64) -> (f64, f64) {
        let n = data::MIXED_EXPONENT.value;
        let lift = virtual_difference.abs().powf(0.25 * n);
        let join = |fixed: f64, free: f64| (fixed + free * lift).powf(1.0 / n);
        (
            join(self.heat_power, self.heat_free_power),
            join(self.vapour_power, self.vapour_free_power),
        )
    }
}

/// Conductance of one side of a leaf for heat and for water vapour, for a given difference of
/// (virtual) temperature between leaf and air.
///
/// ```
/// use guardcell_film::{Leaf, MoistAir, boundary_layer::conductances};
/// use guardcell_units::quantity::{Length, TemperatureInterval, Velocity};
/// use guardcell_units::uom::si::{length::meter, temperature_interval::kelvin, velocity::meter_per_second};
/// let leaf = Leaf::new(Length::new::<meter>(0.05))?;
/// let air = MoistAir::from_celsius_percent(20.0, 50.0)?;
/// let (_, vapour) = conductances(
///     &leaf,
///     &air,
///     Velocity::new::<meter_per_second>(0.5),
///     TemperatureInterval::new::<kelvin>(0.0),
/// );
/// // Campbell & Norman 1998 (from memory): 0.01137 m/s.
/// assert!((vapour.get::<meter_per_second>() / 0.01137 - 1.0).abs() < 0.03);
/// # Ok::<(), guardcell_film::FilmError>(())
/// ```
#[must_use]
pub fn conductances(
    leaf: &Leaf,
    air: &MoistAir,
    air_speed: Velocity,
    leaf_over_air: TemperatureInterval,
) -> (Velocity, Velocity) {
    let exchange = Exchange::new(leaf, air, air_speed.get::<meter_per_second>().max(0.0));
    let (heat, vapour) = exchange.conductances(leaf_over_air.get::<kelvin>());
    (Velocity::new::<meter_per_second>(heat), Velocity::new::<meter_per_second>(vapour))
}
