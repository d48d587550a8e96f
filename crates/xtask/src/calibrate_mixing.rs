//! `cargo xtask calibrate mixing`: fits the terms of the mixing rule to the pairs of
//! `data/salt_mixtures.csv`, and says how far it is from a pair that was left out of the fit.

use crate::calibrate::composition;
use guardcell::film::{Mix, Mixing};
use guardcell::reference::parameters::Basis;
use guardcell::reference::salts::{PAIRS, Pair, salt};
use guardcell::reference::{Composition, Solute};
use guardcell::units::quantity::Ratio;
use guardcell::units::uom::si::ratio::{percent, ratio};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// How much a pair from memory counts beside one that was found in print.
const WEIGHT_FROM_MEMORY: f64 = 0.05;
/// The terms tried: calcium with potassium, urea, hydrate share. Of equals the first is taken.
const CALCIUM_POTASSIUM: [f64; 6] = [0.0, -0.5, -1.0, -1.5, -2.0, -2.5];
const UREA: [f64; 7] = [0.0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75];
const HYDRATE_SHARE: [f64; 6] = [0.6, 0.65, 0.7, 0.75, 0.8, 0.85];

/// Mutual deliquescence of a pair as modelled, in %: an equimolar mix.
pub(crate) fn modelled(pair: &Pair, mixing: &Mixing) -> f64 {
    let salts = composition(&[(pair.first, 2.0), (pair.second, 2.0)]);
    Mix::with_mixing(&salts, pair.temperature(), mixing).dry_below().get::<percent>()
}

/// The fit, and what it predicts for each pair when that pair is left out.
pub(crate) struct Fit {
    terms: [f64; 3],
    /// Misfits in % relative humidity, with the shipped terms and left out.
    pub(crate) misfits: Vec<(f64, f64)>,
}

/// Which of the three terms act on a pair.
fn acting(pair: &Pair) -> [bool; 3] {
    let c: Composition = composition(&[(pair.first, 1.0), (pair.second, 1.0)]);
    let has = |s: Solute| c[s].value > 0.0;
    let hydrated = [pair.first, pair.second].into_iter().filter_map(salt).any(|s| s.hydrate > 0);
    [has(Solute::Ca) && has(Solute::K), has(Solute::Urea), hydrated]
}

fn weight(pair: &Pair) -> f64 {
    if pair.basis == Basis::Published { 1.0 } else { WEIGHT_FROM_MEMORY }
}

pub(crate) fn fit() -> Fit {
    // Many combinations are the same for a pair: those that differ in terms that do not act on it.
    let mut known: BTreeMap<(usize, [u64; 3]), f64> = BTreeMap::new();
    let mut misfit = |i: usize, terms: [f64; 3]| {
        let acts = acting(&PAIRS[i]);
        let key = [0, 1, 2].map(|k| if acts[k] { terms[k].to_bits() } else { 0 });
        *known.entry((i, key)).or_insert_with(|| {
            let [a, b, c] = terms.map(Ratio::new::<ratio>);
            modelled(&PAIRS[i], &Mixing::new(a, b, c))
                - PAIRS[i].mutual_deliquescence().get::<percent>()
        })
    };
    let mut grid = Vec::new();
    for a in CALCIUM_POTASSIUM {
        for b in UREA {
            for c in HYDRATE_SHARE {
                grid.push([a, b, c]);
            }
        }
    }
    let mut best = |without: Option<usize>| {
        let loss = |terms: &[f64; 3], misfit: &mut dyn FnMut(usize, [f64; 3]) -> f64| -> f64 {
            (0..PAIRS.len())
                .filter(|i| Some(*i) != without)
                .map(|i| weight(&PAIRS[i]) * misfit(i, *terms).powi(2))
                .sum()
        };
        let mut best = ([0.0; 3], f64::INFINITY);
        for terms in &grid {
            let l = loss(terms, &mut misfit);
            if l < best.1 {
                best = (*terms, l);
            }
        }
        (best.0, without.map(|i| misfit(i, best.0)))
    };
    let terms = best(None).0;
    let left_out: Vec<f64> =
        (0..PAIRS.len()).map(|i| best(Some(i)).1.unwrap_or_default()).collect();
    let shipped = Mixing::shipped();
    let misfits = PAIRS
        .iter()
        .zip(left_out)
        .map(|(p, out)| (modelled(p, &shipped) - p.mutual_deliquescence().get::<percent>(), out))
        .collect();
    Fit { terms, misfits }
}

impl Fit {
    /// Root mean square misfit to a pair that was left out of the fit, in % relative humidity.
    pub(crate) fn left_out_rms(&self) -> f64 {
        let squares: f64 = self.misfits.iter().map(|m| m.1 * m.1).sum();
        (squares / self.misfits.len() as f64).sqrt()
    }

    /// The fit as a table.
    pub(crate) fn table(&self) -> String {
        let [a, b, c] = self.terms;
        let mut out = format!(
            "Mixing rule fitted to {} pairs: calcium with potassium {a}, urea {b}, hydrate share {c}\n\n\
             | pair | published % | misfit | misfit when left out |\n|---|---|---|---|\n",
            self.misfits.len()
        );
        for (p, (misfit, out_of_fit)) in PAIRS.iter().zip(&self.misfits) {
            let _ = writeln!(
                out,
                "| {} + {} | {:.1} | {misfit:+.1} | {out_of_fit:+.1} |",
                p.first.replace('_', " "),
                p.second.replace('_', " "),
                p.mutual_deliquescence().get::<percent>()
            );
        }
        let _ = writeln!(
            out,
            "\nRoot mean square misfit to a pair that was left out: {:.1} % relative humidity",
            self.left_out_rms()
        );
        out
    }
}
