//! Which ceilings keep the targets from being met.

use super::answer::Blocking;
use super::case::Case;
use super::ceilings::Ceiling;
use super::programme::solve;
use guardcell_error::Error;
use guardcell_units::round::significant;

/// The ceilings that keep the targets from being met: those over which the recipe without any
/// ceiling goes, and of these the ones that block on their own (all, where none does).
pub(super) fn blocking(
    case: &Case<'_>,
    ceilings: &[Ceiling],
    met: &dyn Fn(&[f64]) -> Result<bool, Error>,
) -> Result<Vec<Blocking>, Error> {
    let free = solve(case, &[])?;
    let mut over = Vec::new();
    for c in ceilings {
        let needed = c.figure(case, &free)?;
        if needed > c.limit * (1.0 + 1e-6) + 1e-9 {
            over.push((*c, needed));
        }
    }
    let mut alone = Vec::new();
    for (c, needed) in &over {
        guardcell_call::checkpoint();
        if !met(&solve(case, &[*c])?)? {
            alone.push((*c, *needed));
        }
    }
    let list = if alone.is_empty() { over } else { alone };
    Ok(list
        .into_iter()
        .map(|(c, needed)| {
            let (what, unit) = c.words();
            Blocking {
                ceiling: c.name,
                limit: c.limit,
                needed,
                over: needed - c.limit,
                message: format!(
                    "The targets need a {what} of {needed:.1} {unit}; the ceiling is {}, {:.1} \
                     {unit} less.",
                    significant(c.limit, 6),
                    needed - c.limit
                ),
            }
        })
        .collect())
}
