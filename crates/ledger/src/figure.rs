//! Numbers as they are printed.

/// Three significant digits, without trailing zeros.
pub(crate) fn three(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return "0".into();
    }
    let digits = (2 - value.abs().log10().floor() as i32).clamp(0, 9);
    let text = format!("{value:.*}", usize::try_from(digits).unwrap_or(0));
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_digits() {
        for (v, s) in
            [(0.04, "0.04"), (0.012_345, "0.0123"), (312.7, "313"), (0.0, "0"), (1.0, "1")]
        {
            assert_eq!(three(v), s);
        }
    }
}
