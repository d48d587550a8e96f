//! Equilibrium constants and activity coefficients at one temperature.

use super::water::Water;
use guardcell_reference::aqueous::{Activity, COMPLEX_COUNT, Component, complexes};
use guardcell_reference::parameters::solution as data;
use std::sync::LazyLock;

pub(crate) const COMPONENTS: usize = 11;
/// Components whose free amount follows at once from the others: each complex holds at most one
/// of them, and one of it. Ca, Mg, K, Na, NH4, Cl.
pub(crate) const OWNERS: usize = 6;
/// The components that are solved for together: PO4, SO4, CO3 and H.
pub(crate) const SOLVED: usize = 4;
/// The index of the first of them in the order of [`Component::ALL`].
pub(crate) const FIRST_SOLVED: usize = Component::Po4 as usize;
/// The index of H among the solved components.
pub(crate) const H: usize = 3;
/// The index of CO3 among the solved components.
pub(crate) const CO3: usize = 2;

/// A complex as the solver sees it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shape {
    /// Which of the owners it holds, if any.
    pub(crate) owner: Option<usize>,
    /// How many of each solved component it holds.
    pub(crate) count: [i32; SOLVED],
    pub(crate) charge: f64,
    pub(crate) water: f64,
}

/// Every complex of the table, in its order.
pub(crate) static SHAPES: LazyLock<[Shape; COMPLEX_COUNT]> = LazyLock::new(|| {
    core::array::from_fn(|i| {
        let c = &complexes()[i];
        Shape {
            owner: c.components[..OWNERS].iter().position(|n| *n != 0),
            count: core::array::from_fn(|k| c.components[FIRST_SOLVED + k]),
            charge: f64::from(c.charge),
            water: f64::from(c.water),
        }
    })
});

/// Charges of the components in the order of [`Component::ALL`].
pub(crate) const CHARGES: [f64; COMPONENTS] =
    [2.0, 2.0, 1.0, 1.0, 1.0, -1.0, -1.0, -3.0, -2.0, -2.0, 1.0];

/// Constants that depend on temperature alone.
#[derive(Debug, Clone)]
pub(crate) struct Constants {
    pub(crate) water: Water,
    /// ln K of formation of each complex.
    pub(crate) ln_k: [f64; COMPLEX_COUNT],
}

impl Constants {
    pub(crate) fn at(celsius: f64) -> Self {
        let water = Water::at(celsius);
        let log10 = water.kelvin.log10();
        let mut ln_k = [0.0; COMPLEX_COUNT];
        for (ln_k, complex) in ln_k.iter_mut().zip(complexes()) {
            *ln_k = complex.log_k.with_log10(water.kelvin, log10) * core::f64::consts::LN_10;
        }
        Self { water, ln_k }
    }

    /// Activity coefficients and the constants in terms of molalities, at one ionic strength.
    pub(crate) fn effective(&self, ionic_strength: f64, ln_water: f64) -> Effective {
        let i = Debye {
            a: self.water.debye_a * core::f64::consts::LN_10,
            b: self.water.debye_b,
            strength: ionic_strength,
            root: ionic_strength.sqrt(),
        };
        let mut ln_gamma = [0.0; COMPONENTS];
        for (g, c) in ln_gamma.iter_mut().zip(Component::ALL) {
            let ion = c.ion();
            *g = i.ln_gamma(ion.activity, f64::from(ion.charge));
        }
        let mut k = [0.0; COMPLEX_COUNT];
        for (s, (k, ln_k)) in k.iter_mut().zip(self.ln_k).enumerate() {
            let (complex, shape) = (&complexes()[s], &SHAPES[s]);
            let mut sum =
                ln_k + shape.water * ln_water - i.ln_gamma(complex.activity, shape.charge);
            for (n, g) in complex.components.iter().zip(ln_gamma) {
                if *n != 0 {
                    sum += f64::from(*n) * g;
                }
            }
            *k = sum.exp();
        }
        Effective { ln_gamma, k }
    }
}

struct Debye {
    a: f64,
    b: f64,
    strength: f64,
    root: f64,
}

impl Debye {
    fn ln_gamma(&self, activity: Activity, charge: f64) -> f64 {
        let z2 = charge * charge;
        match activity {
            Activity::Neutral { b_kg_mol } => b_kg_mol * self.strength * core::f64::consts::LN_10,
            Activity::Davies => {
                -self.a
                    * z2
                    * (self.root / (1.0 + self.root) - data::DAVIES_LINEAR.value * self.strength)
            }
            Activity::Extended { a_angstrom, b_kg_mol } => {
                -self.a * z2 * self.root / (1.0 + self.b * a_angstrom * self.root)
                    + b_kg_mol * self.strength * core::f64::consts::LN_10
            }
        }
    }
}

/// Constants at one ionic strength and activity of water.
#[derive(Debug, Clone)]
pub(crate) struct Effective {
    /// ln γ of each component's free ion.
    pub(crate) ln_gamma: [f64; COMPONENTS],
    /// The constant of each complex in terms of molalities.
    pub(crate) k: [f64; COMPLEX_COUNT],
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_has_the_shape_the_solver_needs() {
        for c in complexes() {
            let owners = &c.components[..OWNERS];
            assert!(owners.iter().sum::<i32>() <= 1, "{}", c.name);
            assert!(owners.iter().all(|n| (0..=1).contains(n)), "{}", c.name);
            assert_eq!(c.count(Component::No3), 0, "{}", c.name);
            let solved = &c.components[FIRST_SOLVED..];
            assert!(solved.iter().all(|n| (-1..=3).contains(n)), "{}", c.name);
            assert!(solved[..H].iter().all(|n| *n >= 0), "{}", c.name);
        }
        for c in Component::ALL {
            assert_eq!(f64::from(c.ion().charge), CHARGES[c as usize]);
        }
    }
}
