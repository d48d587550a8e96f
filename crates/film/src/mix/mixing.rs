//! The terms by which mixing departs from the ideal.

use super::ions::{CA, K, SPECIES, Species, UREA};
use guardcell_reference::parameters::film as data;
use guardcell_units::quantity::Ratio;
use guardcell_units::uom::si::ratio::ratio;

/// The calibrated terms of the mixing rule: pair terms of a regular solution, in units of RT, that
/// act between calcium and potassium and between urea and every ion, and the share of its
/// deliquescence humidity below which a hydrate counts as having lost its water.
///
/// They are fitted to the pairs of `data/salt_mixtures.csv`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mixing {
    calcium_potassium: f64,
    urea: f64,
    pub(super) hydrate_share: f64,
}

impl Mixing {
    /// The terms of `data/film.csv`.
    #[must_use]
    pub const fn shipped() -> Self {
        Self {
            calcium_potassium: data::MIXING_CA_K.number(),
            urea: data::MIXING_UREA.number(),
            hydrate_share: data::HYDRATE_SHARE.number(),
        }
    }

    /// Other terms, for fitting. The hydrate share is held between 0.01 and 1.
    #[must_use]
    pub fn new(calcium_potassium: Ratio, urea: Ratio, hydrate_share: Ratio) -> Self {
        Self {
            calcium_potassium: calcium_potassium.get::<ratio>(),
            urea: urea.get::<ratio>(),
            hydrate_share: hydrate_share.get::<ratio>().clamp(0.01, 1.0),
        }
    }

    /// The logarithms of the activity coefficients of the species from their shares. No term acts
    /// inside the solution of a single salt.
    pub(super) fn ln_gamma(&self, share: &Species) -> Species {
        let mut out = [0.0; SPECIES];
        let mut excess = 0.0;
        let mut pair = |i: usize, j: usize, w: f64| {
            out[i] += w * share[j];
            out[j] += w * share[i];
            excess += w * share[i] * share[j];
        };
        pair(CA, K, self.calcium_potassium);
        (0..UREA).for_each(|ion| pair(ion, UREA, self.urea));
        out.iter_mut().for_each(|g| *g -= excess);
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gibbs–Duhem at constant water activity: moving a little of one species for another changes
    /// the excess energy Σ xᵢ ln γᵢ by the difference of their logarithms.
    #[test]
    fn activity_coefficients_are_derivatives_of_one_energy() {
        let mixing = Mixing { calcium_potassium: -1.5, urea: 0.4, hydrate_share: 0.7 };
        let energy = |n: &Species| {
            let all: f64 = n.iter().sum();
            let share = n.map(|x| x / all);
            let ln = mixing.ln_gamma(&share);
            all * share.iter().zip(ln).map(|(x, l)| x * l).sum::<f64>()
        };
        let mut n = [0.0; SPECIES];
        (n[CA], n[K], n[5], n[UREA]) = (1.0, 2.0, 4.0, 1.5);
        let all: f64 = n.iter().sum();
        let ln = mixing.ln_gamma(&n.map(|x| x / all));
        for i in [CA, K, 5, UREA] {
            let h = 1e-6;
            let (mut up, mut down) = (n, n);
            up[i] += h;
            down[i] -= h;
            let slope = (energy(&up) - energy(&down)) / (2.0 * h);
            assert!((slope - ln[i]).abs() < 1e-6, "{i}: {slope} {}", ln[i]);
        }
    }
}
