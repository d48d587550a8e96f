//! `cargo xtask calibrate pathway`: fits each row of `data/pathway.csv` that is called calibrated from
//! the values, prints what it finds beside the table, and fails where they differ.

use crate::accuracy_traits;
use crate::fit_relatives::{self, loss};
use guardcell::reference::pathway_rule::{Evidence, Rule};
use guardcell::reference::relatives::{Tables, declared};
use guardcell::reference::{Organ, SpeciesRecord, species_records};
use std::error::Error;
use std::path::Path;

/// The survey that measured isotope ratio and acidity of the same plants.
const SURVEY: &str = "silvera2005distribution";
/// How far the table may be from the fit: this share of the number, or of 1 where it is smaller.
const TOLERANCE: f64 = 0.02;

/// One number found, and what it was counted from.
struct Found {
    key: &'static str,
    value: f64,
    from: String,
}

/// Prints the fits; `false` where the table differs.
///
/// # Errors
/// Where the table cannot be read or written.
pub(crate) fn run(write: bool, root: &Path) -> Result<bool, Box<dyn Error>> {
    let mut rule = declared();
    let mut all = Vec::new();
    // Each fit takes the numbers found before it.
    for fit in [acidity, curves, relatives, weak] {
        for found in fit(&rule) {
            rule = rule.with(found.key, found.value);
            all.push(found);
        }
    }
    let mut holds = true;
    println!("{:<22} {:>8} {:>8}  from", "row", "table", "fit");
    for found in &all {
        let table = declared().number(found.key).unwrap_or(f64::NAN);
        let agrees = (table - found.value).abs() <= TOLERANCE * found.value.abs().max(1.0);
        holds &= agrees || write;
        let mark = if agrees { "" } else { "  DIFFERS" };
        println!("{:<22} {table:>8} {:>8.3}  {}{mark}", found.key, found.value, found.from);
    }
    if write {
        let path = root.join("data/pathway.csv");
        std::fs::write(&path, written(&std::fs::read_to_string(&path)?, &all)?)?;
    }
    println!("\nweights fitted without the fold of a genus ({} folds):", fit_relatives::FOLDS);
    holds &= accuracy_traits::held(&fit_relatives::outer_folds(declared()));
    Ok(holds)
}

/// Puts the numbers found into the text of the table, to three digits.
fn written(csv: &str, all: &[Found]) -> Result<String, Box<dyn Error>> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let header = reader.headers()?.clone();
    let mut lines: Vec<String> = csv.lines().map(str::to_owned).collect();
    if header.get(1) != Some("value") {
        return Err("data/pathway.csv: the second column should be `value`".into());
    }
    for found in all {
        let start = format!("{},", found.key);
        let line = lines
            .iter_mut()
            .find(|l| l.starts_with(&start))
            .ok_or_else(|| format!("data/pathway.csv has no row {}", found.key))?;
        let rest = line[start.len()..].split_once(',').map_or("", |(_, rest)| rest);
        *line = format!("{start}{},{rest}", digits(found.value));
    }
    Ok(lines.join("\n") + "\n")
}

/// The number to three significant digits.
fn digits(value: f64) -> String {
    let places = (2 - value.abs().log10().floor() as i32).clamp(0, 3) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').into() } else { text }
}

/// Records of leaves that the rule reads.
fn on_leaf() -> impl Iterator<Item = &'static SpeciesRecord> {
    species_records().iter().filter(|r| matches!(r.organ, Organ::Leaf | Organ::Whole) && !r.outlier)
}

/// How sure an isotope ratio must be of one side to count there in the survey.
const SURE: f64 = 0.8;

/// Plants of the survey with an isotope ratio that is surely not CAM, or surely CAM, and whose
/// acidity was tested: value and whether the rise was significant.
fn survey(rule: &Rule, cam: bool) -> Vec<(f64, bool)> {
    let sure = |d: f64| {
        let p = rule.own_cam(rule.likelihood(&[Evidence::D13c(d, None)]));
        if cam { p >= SURE } else { p <= 1.0 - SURE }
    };
    on_leaf()
        .filter(|r| r.sources.first() == Some(&SURVEY))
        .filter_map(|r| Some((r.d13c?.permil(), r.acid_significant?)))
        .filter(|(d, _)| sure(*d))
        .collect()
}

fn mean(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let (n, sum) = values.fold((0.0, 0.0), |(n, sum), v| (n + 1.0, sum + v));
    (n, sum / n)
}

/// Two normal curves and a share of strays, by expectation and maximisation.
fn curves(rule: &Rule) -> Vec<Found> {
    const SPAN: f64 = 32.0; // land plants, as in the rule
    let values: Vec<f64> = on_leaf().filter_map(|r| r.d13c).map(|d| d.permil()).collect();
    let normal = |x: f64, (mean, sd): (f64, f64)| {
        (-0.5 * ((x - mean) / sd).powi(2)).exp() / (sd * std::f64::consts::TAU.sqrt())
    };
    let (mut lower, mut upper, mut share) = ((-28.0, 3.0), (-15.0, 3.0), 0.2);
    for _ in 0..300 {
        let mut sums = [[0.0; 3]; 2];
        for &x in &values {
            let stray = rule.d13c_stray / SPAN;
            let of = [(1.0 - share) * normal(x, lower), share * normal(x, upper)]
                .map(|p| (1.0 - rule.d13c_stray) * p);
            let all = of[0] + of[1] + stray;
            for (sum, p) in sums.iter_mut().zip(of) {
                *sum = [sum[0] + p / all, sum[1] + x * p / all, sum[2] + x * x * p / all];
            }
        }
        let curve = |[n, x, xx]: [f64; 3]| (x / n, (xx / n - (x / n).powi(2)).sqrt());
        (lower, upper) = (curve(sums[0]), curve(sums[1]));
        share = sums[1][0] / (sums[0][0] + sums[1][0]);
    }
    let c3 = survey(rule, false);
    let (risen, with) = mean(c3.iter().filter(|(_, rose)| *rose).map(|(d, _)| *d));
    let (flat, without) = mean(c3.iter().filter(|(_, rose)| !rose).map(|(d, _)| *d));
    let (gap, weak) = (with - without, rule.weak_share);
    let spread = (lower.1.powi(2) - weak * (1.0 - weak) * gap * gap).sqrt();
    let leaves = format!("{} leaf values", values.len());
    let apart = format!("{leaves}; {risen} and {flat} species, {gap:.2} apart");
    let found = |key, value, from: &str| Found { key, value, from: from.to_owned() };
    vec![
        found("d13c_c3", lower.0 - weak * gap, &apart),
        found("d13c_c3_spread", spread, &leaves),
        found("d13c_weak", lower.0 - weak * gap + gap, &apart),
        found("d13c_weak_spread", spread, &leaves),
        found("d13c_cam", upper.0, &leaves),
        found("d13c_cam_spread", upper.1, &leaves),
    ]
}

/// How often acidity rises, in the survey.
fn acidity(rule: &Rule) -> Vec<Found> {
    let (c3, cam) = (survey(rule, false), survey(rule, true));
    let rose = |of: &[(f64, bool)]| (of.iter().filter(|(_, rose)| *rose).count(), of.len());
    let ((k, n), (k_cam, n_cam)) = (rose(&c3), rose(&cam));
    let (power, level) = (rule.acid_rise_weak, rule.acid_rise_c3);
    vec![
        Found {
            key: "acid_rise_cam",
            value: (k_cam as f64 + 1.0) / (n_cam as f64 + 2.0),
            from: format!("{k_cam} of {n_cam} species with a CAM isotope ratio"),
        },
        Found {
            key: "weak_share",
            value: (k as f64 / n as f64 - level) / (power - level),
            from: format!("{k} of {n} species with a C3 isotope ratio"),
        },
    ]
}

fn relatives(rule: &Rule) -> Vec<Found> {
    let fitted = fit_relatives::fit(*rule, &|_| true);
    let n = Tables::new(*rule).leave_out().len();
    fit_relatives::keys()
        .filter_map(|key| {
            Some(Found { key, value: fitted.number(key)?, from: format!("{n} species") })
        })
        .collect()
}

/// The weight of weak CAM in a genus: least log loss of species left out, over whole numbers.
fn weak(rule: &Rule) -> Vec<Found> {
    let score = |weight: f64| {
        let all = Tables::new(rule.with("weak_shrink", weight)).leave_out();
        let known = all.iter().filter_map(|(_, l)| {
            Some(loss(l.shares.weak / (l.shares.weak + l.shares.c3), l.own_weak?))
        });
        mean(known)
    };
    let best = (1..=20)
        .map(f64::from)
        .min_by(|a, b| score(*a).1.total_cmp(&score(*b).1))
        .unwrap_or(rule.weak_shrink);
    let from = format!("{} species, log loss {:.3}", score(best).0, score(best).1);
    vec![Found { key: "weak_shrink", value: best, from }]
}
