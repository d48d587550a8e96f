//! The ions of a mix, closed to neutrality, and the water they hold (Zdanovskii, Stokes & Robinson).
//!
//! Every cation is taken with every anion in proportion to their charges, so that the answer does
//! not hang on an arbitrary pairing. The mixing rule adds the water that each pair would hold alone
//! at the same water activity (Stokes & Robinson 1966).

use crate::scale::Amounts;
use guardcell_reference::Solute;
use guardcell_reference::salts::{SALTS, Salt};
use guardcell_units::atomic_weight::Element;
use guardcell_units::formula::Formula;
use std::sync::LazyLock;

pub(crate) const CATIONS: [Solute; 5] =
    [Solute::Ca, Solute::Mg, Solute::K, Solute::Na, Solute::Nh4];
pub(crate) const ANIONS: [Solute; 5] =
    [Solute::No3, Solute::P, Solute::So4, Solute::Cl, Solute::Dic];
/// Slots of the species: the cations, the anions, urea.
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

/// Orders the amounts by slot and closes the charge. Returns the species and the imbalance over
/// the sum of charges, as it was given.
///
/// Excess cations first turn H2PO4⁻ into HPO4²⁻ and HCO3⁻ into CO3²⁻ (each takes one more charge,
/// counted as more of the same anion in equivalents); what is still too much, on either side, is
/// left out, for want of knowing its counter-ion.
pub(crate) fn closed(n: &Amounts) -> Closed {
    let mut out = [0.0; SPECIES];
    for (slot, amount) in out.iter_mut().enumerate() {
        *amount = n[solute(slot) as usize];
    }
    let sum = |range: core::ops::Range<usize>, s: &Species| -> f64 {
        range.map(|i| s[i] * charge(i)).sum()
    };
    let (plus, minus) = (sum(0..5, &out), sum(5..10, &out));
    let mut weak = 0.0;
    if plus + minus <= 0.0 {
        return Closed { species: out, imbalance: 0.0, masses_g_mol: masses(weak) };
    }
    let protons = out[6] + out[9];
    let imbalance = if plus > minus { (plus - minus - protons).max(0.0) } else { plus - minus }
        / (plus + minus);
    if plus > minus {
        let taken = (plus - minus).min(protons);
        if protons > 0.0 {
            weak = taken / protons;
        }
        out[6] *= 1.0 + weak;
        out[9] *= 1.0 + weak;
        let keep = (minus + taken) / plus;
        out[..5].iter_mut().for_each(|x| *x *= keep);
    } else {
        let keep = plus / minus;
        out[5..10].iter_mut().for_each(|x| *x *= keep);
    }
    Closed { species: out, imbalance, masses_g_mol: masses(weak) }
}

/// A neutral set of species.
pub(crate) struct Closed {
    pub(crate) species: Species,
    /// The charge that was left out over the sum of charges.
    pub(crate) imbalance: f64,
    /// Grams per mole of each slot; less for anions that count twice for their second charge.
    pub(crate) masses_g_mol: Species,
}

fn masses(weak: f64) -> Species {
    let mut out = [0.0; SPECIES];
    for (slot, g) in out.iter_mut().enumerate() {
        *g = solute(slot).formula().g_per_mol();
        if slot == 6 || slot == 9 {
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

    /// What its drive is lowered by for sharing the solution, from the logarithms of the shares of
    /// the species.
    pub(crate) fn excess(&self, ln_share: &Species) -> f64 {
        self.nc * ln_share[self.cation] + self.na * ln_share[self.anion] + self.own_shares
    }

    fn set_floor(&mut self) {
        if self.salt.hydrate == 0 {
            return;
        }
        let hydrate = f64::from(self.salt.hydrate);
        // Grid points from the deliquescence humidity down.
        for point in GRID.iter().rev() {
            let water = self.nu() * point.look(self.salt.correction) * point.ideal;
            if point.a < self.drh && water < hydrate {
                self.floor = (point.a, self.drive(point));
                return;
            }
        }
    }

    /// How far the pure solution is above its own saturation at this water activity: the logarithm
    /// of activity over that at saturation, by Gibbs–Duhem, hydrate water included.
    pub(crate) fn drive(&self, point: &GridPoint) -> f64 {
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
                };
                candidate.set_floor();
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
