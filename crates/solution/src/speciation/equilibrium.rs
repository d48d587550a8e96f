//! Equilibrium at fixed activity coefficients.
//!
//! With the constants fixed, the mass and charge balances are the gradient of a convex function
//! of the logarithms of the free concentrations (the dual of the free-energy minimum), so a
//! damped Newton iteration reaches the one solution from any start. Ca, Mg, K, Na, NH4 and Cl
//! enter every complex at most once and are minimised out in closed form, which leaves five
//! unknowns: citrate, PO4, SO4, CO3 and H. The charge balance is the mass balance of H.

use super::constants::{
    CIT, CO3, COMPONENTS, Effective, FIRST_SOLVED, H, OWNERS, PO4, SHAPES, SO4, SOLVED,
};
use guardcell_reference::aqueous::COMPLEX_COUNT;

/// What is given besides the constants, in mol/kg of water.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Totals {
    /// Totals of the components in the order of `Component::ALL`; the last is the total of H⁺ in
    /// excess of the components' own, which is minus the sum of their charges at charge balance.
    pub(crate) of: [f64; COMPONENTS],
    /// ln of the free H⁺, where the pH is fixed.
    pub(crate) fixed_ln_h: Option<f64>,
    /// ln of (free CO3²⁻ × free H⁺²), where CO2 is fixed.
    pub(crate) fixed_ln_co3_h2: Option<f64>,
}

/// Logarithms of the free molalities of citrate, PO4, SO4, CO3 and H.
pub(crate) type Free = [f64; SOLVED];

/// The state at one set of free molalities.
#[derive(Debug, Clone)]
pub(crate) struct Point {
    pub(crate) free: Free,
    /// Free molality of every component.
    pub(crate) components: [f64; COMPONENTS],
    /// Molality of every complex.
    pub(crate) complexes: [f64; COMPLEX_COUNT],
    potential: f64,
    residual: [f64; SOLVED],
    scale: [f64; SOLVED],
    hessian: [[f64; SOLVED]; SOLVED],
}

/// Relative residual at which a balance counts as met.
const TIGHT: f64 = 1e-13;
/// Largest change of a logarithm in one step.
const STRIDE: f64 = 6.0;

impl Point {
    /// The largest relative residual.
    pub(crate) fn error(&self) -> f64 {
        self.residual
            .iter()
            .zip(self.scale)
            .filter(|(_, s)| *s > 0.0)
            .map(|(r, s)| r.abs() / s)
            .fold(0.0, f64::max)
    }

    pub(crate) fn is_tight(&self) -> bool {
        self.error() <= TIGHT
    }
}

/// Evaluates balances, potential and curvature.
#[expect(clippy::needless_range_loop, reason = "the indices are those of a matrix")]
pub(crate) fn evaluate(totals: &Totals, constants: &Effective, mut free: Free) -> Point {
    if let Some(h) = totals.fixed_ln_h {
        free[H] = h;
    }
    if let Some(k) = totals.fixed_ln_co3_h2 {
        free[CO3] = k - 2.0 * free[H];
    }
    let active = active(totals);
    let mut components = [0.0; COMPONENTS];
    // powers[k][n + 1] is the n-th power of a free molality, n from -1 to 3
    let mut powers = [[0.0; 5]; SOLVED];
    for k in 0..SOLVED {
        let present = k == H
            || totals.of[FIRST_SOLVED + k] > 0.0
            || (k == CO3 && totals.fixed_ln_co3_h2.is_some());
        let x = if present { free[k].exp() } else { 0.0 };
        components[FIRST_SOLVED + k] = x;
        let inverse = if k == H { 1.0 / x } else { 0.0 };
        powers[k] = [inverse, 1.0, x, x * x, x * x * x];
    }
    let mut complexes = [0.0; COMPLEX_COUNT];
    let mut bound = [0.0; OWNERS];
    for ((m, shape), k) in complexes.iter_mut().zip(SHAPES.iter()).zip(constants.k) {
        if k == 0.0 {
            continue;
        }
        let mut x = k;
        for (n, power) in shape.count.iter().zip(&powers) {
            x *= power[(n + 1) as usize]; // n is from -1 to 3, as a test of the table holds
        }
        *m = x;
        if let Some(owner) = shape.owner {
            bound[owner] += x;
        }
    }
    let mut potential = 0.0;
    for e in 0..OWNERS {
        components[e] = totals.of[e] / (1.0 + bound[e]);
        if totals.of[e] > 0.0 {
            potential += totals.of[e] * bound[e].ln_1p();
        }
    }
    components[OWNERS] = totals.of[OWNERS]; // NO3 forms no complex
    let mut gradient = [0.0; SOLVED];
    let mut scale = [0.0; SOLVED];
    let mut hessian = [[0.0; SOLVED]; SOLVED];
    let mut drawn = [[0.0; SOLVED]; OWNERS];
    for (m, shape) in complexes.iter_mut().zip(SHAPES.iter()) {
        if let Some(owner) = shape.owner {
            *m *= components[owner];
        } else {
            potential += *m;
        }
        if *m == 0.0 {
            continue;
        }
        for k in 0..SOLVED {
            if shape.count[k] == 0 {
                continue;
            }
            let a = shape.counts[k] * *m;
            gradient[k] += a;
            scale[k] += a.abs();
            if let Some(owner) = shape.owner {
                drawn[owner][k] += a;
            }
            for l in k..SOLVED {
                hessian[k][l] += a * shape.counts[l];
            }
        }
    }
    for k in 0..SOLVED {
        let x = components[FIRST_SOLVED + k];
        potential += x;
        gradient[k] += x;
        scale[k] += x;
        hessian[k][k] += x;
    }
    for (drawn, total) in drawn.iter().zip(totals.of) {
        if total > 0.0 {
            for k in 0..SOLVED {
                for l in k..SOLVED {
                    hessian[k][l] -= drawn[k] * drawn[l] / total;
                }
            }
        }
    }
    for k in 0..SOLVED {
        for l in 0..k {
            hessian[k][l] = hessian[l][k];
        }
    }
    let mut target = [0.0; SOLVED];
    target.copy_from_slice(&totals.of[FIRST_SOLVED..]);
    if totals.fixed_ln_co3_h2.is_some() {
        // CO3 = const/H²: the unknown H takes CO3 along, twice and inversely
        gradient[H] -= 2.0 * gradient[CO3];
        scale[H] += 2.0 * scale[CO3];
        hessian[H][H] += 4.0 * (hessian[CO3][CO3] - hessian[H][CO3]);
        for k in 0..CO3 {
            hessian[k][H] -= 2.0 * hessian[k][CO3];
            hessian[H][k] = hessian[k][H];
        }
    }
    let mut residual = [0.0; SOLVED];
    for k in 0..SOLVED {
        if active[k] {
            residual[k] = gradient[k] - target[k];
            potential -= target[k] * free[k];
        } else {
            scale[k] = 0.0;
        }
    }
    Point { free, components, complexes, potential, residual, scale, hessian }
}

/// Which of the solved components are unknown.
fn active(totals: &Totals) -> [bool; SOLVED] {
    [
        totals.of[FIRST_SOLVED + CIT] > 0.0,
        totals.of[FIRST_SOLVED + PO4] > 0.0,
        totals.of[FIRST_SOLVED + SO4] > 0.0,
        totals.of[FIRST_SOLVED + CO3] > 0.0 && totals.fixed_ln_co3_h2.is_none(),
        totals.fixed_ln_h.is_none(),
    ]
}

/// One damped Newton step; the point is returned unchanged where no progress can be made.
pub(crate) fn step(totals: &Totals, constants: &Effective, point: Point) -> Point {
    let active = active(totals);
    let direction = newton(&point, active);
    let largest = direction.iter().fold(0.0_f64, |a, d| a.max(d.abs()));
    if largest == 0.0 || !largest.is_finite() {
        return point;
    }
    let slope: f64 = direction.iter().zip(point.residual).map(|(d, r)| d * r).sum();
    let mut length = (STRIDE / largest).min(1.0);
    for _ in 0..60 {
        let mut free = point.free;
        for (x, d) in free.iter_mut().zip(direction) {
            *x += length * d;
        }
        let next = evaluate(totals, constants, free);
        // Below rounding of the potential the balances themselves decide.
        let rounding = 1e-14 * (point.potential.abs() + next.potential.abs());
        let falls = next.potential <= point.potential + 1e-4 * length * slope;
        if falls || ((length * slope).abs() <= rounding && next.error() < point.error()) {
            return next;
        }
        length *= 0.5;
    }
    point
}

/// Solves hessian · d = −residual over the active unknowns by Cholesky's method.
fn newton(point: &Point, active: [bool; SOLVED]) -> [f64; SOLVED] {
    let mut l = [[0.0; SOLVED]; SOLVED];
    let mut d = [0.0; SOLVED];
    for i in 0..SOLVED {
        if !active[i] {
            continue;
        }
        for j in 0..i {
            if active[j] {
                let sum: f64 = (0..j).map(|k| l[i][k] * l[j][k]).sum();
                l[i][j] = (point.hessian[i][j] - sum) / l[j][j];
            }
        }
        let sum: f64 = (0..i).map(|k| l[i][k] * l[i][k]).sum();
        // Rounding may take the last digits of a nearly singular pivot: keep it positive.
        let pivot = (point.hessian[i][i] - sum).max(1e-14 * point.hessian[i][i]);
        l[i][i] = pivot.max(f64::MIN_POSITIVE).sqrt();
        let sum: f64 = (0..i).map(|k| l[i][k] * d[k]).sum();
        d[i] = (-point.residual[i] - sum) / l[i][i];
    }
    for i in (0..SOLVED).rev() {
        if active[i] {
            let sum: f64 = (i + 1..SOLVED).map(|k| l[k][i] * d[k]).sum();
            d[i] = (d[i] - sum) / l[i][i];
        }
    }
    d
}

/// Iterates to the balances; returns the point and how often it was evaluated.
pub(crate) fn solve(totals: &Totals, constants: &Effective, start: Free) -> Point {
    let mut point = evaluate(totals, constants, start);
    for _ in 0..400 {
        if point.is_tight() {
            break;
        }
        let before = point.error();
        let next = step(totals, constants, point.clone());
        let stuck = next.free == point.free || (next.error() >= before && before < 1e-11);
        if stuck {
            break;
        }
        point = next;
    }
    point
}
