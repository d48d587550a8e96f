//! Rounding for output, by significant digits and only there.

/// The number rounded to `digits` significant digits, by its decimal form, so that
/// 0.049999999999999996 shows as 0.05. Values that are not finite come back as they are.
///
/// ```
/// use guardcell_units::round::significant;
/// assert_eq!(significant(0.049999999999999996, 10), 0.05);
/// assert_eq!(significant(1234.567, 3), 1230.0);
/// ```
#[must_use]
pub fn significant(value: f64, digits: u8) -> f64 {
    if !value.is_finite() || value == 0.0 {
        return value;
    }
    let digits = digits.clamp(1, 17);
    if let Some(rounded) = by_arithmetic(value, digits) {
        return rounded;
    }
    let decimals = usize::from(digits) - 1;
    // The scientific form of a finite number always reads back.
    format!("{value:.decimals$e}").parse().unwrap_or(value)
}

/// Powers of ten that a binary number holds exactly.
pub(crate) const TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

fn power(n: i32) -> Option<f64> {
    TENS.get(usize::try_from(n.unsigned_abs()).ok()?).copied()
}

/// The same by arithmetic, many times as fast, where that comes to the same number for certain:
/// the digits wanted become a whole number, which is exact, and one division by an exact power of
/// ten rounds as reading its decimals does.
fn by_arithmetic(value: f64, digits: u8) -> Option<f64> {
    let (whole, shift) = scaled_whole(value, digits)?;
    let rounded = if shift >= 0 { whole / power(shift)? } else { whole * power(shift)? };
    Some(rounded.copysign(value))
}

/// The digits wanted as a whole number, and the power of ten that it was multiplied with. Where
/// the next digits are near a half, where the power of ten is not exact, or where a digit would be
/// lost, there is none.
fn scaled_whole(value: f64, digits: u8) -> Option<(f64, i32)> {
    // Scaled to ten digits, a number is known to 2e-6.
    const MOST_DIGITS: u8 = 10;
    const NEAR_HALF: f64 = 1e-3;
    if digits > MOST_DIGITS {
        return None;
    }
    let size = value.abs();
    let scaled =
        |shift: i32| Some(if shift >= 0 { size * power(shift)? } else { size / power(shift)? });
    let (low, high) = (power(i32::from(digits) - 1)?, power(i32::from(digits))?);
    let mut shift = i32::from(digits) - 1 - floor_log10(size)?;
    let mut whole = scaled(shift)?;
    if whole >= high {
        shift -= 1;
        whole = scaled(shift)?;
    } else if whole < low {
        shift += 1;
        whole = scaled(shift)?;
    }
    if !(low..high).contains(&whole) {
        return None;
    }
    // Below 10^10, so that it is a whole number of 64 bits and nothing is lost either way.
    let below = whole as u64 as f64;
    let part = whole - below;
    if (part - 0.5).abs() < NEAR_HALF {
        return None;
    }
    Some((if part > 0.5 { below + 1.0 } else { below }, shift))
}

/// A number as it is written in decimals: `digits` with the point `places` from their right end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Decimal {
    /// Whether it is below zero.
    pub negative: bool,
    /// The digits as one whole number.
    pub digits: u64,
    /// How many of them stand behind the point.
    pub places: u8,
}

/// The decimals of [`significant`] of the same number, where arithmetic gives them for certain;
/// without their last zeros they are the shortest that read back as that number. None for zero,
/// for very large and very small numbers and in rare cases in between.
///
/// ```
/// use guardcell_units::round::{Decimal, decimal};
/// let tenths = Decimal { negative: true, digits: 52_400, places: 3 };
/// assert_eq!(decimal(-52.4, 5), Some(tenths));
/// assert_eq!(decimal(0.0, 5), None);
/// ```
#[must_use]
pub fn decimal(value: f64, digits: u8) -> Option<Decimal> {
    let (whole, shift) = scaled_whole(value, digits.max(1))?;
    let places = u8::try_from(shift).ok()?;
    // Ten digits at most: below the fifteen that every binary number tells apart.
    Some(Decimal { negative: value < 0.0, digits: whole as u64, places })
}

/// The power of ten of a normal number, or one beside it.
fn floor_log10(size: f64) -> Option<i32> {
    if !size.is_normal() {
        return None;
    }
    // The bits above the 52 of the fraction are the exponent; the sign is off. The fraction is
    // log10 2 to 2^-18, enough for a floor of 1023 times it.
    let exponent = i32::try_from(size.to_bits() >> 52).ok()? - 1023;
    Some((exponent * 78_913) >> 18)
}

/// The shortest decimal form that reads back as the same number, without a trailing `.0`.
///
/// ```
/// use guardcell_units::round::shortest;
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

    proptest::proptest! {
        #![proptest_config(proptest::test_runner::Config::with_cases(20_000))]

        /// Formatting to decimals and reading them is what rounding means here.
        #[test]
        fn arithmetic_rounds_as_decimals_do(
            bits in proptest::num::f64::NORMAL | proptest::num::f64::NEGATIVE,
            short in -1_000_000_i64..1_000_000,
            places in 0_i32..9,
            power in -12_i32..16,
            fraction in -10.0..10.0_f64,
            digits in 1_u8..=10,
        ) {
            let by_decimals = |v: f64| {
                let decimals = usize::from(digits) - 1;
                format!("{v:.decimals$e}").parse::<f64>().unwrap()
            };
            let values =
                [bits, short as f64 / 10_f64.powi(places), fraction * 10_f64.powi(power)];
            for value in values.into_iter().filter(|v| v.is_finite() && *v != 0.0) {
                let rounded = significant(value, digits);
                proptest::prop_assert_eq!(rounded.to_bits(), by_decimals(value).to_bits());
                if let Some(d) = decimal(value, digits) {
                    let sign = if d.negative { "-" } else { "" };
                    let text = format!("{sign}{}e-{}", d.digits, d.places);
                    let read = text.parse::<f64>().unwrap();
                    proptest::prop_assert_eq!(rounded.to_bits(), read.to_bits());
                }
            }
        }
    }

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
