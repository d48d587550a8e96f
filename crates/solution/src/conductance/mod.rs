//! Electrical conductance of a speciated solution.
//!
//! The form is the Debye–Onsager–Falkenhagen one of Appelo (2017), with the limiting conductances
//! and ion sizes of `data/ions.csv`:
//! λ = (λ0 − B2·|z|·√I/(1+κa))·(1 − B1·√I/(1+κa)²), where B1 is the relaxation and B2 the
//! electrophoretic effect, and κa the ion size times the Debye parameter. λ0 follows the
//! viscosity of water with temperature.
//!
//! How ions of one sign and different charge add up is in doubt. Kohlrausch's law, exact at no
//! ionic strength, weighs each by its equivalents; the reference weighs it by its share of the
//! ionic strength, which differs by up to 5 % and breaks that law. No measured blend was found to
//! decide. The value is half way once the ionic strength is above about 10⁻³ mol/kg, and tends to
//! Kohlrausch's law below; the interval holds both. It also holds the limiting conductances of other
//! works where they differ: those of the phosphates do by up to 10 %.

use crate::speciation::solve::Solved;
use crate::speciation::water::Water;
use guardcell_reference::aqueous::{
    COMPLEX_COUNT, COMPONENT_COUNT, Component, Transport, complexes,
};
use guardcell_reference::parameters::solution as data;

/// Charged species that can occur: the free ions and the complexes.
const SPECIES: usize = COMPONENT_COUNT + COMPLEX_COUNT;

/// A conductivity in µS/cm with the interval in which it is held to lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Conductance {
    pub(crate) us_cm: f64,
    pub(crate) low_us_cm: f64,
    pub(crate) high_us_cm: f64,
}

#[derive(Default)]
struct Mobile {
    molality: f64,
    charge: f64,
    /// Conductance of an equivalent in S·cm²/mol at the temperature and no ionic strength.
    limiting: f64,
    /// The lowest and the highest limiting conductance that works give, over the one used.
    ends: (f64, f64),
    size: f64,
}

/// Sums over the ions of one sign.
#[derive(Default)]
struct Sign {
    moles: f64,
    equivalents: f64,
    squares: f64,
    flow: f64,
}

/// The conductivity of a solution at its own temperature. `water_kg_l` is the water in a litre.
pub(crate) fn conductance(solved: &Solved, water: &Water, water_kg_l: f64) -> Conductance {
    let mut list: [Mobile; SPECIES] = core::array::from_fn(|_| Mobile::default());
    let (mut cations, mut anions) = (Sign::default(), Sign::default());
    let mut count = 0;
    let fallback = Transport {
        conductance_25_s_cm2_mol: data::COMPLEX_CONDUCTANCE.coefficient(),
        low_s_cm2_mol: data::COMPLEX_CONDUCTANCE.coefficient(),
        high_s_cm2_mol: data::COMPLEX_CONDUCTANCE.coefficient(),
        diffusion_temp_k: 0.0,
        onsager_a_angstrom: None,
    };
    let per_kelvin = 1.0 / water.kelvin - 1.0 / 298.15;
    let common = Water::viscosity_25() / water.viscosity_mpa_s
        * (per_kelvin
            * (data::CONDUCTANCE_SLOPE.coefficient()
                + per_kelvin
                    * (data::CONDUCTANCE_CURVATURE_2.coefficient()
                        + data::CONDUCTANCE_CURVATURE_3.coefficient() * per_kelvin)))
            .exp();
    let free = Component::ALL.into_iter().map(|c| (c.ion().charge, c.ion().transport));
    let bound = complexes().iter().map(|c| (c.charge, c.transport));
    let molalities = solved.components.iter().chain(&solved.complexes);
    for (m, (charge, transport)) in molalities.zip(free.chain(bound)) {
        if charge == 0 || *m <= 0.0 {
            continue;
        }
        let t = transport.unwrap_or(fallback);
        let z = f64::from(charge);
        let shift = if per_kelvin == 0.0 { 1.0 } else { (t.diffusion_temp_k * per_kelvin).exp() };
        let limiting = t.conductance_25_s_cm2_mol * shift * common;
        let sign = if z > 0.0 { &mut cations } else { &mut anions };
        sign.moles += m;
        sign.equivalents += m * z.abs();
        sign.squares += m * z * z;
        sign.flow += m * limiting;
        if let Some(slot) = list.get_mut(count) {
            *slot = Mobile {
                molality: *m,
                charge: z,
                limiting,
                ends: (
                    t.low_s_cm2_mol / t.conductance_25_s_cm2_mol,
                    t.high_s_cm2_mol / t.conductance_25_s_cm2_mol,
                ),
                size: t.onsager_a_angstrom.unwrap_or(data::ONSAGER_A_DEFAULT.angstrom()),
            };
            count += 1;
        }
    }
    let onsager = Onsager::of(&cations, &anions, water);
    let root = solved.ionic_strength.sqrt();
    let (mut by_equivalents, mut by_strength) = (0.0, 0.0);
    let (mut less, mut more) = (0.0, 0.0);
    for ion in list.iter().take(count) {
        let z = ion.charge.abs();
        let (sign, size) = if ion.charge > 0.0 {
            (&cations, ion.size)
        } else {
            let shift = data::ONSAGER_A_ANION_SHIFT.angstrom() * z * (onsager.cation_charge - 1.0);
            (&anions, ion.size - shift)
        };
        let ka = water.debye_b * size * root;
        let moving = (ion.limiting - onsager.electrophoresis * z * root / (1.0 + ka))
            * (1.0 - onsager.relaxation * root / ((1.0 + ka) * (1.0 + ka)));
        let moving = moving.max(0.0);
        let flow = moving * ion.molality * z;
        by_equivalents += flow;
        less += flow * (1.0 - ion.ends.0);
        more += flow * (ion.ends.1 - 1.0);
        by_strength += moving * ion.molality * z * z * sign.equivalents / sign.squares;
    }
    let scale = 1e3 * water_kg_l;
    let (kohlrausch, reference) = (by_equivalents * scale, by_strength * scale);
    let strength = solved.ionic_strength;
    let share =
        data::MIXTURE_SHARE.number() * strength / (strength + data::MIXTURE_ONSET.mol_per_kg());
    let us_cm = kohlrausch + share * (reference - kohlrausch);
    let margin = data::CONDUCTANCE_UNCERTAINTY.percent() / 100.0;
    Conductance {
        us_cm,
        low_us_cm: kohlrausch.min(reference) * (1.0 - margin) - less * scale,
        high_us_cm: kohlrausch.max(reference) * (1.0 + margin) + more * scale,
    }
}

struct Onsager {
    relaxation: f64,
    electrophoresis: f64,
    cation_charge: f64,
}

impl Onsager {
    fn of(cations: &Sign, anions: &Sign, water: &Water) -> Self {
        const ELEMENTARY: f64 = 1.602_176_634e-19;
        const BOLTZMANN: f64 = 1.380_649e-23;
        const VACUUM: f64 = 8.854_187_81e-12;
        const AVOGADRO: f64 = 6.022_140_76e23;
        if cations.moles <= 0.0 || anions.moles <= 0.0 {
            return Self { relaxation: 0.0, electrophoresis: 0.0, cation_charge: 1.0 };
        }
        let z_plus = cations.equivalents / cations.moles;
        let z_minus = anions.equivalents / anions.moles;
        let (plus, minus) = (cations.flow / cations.moles, anions.flow / anions.moles);
        let transport = plus / (plus + minus);
        let q = 1.0 / ((transport / z_plus + (1.0 - transport) / z_minus) * (z_plus + z_minus));
        let common = ELEMENTARY * ELEMENTARY / (6.0 * core::f64::consts::PI);
        Self {
            relaxation: common / (2.0 * VACUUM * water.permittivity * BOLTZMANN * water.kelvin) * q
                / (1.0 + q.sqrt())
                * water.debye_b
                * 1e10
                * z_plus
                * z_minus,
            electrophoresis: common * AVOGADRO / water.viscosity_mpa_s * water.debye_b * 1e17,
            cation_charge: z_plus,
        }
    }
}
