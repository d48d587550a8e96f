//! Which solids are in equilibrium with the solution at a water activity.
//!
//! At fixed water activity a mix that follows the Zdanovskii–Stokes–Robinson rule mixes ideally in
//! its particles (McKay & Perring 1953): the activity of a salt is that of its own solution at the
//! same water activity, times the shares of its ions. A solid forms where that exceeds its value
//! at the salt's own deliquescence humidity; mutual deliquescence follows. Two calibrated mixing
//! terms correct for what published pairs show beyond that.
//!
//! This is the minimum of a convex function of the solids, none of them below zero. Newton's
//! method, with the mixing terms held within a step, finds it in a few steps from the point before;
//! where that does not settle, the salts are taken one at a time until they do.

use super::ions::{Candidate, GridPoint, SPECIES, Species};
use super::mixing::Mixing;
use guardcell_reference::salts::SALTS;

/// Dissolved below this share of all particles counts as dried out.
const DRY_SHARE: f64 = 2e-3;
const NEWTON_STEPS: usize = 40;
const SWEEPS: usize = 400;
/// Of the logarithm of an activity: far below what the mixing rule is worth.
const TOLERANCE: f64 = 1e-4;
/// Of what is dissolved of a species, the largest part that one step may take.
const LARGEST_PART: f64 = 0.9;
/// The most salts that are solved for together: one more than can be in equilibrium with a
/// solution of eleven species.
const MOST: usize = SPECIES + 1;
/// Keeps the system solvable where two sets of salts are made of the same ions.
const RIDGE: f64 = 1e-12;

/// Brings dissolved species and solids to equilibrium at a water activity; `true` where some
/// solution is left.
pub(crate) fn settle(
    dissolved: &mut Species,
    solids: &mut [f64],
    candidates: &[Candidate],
    point: &GridPoint,
    mixing: &Mixing,
    all_particles: f64,
) -> bool {
    let mut at = At::new(dissolved, solids, candidates, point, mixing, all_particles);
    for _ in 0..NEWTON_STEPS {
        match at.newton() {
            Reached::Settled => return true,
            Reached::Dry => {
                at.dry_out();
                return false;
            }
            Reached::Nearer => {}
            Reached::Lost => break,
        }
    }
    at.sweeps()
}

/// Logarithms of the activities of the species over those in their own solutions; zero for a
/// species that is absent.
fn ln_activities(mixing: &Mixing, dissolved: &Species, particles: f64) -> Species {
    let share = dissolved.map(|n| n / particles);
    let mut out = mixing.ln_gamma(&share);
    for (ln, x) in out.iter_mut().zip(share) {
        *ln = if x > 0.0 { *ln + x.ln() } else { 0.0 };
    }
    out
}

/// What one step came to.
enum Reached {
    Settled,
    Nearer,
    Dry,
    /// More salts drive at once than are solved for together.
    Lost,
}

struct At<'a> {
    dissolved: &'a mut Species,
    solids: &'a mut [f64],
    candidates: &'a [Candidate],
    mixing: &'a Mixing,
    /// How far each salt is above its own saturation at this water activity.
    drives: [f64; MOST_SALTS],
    dry_below: f64,
}

/// Salts of the table, at most.
const MOST_SALTS: usize = 32;
const _: () = assert!(SALTS.len() <= MOST_SALTS);

impl<'a> At<'a> {
    fn new(
        dissolved: &'a mut Species,
        solids: &'a mut [f64],
        candidates: &'a [Candidate],
        point: &GridPoint,
        mixing: &'a Mixing,
        all_particles: f64,
    ) -> Self {
        let mut drives = [0.0; MOST_SALTS];
        for (drive, c) in drives.iter_mut().zip(candidates) {
            *drive = c.drive(point);
        }
        let dry_below = DRY_SHARE * all_particles;
        Self { dissolved, solids, candidates, mixing, drives, dry_below }
    }

    /// One step of Newton's method on all salts that are solid or want to be.
    fn newton(&mut self) -> Reached {
        let particles: f64 = self.dissolved.iter().sum();
        if particles < self.dry_below {
            return Reached::Dry;
        }
        let ln_activity = ln_activities(self.mixing, self.dissolved, particles);
        let mut active = [0usize; MOST];
        let mut over = [0.0; MOST];
        let mut count = 0;
        let mut worst: f64 = 0.0;
        let salts = self.candidates.iter().zip(self.solids.iter()).zip(&self.drives);
        for (i, ((c, solid), drive)) in salts.enumerate() {
            let lacking =
                self.dissolved[c.cation] <= 0.0 || (c.na > 0.0 && self.dissolved[c.anion] <= 0.0);
            if lacking {
                continue;
            }
            let excess = drive + c.excess(&ln_activity);
            if excess > TOLERANCE || *solid > 0.0 {
                if count == MOST {
                    return Reached::Lost;
                }
                (active[count], over[count]) = (i, excess);
                count += 1;
                worst = worst.max(excess.abs());
            }
        }
        if worst < TOLERANCE {
            return Reached::Settled;
        }
        let mut step = [0.0; MOST];
        while count > 0 {
            self.solve(&active[..count], &over[..count], particles, &mut step);
            // A salt that is not there yet cannot become less: the rest is solved without it.
            let before = count;
            count = 0;
            for k in 0..before {
                if self.solids[active[k]] > 0.0 || step[k] >= 0.0 {
                    (active[count], over[count], step[count]) = (active[k], over[k], step[k]);
                    count += 1;
                }
            }
            if count == before {
                break;
            }
        }
        self.go(&active[..count], &step[..count]);
        if count == 0 { Reached::Lost } else { Reached::Nearer }
    }

    /// The Newton step of these salts.
    fn solve(&self, active: &[usize], over: &[f64], particles: f64, step: &mut [f64; MOST]) {
        let n = active.len();
        let mut lower = [[0.0; MOST]; MOST];
        // Cholesky, row by row, of the second derivatives times the particles.
        for i in 0..n {
            let a = &self.candidates[active[i]];
            for j in 0..=i {
                let b = &self.candidates[active[j]];
                let mut entry = -a.nu() * b.nu();
                let mut share = |slot: usize, of_a: f64| {
                    let of_b = b.count_of(slot);
                    if of_b > 0.0 {
                        entry += of_a * of_b * particles / self.dissolved[slot];
                    }
                };
                share(a.cation, a.nc);
                if a.na > 0.0 {
                    share(a.anion, a.na);
                }
                if i == j {
                    entry += RIDGE * a.nu() * a.nu() * particles;
                }
                let sum: f64 = (0..j).map(|k| lower[i][k] * lower[j][k]).sum();
                lower[i][j] = if i == j {
                    (entry - sum).max(RIDGE * a.nu() * a.nu()).sqrt()
                } else {
                    (entry - sum) / lower[j][j]
                };
            }
        }
        for i in 0..n {
            let sum: f64 = (0..i).map(|k| lower[i][k] * step[k]).sum();
            step[i] = (over[i] * particles - sum) / lower[i][i];
        }
        for i in (0..n).rev() {
            let sum: f64 = (i + 1..n).map(|k| lower[k][i] * step[k]).sum();
            step[i] = (step[i] - sum) / lower[i][i];
        }
    }

    /// Goes as far along a step as leaves every solid at zero or more and every species above it.
    fn go(&mut self, active: &[usize], step: &[f64]) {
        let mut taken: Species = [0.0; SPECIES];
        let mut length: f64 = 1.0;
        for (i, s) in active.iter().zip(step) {
            let c = &self.candidates[*i];
            taken[c.cation] += c.nc * s;
            if c.na > 0.0 {
                taken[c.anion] += c.na * s;
            }
            if *s < 0.0 {
                length = length.min(self.solids[*i] / -s);
            }
        }
        for (n, t) in self.dissolved.iter().zip(&taken) {
            if *t > 0.0 {
                length = length.min(LARGEST_PART * n / t);
            }
        }
        for (i, s) in active.iter().zip(step) {
            let left = self.solids[*i] + length * s;
            // The salt that ends the step is gone, whatever rounding leaves of it.
            let gone = *s < 0.0 && left <= 1e-12 * self.solids[*i];
            self.solids[*i] = if gone { 0.0 } else { left };
        }
        for (n, t) in self.dissolved.iter_mut().zip(&taken) {
            *n -= length * t;
        }
    }

    /// One salt at a time, again and again.
    fn sweeps(&mut self) -> bool {
        for _ in 0..SWEEPS {
            let mut worst: f64 = 0.0;
            for (i, c) in self.candidates.iter().enumerate() {
                let particles: f64 = self.dissolved.iter().sum();
                if particles < self.dry_below {
                    self.dry_out();
                    return false;
                }
                let (cat, an) = (self.dissolved[c.cation], self.dissolved[c.anion]);
                if cat <= 0.0 || (c.na > 0.0 && an <= 0.0) {
                    continue;
                }
                let mut curvature = c.nc * c.nc / cat - c.nu() * c.nu() / particles;
                let mut room = cat / c.nc;
                if c.na > 0.0 {
                    curvature += c.na * c.na / an;
                    room = room.min(an / c.na);
                }
                let over = self.drives[i]
                    + c.excess(&ln_activities(self.mixing, self.dissolved, particles));
                let solid = &mut self.solids[i];
                if over.abs() < TOLERANCE || (over < 0.0 && *solid <= 0.0) {
                    continue;
                }
                worst = worst.max(over.abs());
                // Where a salt is nearly alone its share hardly falls as it leaves, and all goes.
                let step = if curvature > 1e-9 / particles {
                    over / curvature
                } else if over > 0.0 {
                    room
                } else {
                    -*solid
                };
                let step = step.clamp(-*solid, LARGEST_PART * room);
                *solid += step;
                self.dissolved[c.cation] -= c.nc * step;
                if c.na > 0.0 {
                    self.dissolved[c.anion] -= c.na * step;
                }
            }
            if worst < TOLERANCE {
                break;
            }
        }
        true
    }

    /// Turns all that is left into solids, the least soluble first.
    fn dry_out(&mut self) {
        let mut order: Vec<usize> = (0..self.candidates.len()).collect();
        order.sort_by(|a, b| self.candidates[*b].drh.total_cmp(&self.candidates[*a].drh));
        for i in order {
            let c = &self.candidates[i];
            let mut x = self.dissolved[c.cation] / c.nc;
            if c.na > 0.0 {
                x = x.min(self.dissolved[c.anion] / c.na);
            }
            self.solids[i] += x;
            self.dissolved[c.cation] -= c.nc * x;
            if c.na > 0.0 {
                self.dissolved[c.anion] -= c.na * x;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mix::ions;
    use guardcell_units::quantity::ThermodynamicTemperature;
    use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;

    const MIXING: Mixing = Mixing::shipped();

    /// Neutral mixes of all kinds, from a fixed sequence (multiples of the golden ratio).
    fn mixes() -> impl Iterator<Item = Species> {
        (1..=300u32).map(|n| {
            let draw = |k: u32| (f64::from(n * 11 + k) * 0.618_033_988_75).fract();
            let mut s: Species = [0.0; SPECIES];
            for (k, x) in s.iter_mut().enumerate() {
                let u = draw(k as u32);
                // A third of the species is missing; the rest spans three orders of magnitude.
                *x = if u < 0.33 { 0.0 } else { 10f64.powf(3.0 * (u - 0.33) / 0.67 - 3.0) };
            }
            let sum = |s: &Species, r: core::ops::Range<usize>| -> f64 {
                r.map(|i| s[i] * ions::charge(i)).sum()
            };
            let keep = sum(&s, 5..10) / sum(&s, 0..5).max(1e-300);
            s[..5].iter_mut().for_each(|x| *x *= keep.min(1e3));
            s
        })
    }

    #[test]
    fn every_settled_point_is_an_equilibrium() {
        let warm = ThermodynamicTemperature::new::<degree_celsius>(25.0);
        let (mut settled, mut steps) = (0, 0);
        for species in mixes() {
            let candidates = ions::candidates(&species, warm, MIXING.hydrate_share);
            let all: f64 = species.iter().sum();
            let mut dissolved = species;
            let mut solids = vec![0.0; candidates.len()];
            for i in 0..90 {
                let point = GridPoint::new(0.98 - 0.01 * f64::from(i));
                steps += 1;
                if !settle(&mut dissolved, &mut solids, &candidates, &point, &MIXING, all) {
                    break;
                }
                settled += 1;
                let particles: f64 = dissolved.iter().sum();
                let ln_activity = ln_activities(&MIXING, &dissolved, particles);
                let mut back = dissolved;
                for (c, solid) in candidates.iter().zip(&solids) {
                    assert!(*solid >= 0.0);
                    let over = c.drive(&point) + c.excess(&ln_activity);
                    assert!(over < 2.0 * TOLERANCE, "{} wants to form: {over}", c.salt.key);
                    assert!(
                        *solid == 0.0 || over > -2.0 * TOLERANCE,
                        "{} wants to go: {over}",
                        c.salt.key
                    );
                    back[c.cation] += c.nc * solid;
                    if c.na > 0.0 {
                        back[c.anion] += c.na * solid;
                    }
                }
                for (b, s) in back.iter().zip(&species) {
                    assert!((b - s).abs() < 1e-9 * all, "{back:?} {species:?}");
                }
            }
        }
        assert!(settled > 5_000 && settled < steps, "{settled} of {steps}");
    }

    #[test]
    fn newton_and_sweeps_find_the_same() {
        let warm = ThermodynamicTemperature::new::<degree_celsius>(20.0);
        let mut compared = 0;
        for species in mixes().take(60) {
            let candidates = ions::candidates(&species, warm, MIXING.hydrate_share);
            let all: f64 = species.iter().sum();
            for a in [0.9, 0.7, 0.5, 0.3] {
                let point = GridPoint::new(a);
                let mut one = (species, vec![0.0; candidates.len()]);
                let mut other = (species, vec![0.0; candidates.len()]);
                let wet = settle(&mut one.0, &mut one.1, &candidates, &point, &MIXING, all);
                let mut at = At::new(&mut other.0, &mut other.1, &candidates, &point, &MIXING, all);
                // Sweeps creep; they are given the time.
                if (0..50).all(|_| at.sweeps()) && wet {
                    compared += 1;
                    for (x, y) in one.0.iter().zip(&other.0) {
                        assert!((x - y).abs() < 1e-3 * all, "{a} {:?} {:?}", one.0, other.0);
                    }
                }
            }
        }
        assert!(compared > 50, "{compared}");
    }
}
