//! The state of a mix carried down in water activity.

use super::equilibrium;
use super::ions::{self, Candidate, GridPoint, Species, UREA};
use super::mixing::Mixing;
use super::node::Node;
use guardcell_reference::salts::Role;

/// The state carried down the path.
#[derive(Clone)]
pub(super) struct Walker<'a> {
    closed: &'a ions::Closed,
    candidates: &'a [Candidate],
    mixing: &'a Mixing,
    particles: f64,
    dissolved: Species,
    solids: Vec<f64>,
    water_g: f64,
}

impl<'a> Walker<'a> {
    pub(super) fn new(
        closed: &'a ions::Closed,
        candidates: &'a [Candidate],
        mixing: &'a Mixing,
    ) -> Self {
        Self {
            closed,
            candidates,
            mixing,
            particles: closed.species.iter().sum(),
            dissolved: closed.species,
            solids: vec![0.0; candidates.len()],
            water_g: 0.0,
        }
    }

    /// Goes to a water activity; `true` while some solution is left.
    pub(super) fn step(&mut self, a: f64) -> bool {
        let point = GridPoint::new(a);
        let wet = equilibrium::settle(
            &mut self.dissolved,
            &mut self.solids,
            self.candidates,
            &point,
            self.mixing,
            self.particles,
        );
        self.water_g =
            if wet { ions::water_g(&self.dissolved, self.candidates, &point) } else { 0.0 };
        wet
    }

    pub(super) fn first_soluble_solid(&self) -> Option<usize> {
        let trace = 1e-4 * self.particles;
        self.candidates
            .iter()
            .zip(&self.solids)
            .position(|(c, s)| c.salt.role == Role::Soluble && *s > trace)
    }

    pub(super) fn node(&self, a: f64) -> Node {
        let masses = &self.closed.masses_g_mol;
        let mut node = Node {
            a,
            k: self.water_g / 1000.0 * (1.0 - a) / a,
            salts_g: 0.0,
            urea_g: self.dissolved[UREA] * masses[UREA] / 1000.0,
            solids_g: 0.0,
            solid_urea_g: 0.0,
            bound_g: 0.0,
        };
        node.salts_g = (0..UREA).map(|i| self.dissolved[i] * masses[i] / 1000.0).sum();
        for (c, s) in self.candidates.iter().zip(&self.solids) {
            let dry = s * c.solid_g_mol(masses) / 1000.0;
            let bound = s * c.hydrate_g_mol() / 1000.0;
            node.solids_g += dry + bound;
            node.bound_g += bound;
            if c.cation == UREA {
                node.solid_urea_g += dry;
            }
        }
        node
    }
}

/// The highest point of `low..high` where `solid` holds, which holds at `low` and not at `high`.
pub(super) fn bisect(mut low: f64, mut high: f64, solid: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..6 {
        let middle = 0.5 * (low + high);
        if solid(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
