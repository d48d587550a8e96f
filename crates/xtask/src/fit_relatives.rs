//! The weights of relatives and leaf in `data/pathway.csv`, fitted by coordinate search.
//!
//! The criterion is the log loss over species left out plus that over species of genera left out.
//! Because the weights are chosen on the species that they are then held against, the accuracy is
//! reported from outer folds: the genera are dealt into [`FOLDS`] folds, the weights are fitted
//! without one fold, and the species of that fold are called with them.

use guardcell::reference::genera;
use guardcell::reference::pathway_rule::Rule;
use guardcell::reference::relatives::{LeftOut, Tables};

/// Outer folds.
pub(crate) const FOLDS: usize = 5;
/// Leaf shifts are pulled towards 0 as by a normal prior of this spread: no terete genus known is
/// C3, and without a pull its shift would grow without end.
const LEAF_SPREAD: f64 = 3.0;
/// Weights of steps are pulled on a logarithmic scale towards where their search starts, as by a
/// normal prior of this spread: a fold without some large genera would otherwise drive one of them
/// to nothing.
const WEIGHT_SPREAD: f64 = 1.0;
/// The search ends once every step is shorter than this.
const LEAST_STEP: f64 = 0.02;
const SWEEPS: usize = 40;

/// On which scale a number is searched.
#[derive(Clone, Copy)]
enum Scale {
    Plain,
    Log,
    LogOdds,
}

/// The rows that are fitted together, and where the search starts: always there, so that the fit
/// does not depend on the table.
const ROWS: [(&str, Scale, f64); 11] = [
    ("cam_share", Scale::LogOdds, 0.3),
    ("odd_share", Scale::LogOdds, 0.03),
    ("shrink_tribe", Scale::Log, 5.0),
    ("shrink_subtribe", Scale::Log, 5.0),
    ("shrink_genus_uniform", Scale::Log, 0.5),
    ("shrink_genus_variable", Scale::Log, 5.0),
    ("leaf_thin", Scale::Plain, -2.0),
    ("leaf_intermediate", Scale::Plain, -1.0),
    ("leaf_thick", Scale::Plain, 1.0),
    ("leaf_terete", Scale::Plain, 2.0),
    ("thickness_slope", Scale::Plain, 3.0),
];

/// The log loss of a probability against what is likely true.
pub(crate) fn loss(p: f64, own: f64) -> f64 {
    let p = p.clamp(1e-6, 1.0 - 1e-6);
    -(own * p.ln() + (1.0 - own) * (1.0 - p).ln())
}

/// Keys of the rows that are fitted together.
pub(crate) fn keys() -> impl Iterator<Item = &'static str> {
    ROWS.iter().map(|(key, ..)| *key)
}

fn moved(rule: &Rule, key: &str, scale: Scale, step: f64) -> Rule {
    let now = rule.number(key).unwrap_or(f64::NAN);
    let next = match scale {
        Scale::Plain => now + step,
        Scale::Log => now * step.exp(),
        Scale::LogOdds => 1.0 / (1.0 + (1.0 / now - 1.0) * (-step).exp()),
    };
    rule.with(key, next)
}

/// Genera that say something of the pathway.
fn speaks(place: usize) -> bool {
    genera().get(place).is_some_and(|g| g.statement.is_some() || !g.species().is_empty())
}

fn criterion(rule: &Rule, keep: &dyn Fn(usize) -> bool) -> f64 {
    let all = Tables::of(*rule, |i| speaks(i) && keep(i)).leave_out();
    let left_out: f64 = all
        .iter()
        .map(|(_, l)| loss(l.shares.cam, l.own_cam) + loss(l.without_genus.cam, l.own_cam))
        .sum();
    let leaf = [rule.leaf_thin, rule.leaf_intermediate, rule.leaf_thick, rule.leaf_terete];
    let weights = ROWS
        .iter()
        .filter(|(key, ..)| key.starts_with("shrink_"))
        .filter_map(|(key, _, start)| Some((rule.number(key)? / start).ln() / WEIGHT_SPREAD));
    let pulled = leaf.iter().map(|x| x / LEAF_SPREAD).chain(weights);
    left_out + 0.5 * pulled.map(|x| x * x).sum::<f64>()
}

/// The rule with the weights that fit the genera kept.
pub(crate) fn fit(rule: Rule, keep: &dyn Fn(usize) -> bool) -> Rule {
    let rule = ROWS.iter().fold(rule, |rule, (key, _, start)| rule.with(key, *start));
    let mut best = (rule, criterion(&rule, keep));
    let mut steps = ROWS.map(|_| 0.3);
    for _ in 0..SWEEPS {
        for ((key, scale, _), step) in ROWS.iter().zip(&mut steps) {
            let better = [*step, -*step].into_iter().find_map(|step| {
                let rule = moved(&best.0, key, *scale, step);
                let found = criterion(&rule, keep);
                (found < best.1).then_some((rule, found))
            });
            match better {
                Some(found) => (best, *step) = (found, *step * 1.3),
                None => *step *= 0.5,
            }
        }
        if steps.iter().all(|s| *s < LEAST_STEP) {
            break;
        }
    }
    best.0
}

/// Every species left out, called with weights that were fitted without the fold of its genus.
pub(crate) fn outer_folds(rule: Rule) -> Vec<LeftOut> {
    let mut all = Vec::new();
    for fold in 0..FOLDS {
        let fitted = fit(rule, &|place| place % FOLDS != fold);
        let called = Tables::new(fitted).leave_out();
        all.extend(called.into_iter().filter(|(place, _)| place % FOLDS == fold).map(|(_, l)| l));
    }
    all
}
