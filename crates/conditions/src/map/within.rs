//! Ranges of the numbers of a map.

use crate::error::in_map;
use guardcell::Error;

/// Checks a number of a map against its range.
pub(crate) fn within(
    key: &str,
    value: Option<f64>,
    low: f64,
    high: f64,
    unit: &str,
) -> Result<(), Error> {
    match value {
        Some(v) if !(v >= low && v <= high) => Err(in_map(
            key,
            format!("{v} {unit} is out of range"),
            format!("give a value from {low} to {high} {unit}"),
        )),
        _ => Ok(()),
    }
}

/// The longest age a map may allow, in hours: thirty days.
pub(crate) const MAX_AGE_H_MOST: f64 = 720.0;
