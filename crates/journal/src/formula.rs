//! Texts that a spreadsheet would run as a formula.

/// What a formula may begin with in the common spreadsheets: `=`, `+`, `-`, `@`, a tab or a line
/// end before one of them.
const BEGINNINGS: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// Whether a text, apostrophes before it aside, would be run. A number would not.
fn is_armed(text: &str) -> bool {
    text.trim_start_matches('\'').starts_with(BEGINNINGS) && text.parse::<f64>().is_err()
}

/// Puts an apostrophe before a text that would be run; the text is then shown as it is.
///
/// ```
/// let mut cell = String::from("=1+1");
/// guardcell_journal::formula::disarm(&mut cell);
/// assert_eq!(cell, "'=1+1");
/// ```
pub fn disarm(cell: &mut String) {
    if is_armed(cell) {
        cell.insert(0, '\'');
    }
}

/// The text that was disarmed.
pub(crate) fn rearm(cell: &str) -> String {
    match cell.strip_prefix('\'') {
        Some(text) if is_armed(text) => text.to_owned(),
        _ => cell.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_are_shown_and_come_back() {
        for (text, shown) in [
            ("=HYPERLINK(\"http://a\")", "'=HYPERLINK(\"http://a\")"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("+1+1", "'+1+1"),
            ("\t=1", "'\t=1"),
            ("'=1", "''=1"),
            ("-5.2", "-5.2"),
            ("'tis", "'tis"),
            ("Cattleya", "Cattleya"),
            ("", ""),
        ] {
            let mut cell = text.to_owned();
            disarm(&mut cell);
            assert_eq!(cell, shown);
            assert_eq!(rearm(&cell), text);
        }
    }
}
