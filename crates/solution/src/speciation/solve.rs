//! The whole equilibrium: activity coefficients, ionic strength and activity of water together.

use super::constants::{
    CHARGES, CIT, CO3, COMPONENTS, Constants, Effective, FIRST_SOLVED, H, PO4, SHAPES, SO4, SOLVED,
};
use super::equilibrium::{self, Free, Point, Totals};
use guardcell_error::{Code, Error};
use guardcell_reference::aqueous::{Activity, COMPLEX_COUNT, Component, Phase, complexes};
use guardcell_reference::parameters::solution as data;
use std::sync::LazyLock;

/// What is asked of the solver, in mol per kg of water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Problem {
    /// Totals of the components; the last (H) is used only where `hydrogen` is `Total`.
    pub(crate) totals: [f64; COMPONENTS],
    pub(crate) urea: f64,
    pub(crate) hydrogen: Hydrogen,
    /// The partial pressure of CO2 in atm, where open to air.
    pub(crate) open_atm: Option<f64>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Hydrogen {
    /// Charges cancel.
    Balance,
    /// The pH is given.
    Ph(f64),
    /// The total of H⁺ is given: what a solution keeps when it is warmed.
    Total,
}

/// The answer, in mol per kg of water.
#[derive(Debug, Clone)]
pub(crate) struct Solved {
    pub(crate) celsius: f64,
    pub(crate) components: [f64; COMPONENTS],
    pub(crate) complexes: [f64; COMPLEX_COUNT],
    pub(crate) ln_gamma: [f64; COMPONENTS],
    pub(crate) ionic_strength: f64,
    pub(crate) ln_water: f64,
    pub(crate) osmolality: f64,
    pub(crate) urea: f64,
    /// The largest relative residual of a balance.
    pub(crate) error: f64,
}

impl Solved {
    /// −log10 of the activity of H⁺.
    pub(crate) fn ph(&self) -> f64 {
        let h = Component::H as usize;
        -(self.components[h].ln() + self.ln_gamma[h]) / core::f64::consts::LN_10
    }

    /// Totals of every component, that of H⁺ included.
    pub(crate) fn totals(&self) -> [f64; COMPONENTS] {
        let mut totals = self.components;
        for (m, c) in self.complexes.iter().zip(complexes()) {
            for (t, n) in totals.iter_mut().zip(c.components) {
                if n != 0 {
                    *t += f64::from(n) * m;
                }
            }
        }
        totals
    }

    /// Equivalents of cations and of anions.
    pub(crate) fn charges(&self) -> (f64, f64) {
        let complexes = self.complexes.iter().zip(SHAPES.iter().map(|s| s.charge));
        self.components.iter().zip(CHARGES).chain(complexes).fold(
            (0.0, 0.0),
            |(cations, anions), (m, z)| {
                if z > 0.0 { (cations + m * z, anions) } else { (cations, anions - m * z) }
            },
        )
    }

    /// log10(IAP/K), where every part of the phase is present.
    pub(crate) fn saturation(&self, phase: Phase) -> Option<f64> {
        let row = phase.data();
        let kelvin = self.celsius + 273.15;
        let mut sum = f64::from(row.water) * self.ln_water;
        for (i, n) in row.components.iter().enumerate() {
            if *n != 0 {
                if self.components[i] <= 0.0 {
                    return None;
                }
                sum += f64::from(*n) * (self.components[i].ln() + self.ln_gamma[i]);
            }
        }
        Some(sum / core::f64::consts::LN_10 - row.log_k.at_kelvin(kelvin))
    }
}

/// Less than half a kilogram of water is left in a litre, or more than 50 mol/kg of ions.
pub(crate) fn too_concentrated() -> Error {
    Error::new(
        Code::OutsideModel,
        "too much is dissolved: less than half a kilogram of water in a litre, or more than \
         50 mol/kg of ions",
        "give a weaker solution; the model is valid to an ionic strength of 1 mol/kg",
    )
}

/// Solves for the equilibrium.
pub(crate) fn solve(problem: &Problem, constants: &Constants) -> Result<Solved, Error> {
    let mut run = Run { problem, constants, ln_water: 0.0, free: None };
    let bound = run.bound();
    let mut strength = run.guess().min(bound);
    let mut last: Option<(f64, f64)> = None;
    // Fixed-point iteration on the ionic strength, sped up by the secant through the last two
    // values: enough for all but odd compositions.
    for _ in 0..30 {
        let (found, state) = run.at(strength, 1);
        let gap = found - strength;
        if gap.abs() <= 1e-8 * found.max(1e-9) {
            if let Some(solved) = run.finish(strength, &state) {
                return Ok(solved);
            }
            break;
        }
        let next = match last {
            Some((s, g)) if (g - gap).abs() > 1e-14 => strength + gap * (strength - s) / (g - gap),
            _ => found,
        };
        last = Some((strength, gap));
        strength = if next.is_finite() && next >= 0.0 && next <= bound {
            next
        } else {
            found.clamp(0.0, bound)
        };
    }
    run.bracket(bound)
}

struct Run<'a> {
    problem: &'a Problem,
    constants: &'a Constants,
    ln_water: f64,
    free: Option<Free>,
}

impl Run<'_> {
    /// No ionic strength can be larger: every mole at the highest charge it takes.
    fn bound(&self) -> f64 {
        let p = self.problem;
        let sum: f64 = p
            .totals
            .iter()
            .take(COMPONENTS - 1)
            .zip(CHARGES)
            .map(|(t, z)| t * (z * z + 2.0 * z.abs()))
            .sum();
        // Free H⁺ or OH⁻ at a fixed pH, and carbonate drawn from the air.
        2.0 * sum + 50.0
    }

    fn guess(&self) -> f64 {
        // Phosphate and carbonate are mostly of charge one between pH 5 and 9.
        const SQUARES: [f64; COMPONENTS] =
            [4.0, 4.0, 1.0, 1.0, 1.0, 1.0, 1.0, 4.0, 1.0, 4.0, 1.0, 0.0];
        let sum: f64 = self.problem.totals.iter().zip(SQUARES).map(|(t, z2)| t * z2).sum();
        0.5 * sum
    }

    fn totals(&self, effective: &Effective) -> Totals {
        let mut of = self.problem.totals;
        let open = self.problem.open_atm.map(|atm| {
            // CO2(g) + H2O = CO3 + 2 H
            let ln_k = Phase::CarbonDioxideGas.data().log_k.at_kelvin(self.constants.water.kelvin)
                * core::f64::consts::LN_10;
            let g = &effective.ln_gamma;
            ln_k + atm.ln() + self.ln_water
                - g[Component::Co3 as usize]
                - 2.0 * g[Component::H as usize]
        });
        if open.is_some() {
            of[Component::Co3 as usize] = 0.0;
        }
        let h = Component::H as usize;
        let fixed = match self.problem.hydrogen {
            Hydrogen::Balance => {
                of[h] = -of[..h].iter().zip(CHARGES).map(|(t, z)| t * z).sum::<f64>();
                None
            }
            Hydrogen::Ph(ph) => Some(-ph * core::f64::consts::LN_10 - effective.ln_gamma[h]),
            Hydrogen::Total => None,
        };
        Totals { of, fixed_ln_h: fixed, fixed_ln_co3_h2: open }
    }

    /// The equilibrium at one ionic strength, and the ionic strength it has.
    fn at(&mut self, strength: f64, steps: usize) -> (f64, (Effective, Point)) {
        let holds_citrate = self.problem.totals[Component::Cit as usize] > 0.0;
        let effective = self.constants.effective(strength, self.ln_water, holds_citrate);
        let totals = self.totals(&effective);
        let free = self.free.unwrap_or_else(|| start(&totals, &effective));
        let mut point = equilibrium::evaluate(&totals, &effective, free);
        let mut taken = 0;
        while !point.is_tight() && (taken < steps || point.error() > 1e-3) {
            if taken > steps + 60 {
                point = equilibrium::solve(&totals, &effective, point.free);
                break;
            }
            point = equilibrium::step(&totals, &effective, point);
            taken += 1;
        }
        self.free = Some(point.free);
        let found = ionic_strength(&point);
        self.ln_water = -data::WATER_MOLAR_MASS.kg_per_mol()
            * osmolality(self.constants, &point, self.problem.urea, found);
        (found, (effective, point))
    }

    fn finish(&mut self, strength: f64, state: &(Effective, Point)) -> Option<Solved> {
        let (effective, point) = state;
        let totals = self.totals(effective);
        let point = if point.error() <= 1e-12 {
            point.clone()
        } else {
            equilibrium::solve(&totals, effective, point.free)
        };
        let error = point.error();
        (error <= 1e-10).then(|| Solved {
            celsius: self.constants.water.kelvin - 273.15,
            components: point.components,
            complexes: point.complexes,
            ln_gamma: effective.ln_gamma,
            ionic_strength: strength,
            ln_water: self.ln_water,
            osmolality: osmolality(self.constants, &point, self.problem.urea, strength),
            urea: self.problem.urea,
            error,
        })
    }

    /// Bisection on the ionic strength with the inner problem solved to the end each time. The
    /// gap is positive at zero and negative at the bound, and the inner problem has one
    /// solution that varies continuously: a root is always enclosed.
    fn bracket(&mut self, bound: f64) -> Result<Solved, Error> {
        self.free = None;
        if self.at(bound, 100).0 > bound {
            return Err(too_concentrated());
        }
        let (mut low, mut high) = (0.0, bound);
        let mut state = None;
        let mut strength = 0.0;
        for _ in 0..200 {
            strength = 0.5 * (low + high);
            self.free = None;
            let mut found = strength;
            for _ in 0..6 {
                // lets the activity of water settle
                let (f, s) = self.at(strength, 100);
                (found, state) = (f, Some(s));
            }
            if found > strength {
                low = strength;
            } else {
                high = strength;
            }
            if high - low <= 1e-12 * high {
                break;
            }
        }
        let residual = state.as_ref().map_or(1.0, |(_, p)| p.error());
        state.and_then(|s| self.finish(strength, &s)).ok_or_else(|| {
            Error::internal(format!("the equilibrium was not found (residual {residual:e})"))
        })
    }
}

fn ionic_strength(point: &Point) -> f64 {
    let free: f64 = point.components.iter().zip(CHARGES).map(|(m, z)| m * z * z).sum();
    let bound: f64 =
        point.complexes.iter().zip(SHAPES.iter()).map(|(m, s)| m * s.charge * s.charge).sum();
    0.5 * (free + bound)
}

/// Σ m φ. The osmotic coefficient is the one that belongs to the activity coefficients by the
/// Gibbs–Duhem relation (Robinson & Stokes 1959, ch. 9), with the ion size averaged by m z².
fn osmolality(constants: &Constants, point: &Point, urea: f64, strength: f64) -> f64 {
    let (mut sum, mut size, mut weight, mut linear) = (urea, 0.0, 0.0, 0.0);
    let free = Component::ALL.map(|c| (c.ion().activity, f64::from(c.ion().charge)));
    let bound = complexes().iter().zip(SHAPES.iter()).map(|(c, s)| (c.activity, s.charge));
    let molalities = point.components.iter().chain(&point.complexes);
    for (m, (activity, z)) in molalities.zip(free.into_iter().chain(bound)) {
        sum += m;
        match activity {
            Activity::Extended { a_angstrom, b_kg_mol } => {
                size += m * z * z * a_angstrom;
                weight += m * z * z;
                linear += m * b_kg_mol;
            }
            Activity::Neutral { b_kg_mol } => linear += m * b_kg_mol,
            Activity::Davies => {}
        }
    }
    if weight == 0.0 {
        return sum;
    }
    let ln10 = core::f64::consts::LN_10;
    let x = constants.water.debye_b * size / weight * strength.sqrt();
    // 3/x³·(1 + x − 2 ln(1+x) − 1/(1+x)), by its series where that would cancel
    let sigma = if x < 0.02 {
        1.0 - 1.5 * x + 1.8 * x * x
    } else {
        3.0 / (x * x * x) * (1.0 + x - 2.0 * x.ln_1p() - 1.0 / (1.0 + x))
    };
    let debye = 2.0 / 3.0 * ln10 * constants.water.debye_a * strength * strength.sqrt() * sigma;
    (sum - debye + 0.5 * ln10 * linear * strength).max(0.0)
}

/// Where the table holds OH, the acids of phosphate and carbonate, NH3 and the acids of citrate.
static ACIDS: LazyLock<[Option<usize>; 10]> = LazyLock::new(|| {
    ["OH-", "HPO4-2", "H2PO4-", "H3PO4", "HCO3-", "CO2", "NH3", "HCit-2", "H2Cit-", "H3Cit"]
        .map(|name| complexes().iter().position(|c| c.name == name))
});

/// A first guess from the acids alone: no pairs, but the charge balance kept.
fn start(totals: &Totals, effective: &Effective) -> Free {
    let [kw, b1, b2, b3, c1, c2, ka, d1, d2, d3] = ACIDS.map(|i| i.map_or(0.0, |i| effective.k[i]));
    let [cit, p, s, c, t_h] = [CIT, PO4, SO4, CO3, H].map(|i| totals.of[FIRST_SOLVED + i]);
    let nh4 = totals.of[Component::Nh4 as usize];
    let phosphate = |h: f64| 1.0 + h * (b1 + h * (b2 + h * b3));
    let carbonate = |h: f64| 1.0 + h * (c1 + h * c2);
    let citrate = |h: f64| 1.0 + h * (d1 + h * (d2 + h * d3));
    let excess = |ln_h: f64| {
        let h = ln_h.exp();
        let carbon = match totals.fixed_ln_co3_h2 {
            // HCO3 counts −1 and CO3 −2 where CO2 is held
            Some(fixed) => -(fixed - 2.0 * ln_h).exp() * (2.0 + c1 * h),
            None => c * h * (c1 + 2.0 * c2 * h) / carbonate(h),
        };
        h - kw / h
            + p * h * (b1 + h * (2.0 * b2 + 3.0 * h * b3)) / phosphate(h)
            + cit * h * (d1 + h * (2.0 * d2 + 3.0 * h * d3)) / citrate(h)
            + carbon
            - nh4 * ka / (h + ka)
            - t_h
    };
    let ln_h = totals.fixed_ln_h.unwrap_or_else(|| {
        // pH 16 to −2
        let (mut low, mut high) = (-37.0, 4.6);
        for _ in 0..9 {
            let mid = 0.5 * (low + high);
            if excess(mid) > 0.0 {
                high = mid;
            } else {
                low = mid;
            }
        }
        0.5 * (low + high)
    });
    let h = ln_h.exp();
    let tiny = f64::MIN_POSITIVE;
    let mut free = [0.0; SOLVED];
    free[CIT] = (cit / citrate(h)).max(tiny).ln();
    free[PO4] = (p / phosphate(h)).max(tiny).ln();
    free[SO4] = (0.7 * s).max(tiny).ln();
    free[CO3] = (c / carbonate(h)).max(tiny).ln();
    free[H] = ln_h;
    free
}
