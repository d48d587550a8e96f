//! A map as text, with what was decided as comments.

use crate::probe::answer::{Finding, Standing};

/// A text as TOML writes it.
pub(super) fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

/// The comments at the head of a map.
pub(super) fn head(file: &str, findings: &[Finding]) -> String {
    let mut out = format!("# A map for {}, proposed from what it holds.\n", line(file));
    for f in findings {
        let mark = match f.standing {
            Standing::Decided => "",
            Standing::Assumed => "ASSUMED: ",
            Standing::Open => "OPEN: ",
        };
        let of = f.column.as_deref().map_or(String::new(), |c| format!("{}: ", line(c)));
        out.push_str(&format!("# {mark}{of}{}\n", line(&f.message)));
    }
    out
}

/// A text on one line, for a comment.
fn line(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}
