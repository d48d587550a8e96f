//! `cargo xtask accuracy traits`: each measured species called by its relatives and its leaf alone,
//! once without itself and once without its whole genus.
//!
//! What is held against the call is the evidence of the species itself. A call is CAM, or not CAM
//! (C3 or weak CAM); a confident one has a probability of 0.9 or more. Species whose own values
//! leave it open (works that disagree) count by halves in the loss and are no wrong call. The
//! weights of relatives and leaf were fitted on these same species: `cargo xtask calibrate pathway`
//! holds the bars on species that its fit has not seen.

use crate::fit_relatives::loss;
use guardcell::reference::pathway_rule::Shares;
use guardcell::reference::relatives::{LeftOut, Tables, declared};
use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;

/// A confident call, and the largest share of them that may be wrong.
const CONFIDENT: f64 = 0.9;
const WRONG: f64 = 0.03;
/// A call, and the least share of left-out species that should get one.
const CALLED_AT: f64 = 0.8;
const CALLED: f64 = 0.75;
/// How many standard errors the mean probability of CAM may be from the share of CAM.
const LEAN: f64 = 1.0;
/// How sure a species is of itself before a call can be wrong about it.
const SURE: f64 = 0.8;
/// Ends of the bins of the reliability table.
const BINS: [f64; 9] = [0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 0.9, 0.98, 1.0];

/// Sums over left-out species.
#[derive(Default)]
struct Score {
    n: f64,
    right: f64,
    log_loss: f64,
    called: f64,
    confident: f64,
    wrong: f64,
}

/// One species, and the call of it.
#[derive(Clone, Copy)]
struct Called<'a> {
    of: &'a LeftOut,
    shares: Shares,
}

/// Prints the tables; `false` if a bar is missed.
pub(crate) fn print(_root: &Path) -> Result<bool, Box<dyn Error>> {
    let all: Vec<LeftOut> = Tables::new(declared()).leave_out().into_iter().map(|l| l.1).collect();
    println!(
        "traits: the pathway of a species by its relatives and its leaf, against its own values"
    );
    Ok(held(&all))
}

/// Prints the tables of these calls; `false` if a bar is missed.
pub(crate) fn held(all: &[LeftOut]) -> bool {
    let mut holds = true;
    for (what, genus) in [("one species left out", false), ("one genus left out", true)] {
        let all: Vec<Called<'_>> = all
            .iter()
            .map(|of| Called { of, shares: if genus { of.without_genus } else { of.shares } })
            .collect();
        let score = score(&all);
        let (called, wrong) = (score.called / score.n, score.wrong / score.confident.max(1.0));
        println!("{what}: {} species", all.len());
        println!(
            "  accuracy {:.1} %, log loss {:.3} (always {:.0} % CAM: {:.3})",
            100.0 * score.right / score.n,
            score.log_loss / score.n,
            100.0 * base(&all),
            base_loss(&all)
        );
        if genus {
            println!("  called at 0.8 or more: {:.1} % (no bar)", 100.0 * called);
        } else {
            holds &= bar("called at 0.8 or more", called, called >= CALLED, "at least", CALLED);
        }
        holds &= bar("confident calls wrong", wrong, wrong <= WRONG, "at most", WRONG);
        print!("{}", reliability(&all));
        for l in all.iter().filter(|l| is_wrong(l)) {
            println!(
                "    wrong: {} {} P(CAM) {:.3}, its own values say {:.3}",
                l.of.species.genus().name,
                l.of.species.epithet,
                l.shares.cam,
                l.of.own_cam
            );
        }
        let lean = bias(&all);
        if !genus {
            let mark = if lean <= LEAN { "" } else { "  MISSED" };
            println!("  lean: {lean:.2} standard errors (bar: at most {LEAN:.0}){mark}");
            holds &= lean <= LEAN;
        }
        weak(&all);
    }
    holds
}

fn bar(what: &str, is: f64, holds: bool, how: &str, bound: f64) -> bool {
    let mark = if holds { "" } else { "  MISSED" };
    println!("  {what}: {:.1} % (bar: {how} {:.0} %){mark}", 100.0 * is, 100.0 * bound);
    holds
}

fn is_wrong(l: &Called<'_>) -> bool {
    let cam = l.shares.cam;
    (cam >= CONFIDENT && l.of.own_cam <= 1.0 - SURE)
        || (cam <= 1.0 - CONFIDENT && l.of.own_cam >= SURE)
}

fn score(all: &[Called<'_>]) -> Score {
    let mut sum = Score::default();
    for l in all {
        let p = l.shares.cam;
        sum.n += 1.0;
        sum.right += f64::from(u8::from((p > 0.5) == (l.of.own_cam > 0.5)));
        sum.log_loss += loss(p, l.of.own_cam);
        sum.called += f64::from(u8::from(p.max(1.0 - p) >= CALLED_AT));
        sum.confident += f64::from(u8::from(p.max(1.0 - p) >= CONFIDENT));
        sum.wrong += f64::from(u8::from(is_wrong(l)));
    }
    sum
}

fn base(all: &[Called<'_>]) -> f64 {
    all.iter().map(|l| l.of.own_cam).sum::<f64>() / all.len() as f64
}

fn base_loss(all: &[Called<'_>]) -> f64 {
    let base = base(all);
    all.iter().map(|l| loss(base, l.of.own_cam)).sum::<f64>() / all.len() as f64
}

fn reliability(all: &[Called<'_>]) -> String {
    let mut text = String::from("  P(CAM) said      species   mean said   CAM\n");
    let mut from = 0.0;
    for to in BINS {
        let bin: Vec<&Called<'_>> = all
            .iter()
            .filter(|l| l.shares.cam >= from && (l.shares.cam < to || to >= 1.0))
            .collect();
        if !bin.is_empty() {
            let mean = |f: &dyn Fn(&Called<'_>) -> f64| {
                bin.iter().map(|l| f(l)).sum::<f64>() / bin.len() as f64
            };
            text.push_str(&format!(
                "  {from:.2} to {to:.2}     {:>7}   {:>9.3}   {:.3}\n",
                bin.len(),
                mean(&|l| l.shares.cam),
                mean(&|l| l.of.own_cam)
            ));
        }
        from = to;
    }
    text
}

/// Whether wrong calls lean to C3. CAM is the rarer kind, so it is missed more often than invented
/// even by probabilities that are exactly right; how often is what they themselves say. Returns how
/// many standard errors the mean probability is from the share found, species taken one by one; the
/// table also prints the standard error with the species of a genus taken together.
fn bias(all: &[Called<'_>]) -> f64 {
    let n = all.len() as f64;
    let said = all.iter().map(|l| l.shares.cam).sum::<f64>() / n;
    let error = all.iter().map(|l| l.shares.cam * (1.0 - l.shares.cam)).sum::<f64>().sqrt() / n;
    let mut genera: BTreeMap<&str, f64> = BTreeMap::new();
    for l in all {
        *genera.entry(l.of.species.genus().name).or_default() += l.of.own_cam - l.shares.cam;
    }
    let of_genera = genera.values().map(|d| d * d).sum::<f64>().sqrt() / n;
    let missed = all.iter().filter(|l| l.shares.cam < 0.5 && l.of.own_cam > 0.5).count();
    let invented = all.iter().filter(|l| l.shares.cam > 0.5 && l.of.own_cam < 0.5).count();
    let (below, above): (Vec<f64>, Vec<f64>) =
        all.iter().map(|l| l.shares.cam).partition(|p| *p < 0.5);
    println!(
        "  mean P(CAM) {said:.4}, CAM {:.4} (standard error {error:.4}, by genera {of_genera:.4}); CAM taken \
         for C3: {missed} (expected by the probabilities {:.0}), C3 taken for CAM: {invented} ({:.0})",
        base(all),
        below.iter().sum::<f64>(),
        above.iter().map(|p| 1.0 - p).sum::<f64>()
    );
    (said - base(all)).abs() / error
}

/// The three-way log loss of species of which acidity or gas exchange was looked at.
fn weak(all: &[Called<'_>]) {
    let known: Vec<(&Called<'_>, f64)> = all
        .iter()
        .filter_map(|l| Some((l, l.of.own_weak?)))
        .filter(|(l, _)| l.of.own_cam < 0.5)
        .collect();
    if known.is_empty() {
        return;
    }
    let n = known.len() as f64;
    let said = |l: &Called<'_>| l.shares.weak / (l.shares.weak + l.shares.c3);
    let loss_of = known.iter().map(|(l, own)| loss(said(l), *own)).sum::<f64>() / n;
    let share = known.iter().map(|(_, own)| own).sum::<f64>() / n;
    let flat = known.iter().map(|(_, own)| loss(share, *own)).sum::<f64>() / n;
    println!(
        "  weak CAM among {} species without CAM: said {:.3}, found {share:.3}; log loss {loss_of:.3} \
         (always {share:.2}: {flat:.3})",
        known.len(),
        known.iter().map(|(l, _)| said(l)).sum::<f64>() / n,
    );
}
