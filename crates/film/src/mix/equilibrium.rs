//! Which solids stand beside the solution at a water activity.
//!
//! At fixed water activity a mix that follows the Zdanovskii–Stokes–Robinson rule mixes ideally in
//! its particles (McKay & Perring 1953): the activity of a salt is that of its own solution at the
//! same water activity, times the shares of its ions. A solid forms where that exceeds its value
//! at the salt's own deliquescence humidity. No other number enters: mutual deliquescence follows.

use super::ions::{Candidate, GridPoint, Species};

/// Dissolved below this share of all particles counts as dried out.
const DRY_SHARE: f64 = 2e-3;
const SWEEPS: usize = 400;
const TOLERANCE: f64 = 1e-6;

/// Brings dissolved species and solids to equilibrium at a water activity; `true` where some
/// solution is left.
pub(crate) fn settle(
    dissolved: &mut Species,
    solids: &mut [f64],
    candidates: &[Candidate],
    point: &GridPoint,
    all_particles: f64,
) -> bool {
    let drives: Vec<f64> = candidates.iter().map(|c| c.drive(point)).collect();
    for _ in 0..SWEEPS {
        let mut worst: f64 = 0.0;
        for ((c, solid), drive) in candidates.iter().zip(solids.iter_mut()).zip(&drives) {
            let particles: f64 = dissolved.iter().sum();
            if particles < DRY_SHARE * all_particles {
                dry_out(dissolved, solids, candidates);
                return false;
            }
            let (nc, na, nu) = (c.nc, c.na, c.nu());
            let (cat, an) = (dissolved[c.cation], dissolved[c.anion]);
            if cat <= 0.0 || (na > 0.0 && an <= 0.0) {
                continue;
            }
            let mut over = drive + nc * (cat / particles * nu / nc).ln();
            let mut curvature = nc * nc / cat - nu * nu / particles;
            let mut room = cat / nc;
            if na > 0.0 {
                over += na * (an / particles * nu / na).ln();
                curvature += na * na / an;
                room = room.min(an / na);
            }
            if over.abs() < TOLERANCE || (over < 0.0 && *solid <= 0.0) {
                continue;
            }
            worst = worst.max(over.abs());
            // Newton; where a salt is nearly alone its share hardly falls as it leaves, and all goes.
            let step = if curvature > 1e-9 / particles {
                over / curvature
            } else if over > 0.0 {
                room
            } else {
                -*solid
            };
            let step = step.clamp(-*solid, 0.9 * room);
            *solid += step;
            dissolved[c.cation] -= nc * step;
            if na > 0.0 {
                dissolved[c.anion] -= na * step;
            }
        }
        if worst < TOLERANCE {
            break;
        }
    }
    true
}

/// Turns all that is left into solids, the least soluble first.
fn dry_out(dissolved: &mut Species, solids: &mut [f64], candidates: &[Candidate]) {
    let mut order: Vec<usize> = (0..candidates.len()).collect();
    order.sort_by(|a, b| candidates[*b].drh.total_cmp(&candidates[*a].drh));
    for i in order {
        let c = &candidates[i];
        let mut x = dissolved[c.cation] / c.nc;
        if c.na > 0.0 {
            x = x.min(dissolved[c.anion] / c.na);
        }
        solids[i] += x;
        dissolved[c.cation] -= c.nc * x;
        if c.na > 0.0 {
            dissolved[c.anion] -= c.na * x;
        }
    }
}
