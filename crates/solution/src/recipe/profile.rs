//! The elements of a solution and where each comes from.

use super::answer::{ElementAmount, NitrogenForms};
use super::case::Case;
use crate::label::{ELEMENTS, element_key};
use crate::product::element_of_ions;
use guardcell_reference::{Composition, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::quantity::in_mmol_per_l;
use std::collections::BTreeMap;

/// mg/L of every element from each product.
pub(super) struct Brought(Vec<(Element, Vec<f64>)>);

impl Brought {
    pub(super) fn of(case: &Case<'_>, units: &[f64]) -> Self {
        let mut all: Vec<(Element, Vec<f64>)> =
            ELEMENTS.into_iter().map(|e| (e, Vec::with_capacity(units.len()))).collect();
        for (product, unit) in case.products.iter().zip(units) {
            guardcell_call::checkpoint();
            // Each product lists every element in the same order.
            for ((_, each), (_, mg)) in all.iter_mut().zip(product.elements()) {
                each.push(mg * unit);
            }
        }
        Self(all)
    }

    /// Every element that is there, by its key.
    pub(super) fn elements(&self, water: &Composition) -> BTreeMap<String, ElementAmount> {
        self.0
            .iter()
            .filter_map(|(e, each)| {
                let from_products: f64 = each.iter().sum();
                let from_water = element_of_ions(water, *e).unwrap_or(0.0);
                let total = from_products + from_water;
                (total > 0.0 || matches!(e, Element::N | Element::P | Element::K))
                    .then(|| (element_key(*e), ElementAmount { total, from_products, from_water }))
            })
            .collect()
    }

    /// One product's share of each element that the products bring, percent.
    pub(super) fn shares(&self, index: usize) -> BTreeMap<String, f64> {
        self.0
            .iter()
            .filter_map(|(e, each)| {
                let sum: f64 = each.iter().sum();
                let own = each.get(index).copied().unwrap_or(0.0);
                (sum > 0.0).then(|| (element_key(*e), 100.0 * own / sum))
            })
            .collect()
    }
}

/// The forms of nitrogen of feed and water.
pub(super) fn nitrogen_forms(case: &Case<'_>, units: &[f64]) -> NitrogenForms {
    let w = case.water.composition();
    let n = |s: Solute| in_mmol_per_l(w[s]) * Element::N.g_per_mol();
    let mut forms = NitrogenForms {
        nitrate: n(Solute::No3),
        ammoniacal: n(Solute::Nh4),
        urea: 0.0,
        other: 0.0,
    };
    for (p, u) in case.products.iter().zip(units) {
        let a = p.analysis();
        forms.nitrate += a.nitrate_n * u;
        forms.ammoniacal += a.ammoniacal_n * u;
        forms.urea += a.urea_n * u;
        forms.other += a.other_n * u;
    }
    forms
}
