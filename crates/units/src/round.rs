//! Rounding for output, by significant digits and only there.

/// The number rounded to `digits` significant digits, by its decimal form, so that
/// 0.049999999999999996 shows as 0.05. Values that are not finite come back as they are.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::round::significant;
/// assert_eq!(significant(0.049999999999999996, 10), 0.05);
/// assert_eq!(significant(1234.567, 3), 1230.0);
/// ```
#[must_use]
pub fn significant(value: f64, digits: u8) -> f64 {
    if !value.is_finite() || value == 0.0 {
        return value;
    }
    let digits = digits.clamp(1, 17);
    let decimals = usize::from(digits) - 1;
    // The scientific form of a finite number always reads back.
    format!("{value:.decimals$e}").parse().unwrap_or(value)
}

/// The shortest decimal form that reads back as the same number, without a trailing `.0`.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::round::shortest;
/// assert_eq!(shortest(300.0), "300");
/// assert_eq!(shortest(0.1 + 0.2), "0.30000000000000004");
/// ```
#[must_use]
pub fn shortest(value: f64) -> String {
    let text = format!("{value:?}");
    match text.strip_suffix(".0") {
        Some(whole) => whole.to_owned(),
        None => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edges() {
        assert_eq!(significant(0.0, 10), 0.0);
        assert!(significant(f64::NAN, 10).is_nan());
        assert_eq!(significant(-1e-300, 3), -1e-300);
        assert_eq!(significant(f64::MAX, 17), f64::MAX);
        assert_eq!(shortest(1e300), "1e300");
        assert_eq!(shortest(-0.0), "-0");
    }
}
