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
        let spread = (air.t_k / ZERO_CELSIUS_K).powf(data::DIFFUSIVITY_EXPONENT.number())
            * (data::STANDARD_PRESSURE.kpa() * 1000.0 / air.p_pa);
        let momentum = data::MOMENTUM_DIFFUSIVITY_ZERO.m2_per_s() * spread;
        let heat = data::THERMAL_DIFFUSIVITY_ZERO.m2_per_s() * spread;
        let vapour = vapour_diffusivity_m2_s(air.t_k, air.p_pa);
        let reynolds = (speed_m_s * d / momentum).sqrt();
        let flutter = if leaf.flutters { flutter_factor(speed_m_s) } else { 1.0 };
        let forced = data::FORCED_SHERWOOD.number() * reynolds * flutter;
        let n = data::MIXED_EXPONENT.number();
        let joined = |diffusivity: f64| {
            let per = diffusivity / d;
            let flow = forced * (momentum / diffusivity).cbrt() * per;
            flow.powf(n) + (data::STILL_SHERWOOD.number() * per).powf(n)
        };
        let grashof =
            data::GRAVITY.m_per_s2() * d * d * d / (air.virtual_k() * momentum * momentum);
        let free = data::FREE_NUSSELT.number() * grashof.powf(0.25);
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
        let n = data::MIXED_EXPONENT.number();
        let spread = (air.t_k / ZERO_CELSIUS_K).powf(data::DIFFUSIVITY_EXPONENT.number())
            * (data::STANDARD_PRESSURE.kpa() * 1000.0 / air.p_pa);
        let ratio = data::THERMAL_DIFFUSIVITY_ZERO.m2_per_s() * spread
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
        let spread = (air.t_k / ZERO_CELSIUS_K).powf(data::DIFFUSIVITY_EXPONENT.number())
            * (data::STANDARD_PRESSURE.kpa() * 1000.0 / air.p_pa);
        let momentum = data::MOMENTUM_DIFFUSIVITY_ZERO.m2_per_s() * spread;
        let reynolds = (speed_m_s * d / momentum).sqrt();
        let power = |diffusivity: f64| {
            let sherwood = data::SPHERE_STILL.number()
                + data::SPHERE_FORCED.number() * reynolds * (momentum / diffusivity).cbrt();
            (sherwood * diffusivity / d).powf(data::MIXED_EXPONENT.number())
        };
        Self {
            heat_power: power(data::THERMAL_DIFFUSIVITY_ZERO.m2_per_s() * spread),
            vapour_power: power(vapour_diffusivity_m2_s(air.t_k, air.p_pa)),
            heat_free_power: 0.0,
            vapour_free_power: 0.0,
        }
    }

    /// Conductances for heat and vapour in m/s at a difference of virtual temperature in K.
    #[inline]
    pub(crate) fn conductances(&self, virtual_difference: f64) -> (f64, f64) {
        let n = data::MIXED_EXPONENT.number();
        let lift = virtual_difference.abs().powf(0.25 * n);
        let join = |fixed: f64, free: f64| (fixed + free * lift).powf(1.0 / n);
        (
            join(self.heat_power, self.heat_free_power),
            join(self.vapour_power, self.vapour_free_power),
        )
    }
}

/// Forced convection of a leaf that is free to flutter over that of a flat plate.
fn flutter_factor(speed_m_s: f64) -> f64 {
    let (from, full) = (data::FLUTTER_FROM.m_per_s(), data::FLUTTER_FULL.m_per_s());
    let moving = ((speed_m_s - from) / (full - from)).clamp(0.0, 1.0);
    1.0 + (data::FLUTTER_FACTOR.number() - 1.0) * moving
}

/// Conductance of one side of a leaf for heat and for water vapour, for a given difference of
/// (virtual) temperature between leaf and air.
///
/// ```
/// # mod guardcell {
/// #     pub use guardcell_error::{Error};
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::{Leaf, MoistAir, boundary_layer::conductances};
/// use guardcell::units::quantity::{Length, TemperatureInterval, Velocity};
/// use guardcell::units::uom::si::{length::meter, temperature_interval::kelvin, velocity::meter_per_second};
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
/// # Ok::<(), guardcell::Error>(())
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

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell_units::quantity::Length;
    use guardcell_units::uom::si::length::meter;

    fn at(speed: f64, lift: f64, leaf: &Leaf, air: &MoistAir) -> (f64, f64) {
        let (heat, vapour) = conductances(
            leaf,
            air,
            Velocity::new::<meter_per_second>(speed),
            TemperatureInterval::new::<kelvin>(lift),
        );
        (heat.get::<meter_per_second>(), vapour.get::<meter_per_second>())
    }

    fn wide() -> Leaf {
        Leaf::new(Length::new::<meter>(0.5)).expect("in range")
    }

    /// Laminar free convection goes with the fourth root of the lift (Nu = 0.50 Gr^¼, Leuning 1995).
    #[test]
    fn free_convection_goes_with_the_fourth_root() {
        let air = MoistAir::from_celsius_percent(20.0, 50.0).expect("valid");
        let n = data::MIXED_EXPONENT.number();
        let free = |lift: f64| {
            let (heat, _) = at(0.0, lift, &wide(), &air);
            let (still, _) = at(0.0, 0.0, &wide(), &air);
            (heat.powf(n) - still.powf(n)).powf(1.0 / n)
        };
        assert!((free(16.0) / free(1.0) - 2.0).abs() < 1e-9);
        assert!((free(-16.0) / free(16.0) - 1.0).abs() < 1e-12);
    }

    /// Flat plate in laminar flow: with the square root of the speed (Pohlhausen).
    #[test]
    fn forced_convection_goes_with_the_square_root() {
        let air = MoistAir::from_celsius_percent(20.0, 50.0).expect("valid");
        let n = data::MIXED_EXPONENT.number();
        let forced = |speed: f64| {
            let (_, vapour) = at(speed, 0.0, &wide(), &air);
            let (_, still) = at(0.0, 0.0, &wide(), &air);
            (vapour.powf(n) - still.powf(n)).powf(1.0 / n)
        };
        assert!((forced(4.0) / forced(1.0) - 2.0).abs() < 1e-9);
    }

    /// Diffusion in thinner air is faster in proportion (Marrero & Mason 1972).
    #[test]
    fn still_air_conducts_more_where_it_is_thin() {
        use guardcell_units::quantity::{Pressure, Ratio, ThermodynamicTemperature};
        use guardcell_units::uom::si::{
            pressure::kilopascal, ratio::percent, thermodynamic_temperature::degree_celsius,
        };
        let air = |kpa: f64| {
            MoistAir::new(
                ThermodynamicTemperature::new::<degree_celsius>(20.0),
                Ratio::new::<percent>(50.0),
                Pressure::new::<kilopascal>(kpa),
            )
            .expect("valid")
        };
        let still = |kpa: f64| at(0.0, 0.0, &wide(), &air(kpa)).1;
        assert!((still(60.0) / still(90.0) - 1.5).abs() < 1e-9);
    }

    /// Schuepp 1972: 1.4 times once leaves move all the time; nothing while they hang still.
    #[test]
    fn flutter_comes_with_the_wind() {
        let n = data::MIXED_EXPONENT.number();
        let air = MoistAir::from_celsius_percent(20.0, 50.0).expect("valid");
        let ratio = |speed: f64| {
            let forced = |leaf: &Leaf| {
                let (_, vapour) = at(speed, 0.0, leaf, &air);
                let (_, still) = at(0.0, 0.0, leaf, &air);
                (vapour.powf(n) - still.powf(n)).powf(1.0 / n)
            };
            forced(&wide().fluttering()) / forced(&wide())
        };
        for (speed, factor) in [(0.3, 1.0), (0.6, 1.0), (1.1, 1.2), (1.6, 1.4), (6.0, 1.4)] {
            assert!((ratio(speed) - factor).abs() < 1e-9, "{speed}");
        }
    }

    /// Ranz & Marshall 1952: Sh = 2 + 0.6 Re^½ Sc^⅓; a drop of 3 mm at 20 °C in still air has a
    /// conductance of 2 D/d.
    #[test]
    fn a_sphere_in_still_air() {
        let air = MoistAir::from_celsius_percent(20.0, 50.0).expect("valid");
        let (_, vapour) = Exchange::sphere(3e-3, &air, 0.0).conductances(0.0);
        let d = vapour_diffusivity_m2_s(air.t_k, air.p_pa);
        assert!((vapour / (2.0 * d / 3e-3) - 1.0).abs() < 1e-12);
        let (_, moved) = Exchange::sphere(3e-3, &air, 1.0).conductances(0.0);
        assert!((moved / vapour - 1.0) > 1.0 && (moved / vapour) < 6.0, "{}", moved / vapour);
    }

    // Heat and vapour diffuse the faster the thinner the air, both alike, so that their ratio for a
    // drop is that at sea level: 1.89e-5 / 2.12e-5 = 0.89 near 0 °C (data/film.csv), at any height.
    #[test]
    fn a_drop_conducts_heat_as_vapour_at_any_pressure() {
        let heat = |kpa: f64| {
            let air = MoistAir::new(
                guardcell_units::quantity::ThermodynamicTemperature::new::<
                    guardcell_units::uom::si::thermodynamic_temperature::degree_celsius,
                >(0.0),
                guardcell_units::quantity::Ratio::new::<guardcell_units::uom::si::ratio::percent>(
                    50.0,
                ),
                guardcell_units::quantity::Pressure::new::<
                    guardcell_units::uom::si::pressure::kilopascal,
                >(kpa),
            )
            .expect("valid");
            let n = data::MIXED_EXPONENT.number();
            Exchange::joined(0.01, (0.0, 0.0), &air).heat_power.powf(1.0 / n) / 0.01
        };
        assert!((heat(101.325) - 0.89).abs() < 0.03, "{}", heat(101.325));
        assert!((heat(70.0) / heat(101.325) - 1.0).abs() < 1e-6);
    }
}
