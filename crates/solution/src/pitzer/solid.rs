//! How near a stock is to each solid that its ions can form.

use super::activity::{Activities, End, Model, Molalities};
use guardcell_reference::Solute;
use guardcell_reference::aqueous::LogK;
use guardcell_reference::pitzer::{BrineIon, Solid, SolidConstant, solids};
use guardcell_reference::solubility::solubility;
use guardcell_units::atomic_weight::Element;
use guardcell_units::basis::{Basis as _, PO4};
use guardcell_units::quantity::celsius;
use guardcell_units::uom::si::molar_mass::gram_per_mole;

/// A solid and its saturation index in a stock: log10 of the ion activity product over the
/// constant. The ends differ where parameters are only bounded or two sources of the constant differ.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Saturation {
    /// The key of the solid, such as `arcanite`.
    pub key: &'static str,
    /// Its name for people.
    pub name: &'static str,
    /// Its formula.
    pub formula: &'static str,
    /// The low end of the index.
    pub low: f64,
    /// The high end of the index.
    pub high: f64,
    /// Keys of the works the constant is from.
    pub sources: &'static [&'static str],
}

/// Isomorphous salts that crystallise together: the keys of both, ions exchanged per formula, and
/// how to call the mixed crystal. It can come down before either salt would alone, at most as an
/// ideal solid solution does (total solubility product of Glynn & Reardon 1990), at least as the
/// salt alone.
const MIXED_CRYSTALS: [(&str, &str, f64, &str, &str, &str); 2] = [
    (
        "arcanite",
        "ammonium_sulfate",
        2.0,
        "potassium_ammonium_sulfate",
        "mixed crystals of potassium and ammonium sulfate",
        "(K,NH4)2SO4",
    ),
    (
        "monopotassium_phosphate",
        "monoammonium_phosphate",
        1.0,
        "potassium_ammonium_phosphate",
        "mixed crystals of potassium and ammonium dihydrogen phosphate",
        "(K,NH4)H2PO4",
    ),
];

/// Solids with their constants at one temperature.
#[derive(Debug, Clone)]
pub(super) struct Solids {
    model: [Model; 2],
    /// The lowest and the highest ln K of each solid of the table; none where its material has no
    /// solubility.
    ln_k: Vec<Option<[f64; 2]>>,
}

impl Solids {
    pub(super) fn at(celsius: f64) -> Self {
        let model = [Model::at(celsius, End::Low), Model::at(celsius, End::High)];
        let ln_k = solids().iter().map(|s| ln_k(s, celsius, &model[0])).collect();
        Self { model, ln_k }
    }

    /// Every solid whose ions are present.
    pub(super) fn saturations(&self, m: &Molalities) -> Vec<Saturation> {
        let found = [self.model[0].activities(m), self.model[1].activities(m)];
        let mut list: Vec<Saturation> = solids()
            .iter()
            .zip(&self.ln_k)
            .filter(|(s, _)| s.ions.iter().zip(m).all(|(n, m)| *n == 0 || *m > 0.0))
            .filter_map(|(s, ln_k)| {
                let [lowest, highest] = (*ln_k)?;
                let [a, b] = [0, 1].map(|i| ln_product(s, m, &found[i]));
                Some(Saturation {
                    key: s.key,
                    name: s.name,
                    formula: s.formula,
                    low: (a.min(b) - highest) / core::f64::consts::LN_10,
                    high: (a.max(b) - lowest) / core::f64::consts::LN_10,
                    sources: s.sources,
                })
            })
            .collect();
        for (first, second, exchanged, key, name, formula) in MIXED_CRYSTALS {
            let of = |key: &str| list.iter().find(|s| s.key == key).copied();
            if let (Some(a), Some(b)) = (of(first), of(second)) {
                let total = |x: f64, y: f64| {
                    let part = |si: f64| 10_f64.powf(si / exchanged);
                    exchanged * (part(x) + part(y)).log10()
                };
                list.push(Saturation {
                    key,
                    name,
                    formula,
                    low: a.low.max(b.low),
                    high: total(a.high, b.high),
                    sources: &["glynn1990solid"],
                });
            }
        }
        list
    }
}

/// ln of the ion activity product.
fn ln_product(solid: &Solid, m: &Molalities, found: &Activities) -> f64 {
    let ions = solid.ions.iter().zip(m).zip(found.ln_gamma);
    f64::from(solid.water) * found.ln_water
        + ions
            .filter(|((n, _), _)| **n != 0)
            .map(|((n, m), g)| f64::from(*n) * (m.ln() + g))
            .sum::<f64>()
}

/// The lowest and the highest ln K that the sources of a solid give.
fn ln_k(solid: &Solid, temp_c: f64, model: &Model) -> Option<[f64; 2]> {
    let published = |log_k: LogK| log_k.at_kelvin(temp_c + 273.15) * core::f64::consts::LN_10;
    match solid.constant {
        SolidConstant::LogK(log_k) => Some([published(log_k); 2]),
        SolidConstant::Solubility(material) => Some([alone(solid, material, temp_c, model)?; 2]),
        SolidConstant::Both(log_k, material) => {
            let (a, b) = (published(log_k), alone(solid, material, temp_c, model)?);
            Some([a.min(b), a.max(b)])
        }
    }
}

/// ln K from the solubility of the salt alone: what dissolves is in equilibrium with it.
fn alone(solid: &Solid, material: &str, temp_c: f64, model: &Model) -> Option<f64> {
    let grams = solubility(material)?.at(celsius(temp_c));
    let formula_g: f64 =
        solid.ions.iter().zip(BrineIon::ALL).map(|(n, i)| f64::from(*n) * g_mol(i)).sum();
    let molality = 10.0 * grams / formula_g;
    let m: Molalities = solid.ions.map(|n| f64::from(n) * molality);
    Some(ln_product(solid, &m, &model.activities(&m)))
}

/// The molar mass of an ion, g/mol.
fn g_mol(ion: BrineIon) -> f64 {
    let of = |s: Solute| s.molar_mass().get::<gram_per_mole>();
    match ion {
        BrineIon::Ca => of(Solute::Ca),
        BrineIon::Mg => of(Solute::Mg),
        BrineIon::K => of(Solute::K),
        BrineIon::Na => of(Solute::Na),
        BrineIon::Nh4 => of(Solute::Nh4),
        BrineIon::Cl => of(Solute::Cl),
        BrineIon::No3 => of(Solute::No3),
        BrineIon::So4 => of(Solute::So4),
        BrineIon::H2po4 => PO4::FORMULA.g_per_mol() + 2.0 * Element::H.g_per_mol(),
        BrineIon::Hpo4 => PO4::FORMULA.g_per_mol() + Element::H.g_per_mol(),
    }
}
