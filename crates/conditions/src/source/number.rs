//! Numbers as a table writes them.

/// The digits of a number with a decimal point: thousands separators are removed where they stand
/// between groups of three digits (a thin or plain space, an apostrophe, and the one of point and
/// comma that is not the decimal mark). `None` where they do not, as 1.5 with a decimal comma.
pub(crate) fn plain_number(text: &str, decimal: char) -> Option<String> {
    let separator = |c: char| match c {
        ' ' | '\u{a0}' | '\u{2009}' | '\u{202f}' | '\'' | '’' => true,
        '.' | ',' => c != decimal,
        _ => false,
    };
    let (whole, part) = match text.split_once(decimal) {
        Some((whole, part)) => (whole, Some(part)),
        None => (text, None),
    };
    if part.is_some_and(|p| p.contains(|c| separator(c) || c == decimal)) {
        return None;
    }
    let mut groups = whole.split(separator);
    let first = groups.next().unwrap_or_default();
    let mut digits = first.to_owned();
    let mut grouped = false;
    for group in groups {
        if group.len() != 3 || !group.bytes().all(|b| b.is_ascii_digit()) {
            return None;
        }
        digits.push_str(group);
        grouped = true;
    }
    let leading = first.trim_start_matches(['-', '+']);
    let used: Vec<char> = whole.chars().filter(|c| separator(*c)).collect();
    if grouped
        && (!(1..=3).contains(&leading.len())
            || leading.starts_with('0')
            || used.windows(2).any(|pair| pair.first() != pair.last()))
    {
        return None;
    }
    Some(part.map_or_else(|| digits.clone(), |part| format!("{digits}.{part}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_separated_by_groups_of_three() {
        for (text, decimal, plain) in [
            ("1,013.25", '.', Some("1013.25")),
            ("1.013,25", ',', Some("1013.25")),
            ("1 013,2", ',', Some("1013.2")),
            ("1\u{202f}013", '.', Some("1013")),
            ("1'234'567.5", '.', Some("1234567.5")),
            ("-1,200", '.', Some("-1200")),
            ("21.5", '.', Some("21.5")),
            ("21,5", ',', Some("21.5")),
            ("21,5", '.', None),
            ("21.5", ',', None),
            ("0,200", '.', None),
            ("1,2345", '.', None),
            ("1,013 250", '.', None),
            ("1.013.25", '.', None),
        ] {
            assert_eq!(plain_number(text, decimal).as_deref(), plain, "{text} with {decimal}");
        }
    }
}
