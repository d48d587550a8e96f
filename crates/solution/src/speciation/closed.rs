//! A solution known by its totals, that of hydrogen included: what acid, titration and the loss of
//! carbon dioxide do to it.
//!
//! The total of H⁺ is counted over the components (a hydrogencarbonate is CO3 + H, a dissolved CO2
//! is CO3 + 2 H), so that adding an acid is an addition to two totals and nothing else changes.

use super::constants::{COMPONENTS, Constants};
use super::solve::{Hydrogen, Problem, Solved, solve, too_concentrated};
use super::speciated::Molal;
use guardcell_error::Error;
use guardcell_reference::Composition;
use guardcell_reference::aqueous::{Component, complexes};
use guardcell_reference::parameters::solution as data;
use guardcell_units::quantity::ThermodynamicTemperature;

const H: usize = Component::H as usize;
const CO3: usize = Component::Co3 as usize;

/// A solution closed to the air.
#[derive(Debug, Clone)]
pub(crate) struct Closed {
    constants: Constants,
    /// mol/kg in the order of [`Component::ALL`], H included.
    totals: [f64; COMPONENTS],
    urea: f64,
    water_kg_l: f64,
}

impl Closed {
    /// A water from its ions, its pH and its alkalinity; the inorganic carbon of the composition
    /// is not used but follows from pH and alkalinity. Charges may be out of balance, as those of
    /// an analysis are.
    pub(crate) fn from_alkalinity(
        composition: &Composition,
        temperature: ThermodynamicTemperature,
        ph: f64,
        alkalinity_meq_l: f64,
    ) -> Result<Self, Error> {
        let molal = Molal::from_litre(composition, temperature)?;
        let wanted = alkalinity_meq_l * 1e-3 / molal.water_kg_l;
        let mut water = Self {
            constants: molal.constants,
            totals: molal.totals,
            urea: molal.urea,
            water_kg_l: molal.water_kg_l,
        };
        // More than all alkalinity as dissolved carbonate species at any pH above the end point.
        let (mut low, mut high) = (0.0, 2.0 * wanted.max(0.0) + 1e-6);
        let mut miss = |carbon: f64| -> Result<f64, Error> {
            water.totals[CO3] = carbon;
            water.totals[H] = water.at_ph(ph)?.totals()[H];
            Ok(water.alkalinity()? - wanted)
        };
        if miss(0.0)? >= 0.0 {
            return Ok(water); // the pH alone, or phosphate, accounts for the alkalinity
        }
        while miss(high)? < 0.0 {
            low = high;
            high *= 4.0;
            if high > 10.0 {
                return Err(too_concentrated());
            }
        }
        root(low, high, &mut miss)?;
        Ok(water)
    }

    /// The total of one component, mol/kg.
    pub(crate) fn total(&self, component: Component) -> f64 {
        self.totals[component as usize]
    }

    /// kg of water in a litre.
    pub(crate) fn water_kg_l(&self) -> f64 {
        self.water_kg_l
    }

    /// The same with `mol_kg` more of a component.
    pub(crate) fn with(&self, component: Component, mol_kg: f64) -> Self {
        let mut more = self.clone();
        more.totals[component as usize] += mol_kg;
        more
    }

    /// The equilibrium as it stands.
    pub(crate) fn solved(&self) -> Result<Solved, Error> {
        self.solve(self.totals, Hydrogen::Total, None)
    }

    /// The equilibrium of the same totals, save H, at a pH.
    pub(crate) fn at_ph(&self, ph: f64) -> Result<Solved, Error> {
        self.solve(self.totals, Hydrogen::Ph(ph), None)
    }

    /// The equilibrium after rest with air of a partial pressure of CO2.
    pub(crate) fn open(&self, atm: f64) -> Result<Solved, Error> {
        let mut totals = self.totals;
        // CO2 leaves as CO3 + 2 H: what stays is the hydrogen that no carbon holds.
        totals[H] -= 2.0 * totals[CO3];
        totals[CO3] = 0.0;
        self.solve(totals, Hydrogen::Total, Some(atm))
    }

    /// Strong acid that brings the solution to a pH, mol/kg; negative where it takes a base.
    pub(crate) fn acid_to(&self, ph: f64) -> Result<f64, Error> {
        Ok(self.at_ph(ph)?.totals()[H] - self.totals[H])
    }

    /// Alkalinity as a titration to the end point finds it, eq/kg.
    pub(crate) fn alkalinity(&self) -> Result<f64, Error> {
        self.acid_to(data::ALKALINITY_END_POINT.ph())
    }

    fn solve(
        &self,
        totals: [f64; COMPONENTS],
        hydrogen: Hydrogen,
        open_atm: Option<f64>,
    ) -> Result<Solved, Error> {
        solve(&Problem { totals, urea: self.urea, hydrogen, open_atm }, &self.constants)
    }
}

/// Hydrogen that each mole of a component's total holds on average, free ions included.
pub(crate) fn protons_held(solved: &Solved, component: Component) -> f64 {
    let mut all = solved.components[component as usize];
    let mut held = 0.0;
    for (m, c) in solved.complexes.iter().zip(complexes()) {
        let n = f64::from(c.count(component));
        all += n * m;
        if n > 0.0 {
            held += f64::from(c.count(Component::H)) * m;
        }
    }
    if all > 0.0 { held / all } else { 0.0 }
}

/// Components that carry no alkalinity of their own in a pair with hydroxide.
const METALS: [Component; 5] =
    [Component::Ca, Component::Mg, Component::K, Component::Na, Component::H];

/// Alkalinity that carbonate and hydroxide make up, eq/kg: what becomes scale when the water dries.
pub(crate) fn carbonate_alkalinity(solved: &Solved) -> f64 {
    let mut sum = 2.0 * solved.components[CO3] - solved.components[H];
    for (m, c) in solved.complexes.iter().zip(complexes()) {
        let carbon = c.count(Component::Co3);
        let hydrogen = c.count(Component::H);
        if carbon > 0 {
            sum += f64::from(2 * carbon - hydrogen) * m;
        } else if Component::ALL.into_iter().all(|x| c.count(x) == 0 || METALS.contains(&x)) {
            sum -= f64::from(hydrogen) * m; // OH⁻ and the hydroxide pairs
        }
    }
    sum
}

/// A root of a function that changes its sign between two points, by the Illinois form of false
/// position; the function is left at the root.
pub(crate) fn root(
    mut low: f64,
    mut high: f64,
    f: &mut impl FnMut(f64) -> Result<f64, Error>,
) -> Result<f64, Error> {
    let (mut at_low, mut at_high) = (f(low)?, f(high)?);
    let mut x = high;
    let mut side = 0;
    for _ in 0..100 {
        if (high - low).abs() <= 1e-12 * high.abs() {
            break;
        }
        let step = (at_low * high - at_high * low) / (at_low - at_high);
        x = if step.is_finite() { step } else { f64::midpoint(low, high) };
        let here = f(x)?;
        if here.abs() < 1e-15 {
            break;
        }
        if (here > 0.0) == (at_low > 0.0) {
            (low, at_low) = (x, here);
            if side == -1 {
                at_high *= 0.5;
            }
            side = -1;
        } else {
            (high, at_high) = (x, here);
            if side == 1 {
                at_low *= 0.5;
            }
            side = 1;
        }
    }
    Ok(x)
}
