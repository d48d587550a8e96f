//! Equilibrium constants and activity coefficients at one temperature.

use super::water::Water;
use guardcell_reference::aqueous::{
    Activity, COMPLEX_COUNT, COMPONENT_COUNT, Component, complexes,
};
use guardcell_reference::parameters::solution as data;
use std::sync::LazyLock;

pub(crate) const COMPONENTS: usize = COMPONENT_COUNT;
/// Components whose free amount follows at once from the others: each complex holds at most one
/// of them, and one of it. Ca, Mg, K, Na, NH4, Cl.
pub(crate) const OWNERS: usize = 6;
/// The components that are solved for together: citrate, PO4, SO4, CO3 and H.
pub(crate) const SOLVED: usize = 5;
/// The index of the first of them in the order of [`Component::ALL`].
pub(crate) const FIRST_SOLVED: usize = Component::Cit as usize;
/// The index of citrate among the solved components.
pub(crate) const CIT: usize = 0;
/// The index of PO4 among the solved components.
pub(crate) const PO4: usize = 1;
/// The index of SO4 among the solved components.
pub(crate) const SO4: usize = 2;
/// The index of CO3 among the solved components.
pub(crate) const CO3: usize = 3;
/// The index of H among the solved components.
pub(crate) const H: usize = 4;

/// A complex as the solver sees it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shape {
    /// Which of the owners it holds, if any.
    pub(crate) owner: Option<usize>,
    /// How many of each solved component it holds.
    pub(crate) count: [i32; SOLVED],
    /// The same as numbers.
    pub(crate) counts: [f64; SOLVED],
    pub(crate) charge: f64,
    pub(crate) water: f64,
    /// The components it holds and how many, in its first `held` places.
    parts: [(usize, f64); 4],
    held: usize,
}

/// Every complex of the table, in its order.
pub(crate) static SHAPES: LazyLock<[Shape; COMPLEX_COUNT]> = LazyLock::new(|| {
    core::array::from_fn(|i| {
        let c = &complexes()[i];
        let count = core::array::from_fn(|k| c.components[FIRST_SOLVED + k]);
        let mut parts = [(0, 0.0); 4];
        let held = c.components.iter().enumerate().filter(|(_, n)| **n != 0);
        let mut filled = 0;
        for (slot, (component, n)) in parts.iter_mut().zip(held) {
            *slot = (component, f64::from(*n));
            filled += 1;
        }
        Shape {
            owner: c.components[..OWNERS].iter().position(|n| *n != 0),
            count,
            counts: count.map(f64::from),
            charge: f64::from(c.charge),
            water: f64::from(c.water),
            parts,
            held: filled,
        }
    })
});

/// What the activity coefficients of all species need: the components, then the complexes.
#[derive(Debug)]
pub(crate) struct Activities {
    /// Each distinct expression with its charge.
    classes: Vec<(Activity, f64)>,
    /// The class of each component.
    components: [usize; COMPONENTS],
    /// The class of each complex.
    complexes: [usize; COMPLEX_COUNT],
}

static ACTIVITIES: LazyLock<Activities> = LazyLock::new(|| {
    let mut classes: Vec<(Activity, f64)> = Vec::new();
    let mut class = |activity: Activity, charge: i32| {
        let this = (activity, f64::from(charge * charge));
        classes.iter().position(|c| *c == this).unwrap_or_else(|| {
            classes.push(this);
            classes.len() - 1
        })
    };
    let components = Component::ALL.map(|c| class(c.ion().activity, c.ion().charge));
    let complexes = core::array::from_fn(|i| {
        let c = &complexes()[i];
        class(c.activity, c.charge)
    });
    Activities { classes, components, complexes }
});

/// Charges of the components in the order of [`Component::ALL`].
pub(crate) const CHARGES: [f64; COMPONENTS] =
    [2.0, 2.0, 1.0, 1.0, 1.0, -1.0, -1.0, -3.0, -3.0, -2.0, -2.0, 1.0];

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

    /// Activity coefficients and the constants in terms of molalities, at one ionic strength. The
    /// constants of citrate are zero where the solution holds none, which spares their evaluation.
    pub(crate) fn effective(
        &self,
        ionic_strength: f64,
        ln_water: f64,
        holds_citrate: bool,
    ) -> Effective {
        let i = Debye {
            a: self.water.debye_a * core::f64::consts::LN_10,
            b: self.water.debye_b,
            strength: ionic_strength,
            root: ionic_strength.sqrt(),
        };
        let activities = &*ACTIVITIES;
        let mut of_class = [0.0; COMPONENTS + COMPLEX_COUNT]; // there cannot be more classes
        for (g, (activity, squared)) in of_class.iter_mut().zip(&activities.classes) {
            *g = i.ln_gamma(*activity, *squared);
        }
        let ln_gamma = activities.components.map(|class| of_class[class]);
        let mut k = [0.0; COMPLEX_COUNT];
        let rows = self.ln_k.iter().zip(SHAPES.iter()).zip(&activities.complexes);
        for (k, ((ln_k, shape), class)) in k.iter_mut().zip(rows) {
            if !holds_citrate && shape.count[CIT] != 0 {
                continue;
            }
            let mut sum = ln_k + shape.water * ln_water - of_class[*class];
            for (component, n) in &shape.parts[..shape.held] {
                sum += n * ln_gamma[*component];
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
    fn ln_gamma(&self, activity: Activity, z2: f64) -> f64 {
        match activity {
            Activity::Neutral { b_kg_mol } => b_kg_mol * self.strength * core::f64::consts::LN_10,
            Activity::Davies => {
                -self.a
                    * z2
                    * (self.root / (1.0 + self.root) - data::DAVIES_LINEAR.number() * self.strength)
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
            assert!(c.components.iter().filter(|n| **n != 0).count() <= 4, "{}", c.name);
            let solved = &c.components[FIRST_SOLVED..];
            assert!(solved.iter().all(|n| (-1..=3).contains(n)), "{}", c.name);
            assert!(solved[..H].iter().all(|n| *n >= 0), "{}", c.name);
        }
        for c in Component::ALL {
            assert_eq!(f64::from(c.ion().charge), CHARGES[c as usize]);
        }
    }
}
