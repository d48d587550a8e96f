//! The number at the beginning of a quantity, apart from its words.

use crate::round::TENS;

/// Digits of a whole number that a binary number holds exactly, whatever they are.
const EXACT_DIGITS: usize = 15;

/// A plain decimal number at the beginning of a text and the words behind it. Whether these mean
/// the same behind any other number is for [`number_first`] to say.
pub(super) fn number_and_words(text: &str) -> Option<(f64, &str)> {
    let text = trimmed(text);
    let (mut digits, mut point, mut end) = (0_u64, None, 0);
    for byte in text.bytes() {
        match byte {
            // What is lost of too many digits is read again below.
            b'0'..=b'9' => digits = digits.wrapping_mul(10).wrapping_add(u64::from(byte - b'0')),
            b'.' if point.is_none() && end > 0 => point = Some(end),
            b'.' => return None,
            _ => break,
        }
        end += 1;
    }
    let (number, rest) = text.split_at_checked(end)?;
    let places = point.map_or(0, |point| end - point - 1);
    if end == 0 || (point.is_some() && places == 0) {
        return None;
    }
    let words = rest.trim_start_matches(' ');
    // 5e3 is a number.
    if words.is_empty() || (words.len() == rest.len() && words.starts_with(['e', 'E'])) {
        return None;
    }
    let number = match TENS.get(places) {
        // Both are exact, so that the division rounds once, as reading the text does.
        Some(power) if end - usize::from(point.is_some()) <= EXACT_DIGITS => digits as f64 / power,
        _ => number.parse().ok()?,
    };
    Some((number, words))
}

/// A plain decimal number at the beginning of a text and the words behind it, where these mean the
/// same behind any other number.
pub(super) fn number_first(text: &str) -> Option<(f64, &str)> {
    let (number, words) = number_and_words(text)?;
    let first = words.chars().next()?;
    if !(first.is_alphabetic() || matches!(first, '°' | '%')) || words.contains('\n') {
        return None;
    }
    // 500 scale is the scale of a meter, and 1 in 100 an injector ratio.
    let begins =
        |word: &str| words.get(..word.len()).is_some_and(|start| start.eq_ignore_ascii_case(word));
    let ratio = begins("in") && words.bytes().any(|b| b.is_ascii_digit());
    (!begins("scale") && !ratio).then_some((number, words))
}

fn trimmed(text: &str) -> &str {
    match text.as_bytes() {
        [b' ', ..] | [.., b' '] => text.trim_matches(' '),
        _ => text,
    }
}
