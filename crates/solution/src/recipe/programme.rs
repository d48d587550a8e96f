//! Several products, several targets: a convex quadratic programme.
//!
//! Unknowns are the amount x of each product and the distance d of each target from its range:
//!
//! ```text
//! minimise   Σ w·(d/wanted)² + ε·(strength(x)/scale)²
//! subject to x ≥ 0,  d ≥ 0,  low − d ≤ a·x + a0 ≤ high + d,  ceilings
//! ```
//!
//! Conductance is not linear in x; it is replaced by its tangent and the programme solved again
//! until the amounts stand still. Conductance is concave in the amounts, so that the tangent lies
//! above it and a ceiling on EC is never passed on the way.

use super::case::{Case, mg_of};
use super::ceilings::{Ceiling, row};
use super::request::Target;
use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettings, DefaultSolver, IPSolver, NonnegativeConeT, SolverStatus};
use guardcell_error::Error;
use guardcell_reference::Composition;
use guardcell_reference::Solute;

/// How much the size of a recipe counts against its distance from the targets: only to choose
/// among recipes that are equally near.
const SIZE_WEIGHT: f64 = 1e-7;
/// Tangent steps at most; the conductance is so nearly linear that three or four are usual.
const STEPS: u32 = 40;

/// A linear function of the amounts.
pub(super) struct Linear {
    pub(super) of: Vec<f64>,
    pub(super) constant: f64,
}

impl Linear {
    pub(super) fn at(&self, x: &[f64]) -> f64 {
        self.constant + self.of.iter().zip(x).map(|(a, x)| a * x).sum::<f64>()
    }
}

/// The amounts, in units per litre, nearest to the targets under the given ceilings.
pub(super) fn solve(case: &Case<'_>, ceilings: &[Ceiling]) -> Result<Vec<f64>, Error> {
    let n = case.products.len();
    let curved = ceilings.iter().any(|c| matches!(c, Ceiling::Ec25(_)))
        || case
            .request
            .targets
            .iter()
            .any(|t| matches!(t, Target::Ec25 { .. } | Target::Ec25AboveWater { .. }));
    let mut x = vec![0.2; n];
    for _ in 0..STEPS {
        let next = step(case, ceilings, &x)?;
        let moved =
            x.iter().zip(&next).map(|(a, b)| (a - b).abs() / b.abs().max(1e-3)).fold(0.0, f64::max);
        x = next;
        if !curved || moved < 1e-7 {
            return Ok(x);
        }
    }
    Ok(x) // the last tangent; its EC is checked against the curve by the caller's own figures
}

/// The tangent of the specific conductance at `x`.
pub(super) fn tangent(case: &Case<'_>, ions: &[Composition], x: &[f64]) -> Result<Linear, Error> {
    let here = case.ec25(ions, x)?;
    let mut of = Vec::with_capacity(x.len());
    for i in 0..x.len() {
        let mut probe = x.to_vec();
        let h = 1e-4 * x.get(i).copied().unwrap_or(0.0).max(0.05);
        if let Some(p) = probe.get_mut(i) {
            *p += h;
        }
        of.push((case.ec25(ions, &probe)? - here) / h);
    }
    let constant = here - of.iter().zip(x).map(|(a, x)| a * x).sum::<f64>();
    Ok(Linear { of, constant })
}

/// The linear function of a target at `x`.
fn linear(case: &Case<'_>, target: &Target, x: &[f64]) -> Result<Linear, Error> {
    match target {
        Target::Ec25 { .. } => tangent(case, &case.mean, x),
        Target::Ec25AboveWater { .. } => {
            let mut l = tangent(case, &case.mean, x)?;
            l.constant -= case.water_ec25();
            Ok(l)
        }
        _ => Ok(Linear {
            of: case.products.iter().map(|p| case.coefficient(target, p).unwrap_or(0.0)).collect(),
            constant: case.water_part(target),
        }),
    }
}

fn step(case: &Case<'_>, ceilings: &[Ceiling], x: &[f64]) -> Result<Vec<f64>, Error> {
    let n = case.products.len();
    let targets = &case.request.targets;
    let m = targets.len();
    let width = n + m;
    // Rows of `A·z ≤ b`, dense: a handful of products and targets.
    let mut rows: Vec<(Vec<f64>, f64)> = Vec::new();
    let mut push = |of: &[f64], sign: f64, d: Option<usize>, bound: f64| {
        let mut row = vec![0.0; width];
        for (r, a) in row.iter_mut().zip(of) {
            *r = sign * a;
        }
        if let Some(r) = d.and_then(|d| row.get_mut(n + d)) {
            *r = -1.0;
        }
        rows.push((row, bound));
    };
    let mut quadratic = vec![0.0; width];
    for (t, target) in targets.iter().enumerate() {
        let l = linear(case, target, x)?;
        let scale = target.wanted(); // above 0: checked
        let (low, high) = target.range();
        let of: Vec<f64> = l.of.iter().map(|a| a / scale).collect();
        push(&of, 1.0, Some(t), (high - l.constant) / scale);
        push(&of, -1.0, Some(t), (l.constant - low) / scale);
        push(&[], 1.0, Some(t), 0.0);
        if let Some(q) = quadratic.get_mut(n + t) {
            *q = 2.0 * target.weight();
        }
    }
    for c in ceilings {
        let l = row(case, c, x)?;
        let size = l.of.iter().fold(1e-9_f64, |m, a| m.max(a.abs()));
        let of: Vec<f64> = l.of.iter().map(|a| a / size).collect();
        push(&of, 1.0, None, -l.constant / size);
    }
    for i in 0..n {
        let mut unit = vec![0.0; n];
        if let Some(u) = unit.get_mut(i) {
            *u = -1.0;
        }
        push(&unit, 1.0, None, 0.0);
    }
    for (q, p) in quadratic.iter_mut().zip(&case.products) {
        // 1 unit a litre is about 1000 mg/L of feed strength; squares of those.
        let strength =
            case.coefficient(&Target::FeedStrength { mg_l: 1.0 }, p).unwrap_or(1000.0) / 1000.0;
        *q = 2.0 * SIZE_WEIGHT * strength * strength;
    }
    let a: Vec<Vec<f64>> = rows.iter().map(|r| r.0.clone()).collect();
    let b: Vec<f64> = rows.iter().map(|r| r.1).collect();
    let z = clarabel_solve(&quadratic, &a, &b)?;
    Ok(z.into_iter().take(n).map(|v| v.max(0.0)).collect())
}

fn clarabel_solve(quadratic: &[f64], a: &[Vec<f64>], b: &[f64]) -> Result<Vec<f64>, Error> {
    let width = quadratic.len();
    let p = CscMatrix::new(
        width,
        width,
        (0..=width).collect(),
        (0..width).collect(),
        quadratic.to_vec(),
    );
    let mut colptr = vec![0];
    let (mut rowval, mut nzval) = (Vec::new(), Vec::new());
    for c in 0..width {
        for (r, row) in a.iter().enumerate() {
            if let Some(v) = row.get(c).filter(|v| **v != 0.0) {
                rowval.push(r);
                nzval.push(*v);
            }
        }
        colptr.push(rowval.len());
    }
    let a = CscMatrix::new(b.len(), width, colptr, rowval, nzval);
    let settings = DefaultSettings {
        verbose: false,
        tol_gap_abs: 1e-11,
        tol_gap_rel: 1e-11,
        tol_feas: 1e-10,
        ..DefaultSettings::default()
    };
    let failed = |iterations: u32| {
        Error::internal(format!(
            "the programme of the recipe did not converge after {iterations} iterations"
        ))
    };
    let mut solver =
        DefaultSolver::new(&p, &vec![0.0; width], &a, b, &[NonnegativeConeT(b.len())], settings)
            .map_err(|_| failed(0))?;
    solver.solve();
    let s = &solver.solution;
    let usable = matches!(
        s.status,
        SolverStatus::Solved | SolverStatus::AlmostSolved | SolverStatus::InsufficientProgress
    );
    if usable && s.x.iter().all(|v| v.is_finite()) {
        Ok(s.x.clone())
    } else {
        Err(failed(s.iterations))
    }
}

/// Sodium or chloride that one unit of each product brings at most.
pub(super) fn salts(case: &Case<'_>, s: Solute) -> Linear {
    Linear {
        of: case
            .products
            .iter()
            .map(|p| p.ions().iter().map(|c| mg_of(c, s)).fold(0.0, f64::max))
            .collect(),
        constant: mg_of(&case.water.composition(), s),
    }
}
