//! Linear functions of the amounts of the products, and the tangent of the conductance.

use super::case::{Case, mg_of};
use super::target::Target;
use guardcell_error::Error;
use guardcell_reference::{Composition, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::quantity::in_mmol_per_l;

/// A linear function of the amounts.
pub(super) struct Linear {
    pub(super) of: Vec<f64>,
    pub(super) constant: f64,
}

impl Linear {
    pub(super) fn at(&self, x: &[f64]) -> f64 {
        self.constant + self.of.iter().zip(x).map(|(a, x)| a * x).sum::<f64>()
    }

    /// The function of a target near `x`.
    pub(super) fn of_target(case: &Case<'_>, target: &Target, x: &[f64]) -> Result<Self, Error> {
        match target {
            Target::Ec25 { .. } => Self::tangent(case, &case.mean, x),
            Target::Ec25AboveWater { .. } => {
                let mut l = Self::tangent(case, &case.mean, x)?;
                l.constant -= case.water_ec25();
                Ok(l)
            }
            _ => Ok(Self {
                of: case
                    .products
                    .iter()
                    .map(|p| case.coefficient(target, p).unwrap_or(0.0))
                    .collect(),
                constant: case.water_part(target),
            }),
        }
    }

    /// The tangent of the specific conductance at `x`.
    pub(super) fn tangent(case: &Case<'_>, ions: &[Composition], x: &[f64]) -> Result<Self, Error> {
        let here = case.ec25(ions, x)?;
        let mut of = Vec::with_capacity(x.len());
        for i in 0..x.len() {
            guardcell_call::checkpoint();
            let mut probe = x.to_vec();
            let h = 1e-4 * x.get(i).copied().unwrap_or(0.0).max(0.05);
            if let Some(p) = probe.get_mut(i) {
                *p += h;
            }
            of.push((case.ec25(ions, &probe)? - here) / h);
        }
        let constant = here - of.iter().zip(x).map(|(a, x)| a * x).sum::<f64>();
        Ok(Self { of, constant })
    }

    /// Sodium or chloride that one unit of each product brings at most, mg/L.
    pub(super) fn salt(case: &Case<'_>, s: Solute) -> Self {
        Self {
            of: case
                .products
                .iter()
                .map(|p| p.ions().iter().map(|c| mg_of(c, s)).fold(0.0, f64::max))
                .collect(),
            constant: mg_of(&case.water.composition(), s),
        }
    }

    /// A part of the nitrogen (nitrate, ammoniacal, urea, other) of products and water, mg/L.
    pub(super) fn nitrogen(case: &Case<'_>, part: fn(&[f64; 4]) -> f64) -> Self {
        let of = case
            .products
            .iter()
            .map(|p| {
                let a = p.analysis();
                part(&[a.nitrate_n, a.ammoniacal_n, a.urea_n, a.other_n])
            })
            .collect();
        let w = case.water.composition();
        let n = |s: Solute| in_mmol_per_l(w[s]) * Element::N.g_per_mol();
        Self { of, constant: part(&[n(Solute::No3), n(Solute::Nh4), 0.0, 0.0]) }
    }
}
