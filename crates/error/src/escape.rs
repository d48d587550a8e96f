//! Making foreign text safe to show.

use std::borrow::Cow;

/// The text with control characters and characters that reorder or hide text escaped, so that a
/// name from a file cannot steer a terminal.
///
/// ```
/// assert_eq!(guardcell_error::escape_control("a\u{1b}[2Jb"), "a\\u{1b}[2Jb");
/// assert_eq!(guardcell_error::escape_control("Ærides"), "Ærides");
/// ```
#[must_use]
pub fn escape_control(text: &str) -> Cow<'_, str> {
    if !text.chars().any(is_hidden) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        if is_hidden(c) {
            out.extend(c.escape_unicode());
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

/// The first `limit` characters of a text, control characters escaped, with `…` where it was cut.
///
/// ```
/// assert_eq!(guardcell_error::excerpt("mini Phalaenopsis", 4), "mini…");
/// ```
#[must_use]
pub fn excerpt(text: &str, limit: usize) -> String {
    match text.char_indices().nth(limit) {
        None => escape_control(text).into_owned(),
        Some((end, _)) => format!("{}…", escape_control(text.get(..end).unwrap_or_default())),
    }
}

/// Whether a character can mislead a reader or steer a terminal:
/// control characters, and format characters that change the direction of text or are invisible.
#[must_use]
pub fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}'
        )
}
