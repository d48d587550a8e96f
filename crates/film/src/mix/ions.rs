//! The ions of a mix, closed to neutrality, and the water they hold (Zdanovskii, Stokes & Robinson).
//!
//! Every cation is taken with every anion in proportion to their charges, so that the answer does
//! not depend on an arbitrary pairing. The mixing rule adds the water that each pair would hold alone
//! at the same water activity (Stokes & Robinson 1966).

use guardcell_reference::salts::{SALTS, Salt};
use guardcell_reference::{Composition, Scale, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::formula::Formula;
use guardcell_units::quantity::in_mmol_per_l;
use std::sync::LazyLock;

pub(crate) const CATIONS: [Solute; 5] =
    [Solute::Ca, Solute::Mg, Solute::K, Solute::Na, Solute::Nh4];
pub(crate) const ANIONS: [Solute; 5] =
    [Solute::No3, Solute::P, Solute::So4, Solute::Cl, Solute::Dic];
/// Slots of the species: the cations, the anions, urea.
pub(crate) const CA: usize = 0;
pub(crate) const K: usize = 2;
const P: usize = 6;
const DIC: usize = 9;
pub(crate) const UREA: usize = 10;
pub(crate) const SPECIES: usize = 11;

/// Amounts of the dissolved species in mol.
pub(crate) type Species = [f64; SPECIES];

pub(crate) const fn charge(slot: usize) -> f64 {
    match slot {
        0 | 1 => 2.0, // Ca, Mg
        7 => 2.0,     // SO4
        UREA => 0.0,
        _ => 1.0,
    }
}

fn solute(slot: usize) -> Solute {
    match slot {
        0..=4 => CATIONS[slot],
        5..=9 => ANIONS[slot - 5],
        _ => Solute::Urea,
    }
}

/// Below this share of the largest amount, and below this amount in mmol/L, an ion is taken as
/// absent: it could not be weighed, and its logarithm would only trouble the solver.
const TRACE_SHARE: f64 = 1e-9;
const TRACE_MMOL_L: f64 = 1e-9;

/// Orders by slot what a composition keeps in solution once its scale has fallen, and closes the
/// charge.
///
/// Carbon stays as the hydrogencarbonate of the alkalinity that is left. Excess cations then turn
/// H2PO4⁻ into HPO4²⁻ (counted as more of the same anion in equivalents); what is still too much, on
/// either side, is omitted, as its counter-ion is not known.
pub(crate) fn closed(c: &Composition, scale: &Scale) -> Closed {
    let mut out = [0.0; SPECIES];
    for (slot, amount) in out.iter_mut().enumerate() {
        *amount = in_mmol_per_l(c[solute(slot)]).max(0.0);
    }
    let whole = charges(&out, 0..5) + charges(&out, 5..9);
    out[0] = (out[0] - in_mmol_per_l(scale.calcite())).max(0.0);
    out[1] = (out[1] - in_mmol_per_l(scale.nesquehonite())).max(0.0);
    out[DIC] = in_mmol_per_l(scale.alkalinity_left());
    drop_traces(&mut out);
    let (plus, minus) = (charges(&out, 0..5), charges(&out, 5..10));
    let open = plus - minus;
    // Cations may exceed anions by what phosphate can take.
    let taken = open.clamp(0.0, out[P]);
    let weak = if out[P] > 0.0 { taken / out[P] } else { 0.0 };
    let rest = open - taken;
    let imbalance = if rest.abs() > ROUNDING * whole && whole > 0.0 { rest / whole } else { 0.0 };
    out[P] *= 1.0 + weak;
    if rest > 0.0 {
        let keep = (minus + taken) / plus;
        out[..5].iter_mut().for_each(|x| *x *= keep);
    } else if rest < 0.0 {
        let keep = plus / minus;
        out[5..10].iter_mut().for_each(|x| *x *= keep);
    }
    drop_traces(&mut out);
    Closed { species: out, imbalance, masses_g_mol: masses(weak) }
}

fn drop_traces(s: &mut Species) {
    let trace = s.iter().fold(TRACE_MMOL_L, |t, n| t.max(TRACE_SHARE * n));
    s.iter_mut().filter(|n| **n < trace).for_each(|n| *n = 0.0);
}

/// Of the sum of charges: an imbalance below this is rounding.
const ROUNDING: f64 = 1e-9;

fn charges(s: &Species, slots: core::ops::Range<usize>) -> f64 {
    slots.map(|i| s[i] * charge(i)).sum()
}

/// A neutral set of species.
pub(crate) struct Closed {
    pub(crate) species: Species,
    /// The charge that was omitted over the sum of charges.
    pub(crate) imbalance: f64,
    /// Grams per mole of each slot; less for anions that count twice for their second charge.
    pub(crate) masses_g_mol: Species,
}

fn masses(weak: f64) -> Species {
    let mut out = [0.0; SPECIES];
    for (slot, g) in out.iter_mut().enumerate() {
        *g = solute(slot).formula().g_per_mol();
        if slot == P {
            *g /= 1.0 + weak;
        }
    }
    out
}

/// A salt of the mix with its slots.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Candidate {
    pub(crate) salt: &'static Salt,
    pub(crate) cation: usize,
    /// The slot of the anion; that of urea itself for urea.
    pub(crate) anion: usize,
    pub(crate) nc: f64,
    pub(crate) na: f64,
    /// Integral of the salt's water at its deliquescence, and its logarithm.
    pub(crate) sum_at_drh: f64,
    pub(crate) ln_drh: f64,
    pub(crate) drh: f64,
    /// Logarithm of the ion shares in its own solution, times their counts; taken off.
    own_shares: f64,
    /// The drive at the water activity where the solution holds no more water than the hydrate,
    /// and that activity: below it lower hydrates take over, and the drive is held.
    floor: (f64, f64),
    /// The water activity below which the solid has lost its water; there the running integral of
    /// the salt's water, and the drive.
    dehydrated: (f64, f64, f64),
}

impl Candidate {
    pub(crate) fn nu(&self) -> f64 {
        self.nc + self.na
    }

    /// How many of a species it holds.
    pub(crate) fn count_of(&self, slot: usize) -> f64 {
        if slot == self.cation {
            self.nc
        } else if slot == self.anion {
            self.na
        } else {
            0.0
        }
    }

    /// What its drive is lowered by for sharing the solution, from the logarithms of the activities
    /// of the species.
    pub(crate) fn excess(&self, ln_activity: &Species) -> f64 {
        self.nc * ln_activity[self.cation] + self.na * ln_activity[self.anion] + self.own_shares
    }

    fn set_floor(&mut self, hydrate_share: f64) {
        if self.salt.hydrate == 0 {
            return;
        }
        let hydrate = f64::from(self.salt.hydrate);
        // Grid points from the deliquescence humidity down.
        for point in GRID.iter().rev() {
            let water = self.nu() * point.look(self.salt.correction) * point.ideal;
            if point.a < self.drh && water < hydrate {
                self.floor = (point.a, self.drive(point));
                break;
            }
        }
        let dehydrated = GridPoint::new(self.drh * hydrate_share);
        self.dehydrated = (dehydrated.a, dehydrated.look(self.salt.sums), self.drive(&dehydrated));
    }

    /// How far the pure solution is above its own saturation at this water activity: the logarithm
    /// of activity over that at saturation, by Gibbs–Duhem, hydrate water included. Below a share of
    /// the deliquescence humidity the solid counts as having lost its water.
    pub(crate) fn drive(&self, point: &GridPoint) -> f64 {
        let (a, sum, drive) = self.dehydrated;
        if point.a < a {
            return drive + self.nu() * (sum - point.look(self.salt.sums));
        }
        if point.a < self.floor.0 {
            return self.floor.1;
        }
        let sum = point.look(self.salt.sums);
        self.nu() * (self.sum_at_drh - sum)
            - f64::from(self.salt.hydrate) * (self.ln_drh - point.ln_a)
    }

    /// Mass of the dry solid in g/mol.
    pub(crate) fn solid_g_mol(&self, masses: &Species) -> f64 {
        let anion = if self.na > 0.0 { self.na * masses[self.anion] } else { 0.0 };
        self.nc * masses[self.cation] + anion
    }

    /// Mass of the water of crystallisation in g/mol.
    pub(crate) fn hydrate_g_mol(&self) -> f64 {
        f64::from(self.salt.hydrate) * WATER_G_MOL
    }
}

pub(crate) const WATER_G_MOL: f64 = Formula::new(&[(Element::H, 2), (Element::O, 1)]).g_per_mol();

/// A water activity with its place on the grid of the salt tables.
#[derive(Clone, Copy, Debug)]
pub(crate) struct GridPoint {
    pub(crate) a: f64,
    pub(crate) ln_a: f64,
    index: usize,
    share: f64,
    /// `a/(1 − a)`: moles of water an ideal solute holds per mole of particles.
    ideal: f64,
}

/// The points of the salt tables, without the driest.
static GRID: LazyLock<Vec<GridPoint>> = LazyLock::new(|| {
    (1..Salt::GRID_LEN).map(|i| GridPoint::new(1.0 - (-Salt::GRID_STEP * i as f64).exp())).collect()
});

impl GridPoint {
    pub(crate) fn new(a: f64) -> Self {
        let x = (-(1.0 - a).ln() / Salt::GRID_STEP).clamp(0.0, (Salt::GRID_LEN - 1) as f64);
        let index = (x as usize).min(Salt::GRID_LEN - 2);
        Self { a, ln_a: a.ln(), index, share: x - index as f64, ideal: a / (1.0 - a) }
    }

    #[inline]
    pub(crate) fn look(&self, table: &[f64; Salt::GRID_LEN]) -> f64 {
        // `index` is at most GRID_LEN − 2 by construction.
        table[self.index] + self.share * (table[self.index + 1] - table[self.index])
    }
}

/// The salts that can form from the species present, at a temperature.
pub(crate) fn candidates(
    n: &Species,
    temperature: guardcell_units::quantity::ThermodynamicTemperature,
    hydrate_share: f64,
) -> Vec<Candidate> {
    let slot = |s: Solute| match s {
        Solute::Urea => UREA,
        s => CATIONS
            .iter()
            .position(|c| *c == s)
            .or_else(|| ANIONS.iter().position(|a| *a == s).map(|i| i + 5))
            .unwrap_or(UREA),
    };
    SALTS
        .iter()
        .filter_map(|salt| {
            let cation = slot(salt.cation);
            let anion = salt.anion.map_or(UREA, slot);
            (n[cation] > 0.0 && n[anion] > 0.0).then(|| {
                let drh =
                    salt.deliquescence(temperature).get::<guardcell_units::uom::si::ratio::ratio>();
                let point = GridPoint::new(drh);
                let (nc, na) = (f64::from(salt.cations), f64::from(salt.anions));
                let own_share = |n: f64| if n > 0.0 { n * ((nc + na) / n).ln() } else { 0.0 };
                let mut candidate = Candidate {
                    salt,
                    cation,
                    anion,
                    nc,
                    na,
                    own_shares: own_share(nc) + own_share(na),
                    sum_at_drh: point.look(salt.sums),
                    ln_drh: point.ln_a,
                    drh,
                    floor: (0.0, 0.0),
                    dehydrated: (0.0, 0.0, 0.0),
                };
                candidate.set_floor(hydrate_share);
                candidate
            })
        })
        .collect()
}

/// Water in g held by the dissolved species at a water activity.
pub(crate) fn water_g(n: &Species, candidates: &[Candidate], point: &GridPoint) -> f64 {
    let charges: f64 = (0..5).map(|i| n[i] * charge(i)).sum();
    let per_charge = if charges > 0.0 { 1.0 / charges } else { 0.0 };
    let mut moles = 0.0;
    for c in candidates {
        let pairs = if c.na > 0.0 {
            n[c.cation] * charge(c.cation) * n[c.anion] * charge(c.anion) * per_charge
                / (c.nc * charge(c.cation))
        } else {
            n[c.cation]
        };
        moles += pairs * c.nu() * point.look(c.salt.correction);
    }
    moles * point.ideal * WATER_G_MOL
}
