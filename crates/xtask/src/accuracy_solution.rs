//! `cargo xtask accuracy solution`: the errors of solution chemistry with their bounds.

use guardcell_xtask::solution_accuracy::{Comparison, measure};
use std::error::Error;
use std::fmt::Write as _;
use std::path::Path;

/// Prints the table; says whether every bound is kept.
pub(crate) fn print(_root: &Path) -> Result<bool, Box<dyn Error>> {
    let rows = measure()?;
    let width = rows.iter().map(|r| r.name.chars().count()).max().unwrap_or(0);
    let mut text = String::new();
    let bound = |b: Option<f64>| b.map_or_else(|| "-".to_owned(), |b| format!("{b}"));
    let mut line = |a: &str, b: &str, c: &str, d: &str, e: &str, f: &str, g: &str| {
        let _ = writeln!(text, "{a:<width$}  {b:>5}  {c:>8}  {d:>8}  {e:>8}  {f:>12}  {g}");
    };
    line("comparison", "n", "bias", "mean", "worst", "bounds", "");
    for r in &rows {
        let unit = r.unit;
        line(
            &r.name,
            &r.count.to_string(),
            &format!("{:+.3}{unit}", r.bias),
            &format!("{:.3}{unit}", r.mean),
            &format!("{:.3}{unit}", r.worst),
            &format!("{} / {}", bound(r.mean_bound), bound(r.worst_bound)),
            match (r.holds(), r.mean_bound.or(r.worst_bound)) {
                (true, None) => "told",
                (true, _) => "holds",
                (false, _) => "BROKEN",
            },
        );
    }
    print!("{text}");
    Ok(rows.iter().all(Comparison::holds))
}
