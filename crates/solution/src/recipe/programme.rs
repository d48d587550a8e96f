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
//! until the amounts no longer change. Conductance is concave in the amounts: the tangent lies
//! above it, so that amounts under a ceiling on EC stay under it, and each programme is feasible
//! because the amounts of the one before are. The first starts from the water alone.

use super::case::Case;
use super::ceilings::Ceiling;
use super::linear::Linear;
use super::request::CeilingName;
use super::target::Target;
use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettings, DefaultSolver, IPSolver, NonnegativeConeT, SolverStatus};
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::solution as parameter;

/// Tangent steps at most; the conductance is so nearly linear that three or four are usual.
const STEPS: u32 = 40;

/// The amounts, in units per litre, nearest to the targets under the given ceilings.
pub(super) fn solve(case: &Case<'_>, ceilings: &[Ceiling]) -> Result<Vec<f64>, Error> {
    let ec_ceiling = ceilings.iter().any(|c| c.name == CeilingName::Ec25UsCm);
    let ec_target = case
        .request
        .targets
        .iter()
        .any(|t| matches!(t, Target::Ec25 { .. } | Target::Ec25AboveWater { .. }));
    let start = if ec_ceiling { 0.0 } else { parameter::RECIPE_START.g_per_l() };
    let mut x = vec![start; case.products.len()];
    for _ in 0..STEPS {
        guardcell_call::checkpoint();
        let next = step(case, ceilings, &x)?;
        let moved =
            x.iter().zip(&next).map(|(a, b)| (a - b).abs() / b.abs().max(1e-3)).fold(0.0, f64::max);
        x = next;
        if !(ec_ceiling || ec_target) || moved < 1e-7 {
            return Ok(x);
        }
    }
    Ok(x) // the last tangent; its EC is checked against the curve by the caller's own figures
}

/// Rows of `A·z ≤ b` by columns, z the amounts and then the distances.
struct Rows {
    columns: Vec<Vec<(usize, f64)>>,
    bounds: Vec<f64>,
}

impl Rows {
    /// Adds Σ of·x − distance ≤ bound.
    fn push(&mut self, of: impl Iterator<Item = f64>, distance: Option<usize>, bound: f64) {
        let row = self.bounds.len();
        let minus_one = distance.map(|d| (d, -1.0));
        for (column, value) in of.enumerate().chain(minus_one) {
            if value != 0.0
                && let Some(entries) = self.columns.get_mut(column)
            {
                entries.push((row, value));
            }
        }
        self.bounds.push(bound);
    }

    fn matrix(&self) -> CscMatrix<f64> {
        let mut starts = vec![0];
        let (mut rows, mut values) = (Vec::new(), Vec::new());
        for column in &self.columns {
            rows.extend(column.iter().map(|e| e.0));
            values.extend(column.iter().map(|e| e.1));
            starts.push(rows.len());
        }
        CscMatrix::new(self.bounds.len(), self.columns.len(), starts, rows, values)
    }
}

fn step(case: &Case<'_>, ceilings: &[Ceiling], x: &[f64]) -> Result<Vec<f64>, Error> {
    let n = case.products.len();
    let targets = &case.request.targets;
    let width = n + targets.len();
    let mut rows = Rows { columns: vec![Vec::new(); width], bounds: Vec::new() };
    let mut quadratic = vec![0.0; width];
    for (q, p) in quadratic.iter_mut().zip(&case.products) {
        // 1 unit a litre is about 1000 mg/L of feed strength; squares of those.
        let strength =
            case.coefficient(&Target::FeedStrength { mg_l: 1.0 }, p).unwrap_or(1000.0) / 1000.0;
        *q = 2.0 * parameter::RECIPE_SIZE_WEIGHT.number() * strength * strength;
    }
    for (t, (target, q)) in targets.iter().zip(quadratic.iter_mut().skip(n)).enumerate() {
        guardcell_call::checkpoint();
        let l = Linear::of_target(case, target, x)?;
        let scale = target.wanted(); // above 0: checked
        let (low, high) = target.range();
        let distance = n + t;
        rows.push(l.of.iter().map(|a| a / scale), Some(distance), (high - l.constant) / scale);
        rows.push(l.of.iter().map(|a| -a / scale), Some(distance), (l.constant - low) / scale);
        rows.push(core::iter::empty(), Some(distance), 0.0);
        *q = 2.0 * target.weight();
    }
    for c in ceilings {
        let l = c.row(case, x)?;
        let size = l.of.iter().fold(1e-9_f64, |m, a| m.max(a.abs()));
        rows.push(l.of.iter().map(|a| a / size), None, -l.constant / size);
    }
    for i in 0..n {
        rows.push(core::iter::empty(), Some(i), 0.0);
    }
    let z = minimise(&quadratic, &rows).map_err(|e| blocked(e, ceilings))?;
    Ok(z.into_iter().take(n).map(|v| v.max(0.0)).collect())
}

/// Ceilings that contradict each other are the request's fault: they are named.
fn blocked(e: Error, ceilings: &[Ceiling]) -> Error {
    let names: Vec<&str> = ceilings.iter().map(|c| c.name.field()).collect();
    if e.code() == Code::Unreachable && !names.is_empty() {
        let detail = format!("no amounts keep under {} together", names.join(" and "));
        return e.with_detail(detail).at("/ceilings");
    }
    e
}

fn minimise(quadratic: &[f64], rows: &Rows) -> Result<Vec<f64>, Error> {
    let width = quadratic.len();
    let p = CscMatrix::new(
        width,
        width,
        (0..=width).collect(),
        (0..width).collect(),
        quadratic.to_vec(),
    );
    // First as exactly as numbers allow; where they differ by too many powers of ten for that, as
    // exactly as anybody weighs.
    for (gap, feasible) in [(1e-11, 1e-10), (1e-6, 1e-6)] {
        let settings = DefaultSettings {
            verbose: false,
            tol_gap_abs: gap,
            tol_gap_rel: gap,
            tol_feas: feasible,
            ..DefaultSettings::default()
        };
        match solved(&p, rows, settings) {
            Outcome::Found(z) => return Ok(z),
            Outcome::Infeasible => {
                return Err(Error::new(
                    Code::Unreachable,
                    "no amounts meet every ceiling",
                    "raise a ceiling, or add a product",
                ));
            }
            Outcome::Unsettled => guardcell_call::checkpoint(),
        }
    }
    Err(Error::new(
        Code::Unreachable,
        "no amounts were found: targets, ceilings and labels lie too many powers of ten apart",
        "check the figures, give fewer products, or ask for targets nearer to each other",
    )
    .at("/targets"))
}

enum Outcome {
    Found(Vec<f64>),
    Infeasible,
    Unsettled,
}

fn solved(p: &CscMatrix<f64>, rows: &Rows, settings: DefaultSettings<f64>) -> Outcome {
    let cone = [NonnegativeConeT(rows.bounds.len())];
    let flat = vec![0.0; p.n];
    let Ok(mut solver) =
        DefaultSolver::new(p, &flat, &rows.matrix(), &rows.bounds, &cone, settings)
    else {
        return Outcome::Unsettled;
    };
    solver.solve();
    let s = &solver.solution;
    match s.status {
        SolverStatus::Solved | SolverStatus::AlmostSolved | SolverStatus::InsufficientProgress
            if s.x.iter().all(|v| v.is_finite()) =>
        {
            Outcome::Found(s.x.clone())
        }
        SolverStatus::PrimalInfeasible | SolverStatus::AlmostPrimalInfeasible => {
            Outcome::Infeasible
        }
        _ => Outcome::Unsettled,
    }
}
