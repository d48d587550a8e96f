//! How far a run is, for who watches it on a terminal.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::IsTerminal;

/// A bar on standard error, or nothing.
pub(crate) struct Progress(Option<ProgressBar>);

impl Progress {
    /// A bar where standard error is a terminal that may be drawn on; `bytes` is the length of
    /// the input, where it is known.
    pub(crate) fn new(quiet: bool, bytes: Option<u64>) -> Self {
        let plain = std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty());
        if quiet || plain || !std::io::stderr().is_terminal() {
            return Self(None);
        }
        let (bar, template) = match bytes {
            Some(bytes) => (
                ProgressBar::new(bytes),
                "{bar:30} {percent:>3} %  {msg}  {bytes_per_sec}  {eta} left",
            ),
            None => (ProgressBar::no_length(), "{spinner} {msg}  {bytes}  {bytes_per_sec}"),
        };
        bar.set_draw_target(ProgressDrawTarget::stderr());
        if let Ok(style) = ProgressStyle::with_template(template) {
            bar.set_style(style);
        }
        Self(Some(bar))
    }

    pub(crate) fn at(&self, bytes: u64, rows: u64) {
        if let Some(bar) = &self.0 {
            bar.set_position(bytes);
            bar.set_message(format!("{} rows", grouped(rows)));
        }
    }

    pub(crate) fn end(&self) {
        if let Some(bar) = &self.0 {
            bar.finish_and_clear();
        }
    }
}

/// A count with thin groups of three, as the answers write numbers.
pub(crate) fn grouped(count: u64) -> String {
    let digits = count.to_string();
    let mut out = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::grouped;

    #[test]
    fn groups_of_three() {
        assert_eq!(grouped(0), "0");
        assert_eq!(grouped(999), "999");
        assert_eq!(grouped(1_234_567), "1\u{202f}234\u{202f}567");
    }
}
