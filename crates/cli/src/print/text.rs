//! Words, numbers and times as a grower reads them.

use jiff::ZonedDateTime;
use jiff::tz::TimeZone;

/// Narrowest and widest page: shorter lines break words, longer ones are hard to read.
const WIDTHS: std::ops::RangeInclusive<usize> = 40..=96;

/// Width of a page where standard output is not a terminal.
const USUAL_WIDTH: usize = 80;

/// The width of the terminal, within what reads well.
pub(crate) fn page_width() -> usize {
    match terminal_size::terminal_size_of(std::io::stdout()) {
        Some((width, _)) => usize::from(width.0).clamp(*WIDTHS.start(), *WIDTHS.end()),
        None => USUAL_WIDTH,
    }
}

/// Wraps text at spaces; the first line begins with `first`, the others with `rest`.
pub(crate) fn wrap(width: usize, first: &str, rest: &str, text: &str) -> Vec<String> {
    let options = textwrap::Options::new(width)
        .initial_indent(first)
        .subsequent_indent(rest)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
        .break_words(false);
    let text: Vec<&str> = text.split_whitespace().collect();
    textwrap::wrap(&text.join(" "), options).into_iter().map(|line| line.into_owned()).collect()
}

/// Text of at most so many columns, cut after a word, with a mark where it is cut.
pub(crate) fn clipped(text: &str, columns: usize) -> String {
    if text.chars().count() <= columns {
        return text.to_owned();
    }
    let kept: String = text.chars().take(columns.saturating_sub(2)).collect();
    let whole = kept.rfind(' ').filter(|at| *at > columns / 2).and_then(|at| kept.get(..at));
    format!("{} …", whole.unwrap_or(&kept).trim_end_matches([',', ';', ':', '(']))
}

/// Entries in two columns, read downwards, or in one where the page is narrow or the entries long.
pub(crate) fn columns(indent: &str, entries: &[String], width: usize) -> Vec<String> {
    let room = width.saturating_sub(indent.chars().count());
    let half = room.saturating_sub(2) / 2;
    let longest = entries.iter().map(|e| e.chars().count()).max().unwrap_or(0);
    if entries.len() < 2 || half < 30 || longest > half + half / 4 {
        return entries.iter().map(|e| format!("{indent}{}", clipped(e, room))).collect();
    }
    let rows = entries.len().div_ceil(2);
    (0..rows)
        .map(|i| {
            let left = entries.get(i).map_or(String::new(), |e| clipped(e, half));
            match entries.get(rows + i) {
                Some(right) => format!("{indent}{left:<half$}  {}", clipped(right, half)),
                None => format!("{indent}{left}"),
            }
        })
        .collect()
}

/// A number to so many significant digits, without trailing zeros after the point.
pub(crate) fn significant(value: f64, digits: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".into() } else { value.to_string() };
    }
    let magnitude = value.abs().log10().floor() as i32;
    let decimals = digits - 1 - magnitude;
    if decimals <= 0 {
        let step = 10_f64.powi(-decimals);
        return format!("{:.0}", (value / step).round() * step);
    }
    let text = format!("{value:.*}", decimals.unsigned_abs() as usize);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A count with its noun.
pub(crate) fn count(n: usize, one: &str, many: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {many}") }
}

/// What there is any of: `2 new roots`, `1 flush`.
pub(crate) fn counts<const N: usize>(all: [(u32, &str, &str); N]) -> Vec<String> {
    let some = all.into_iter().filter(|(n, ..)| *n > 0);
    some.map(|(n, one, many)| count(n as usize, one, many)).collect()
}

/// An RFC 3339 time as local time in its own offset; `None` if the text is not such a time.
pub(crate) fn local(text: &str) -> Option<ZonedDateTime> {
    let stamp: jiff::Timestamp = text.parse().ok()?;
    let offset = jiff::fmt::temporal::Pieces::parse(text).ok()?.to_numeric_offset()?;
    Some(stamp.to_zoned_datetime(TimeZone::fixed(offset)))
}

/// `Mon 22 June, 03:30`.
pub(crate) fn day_and_time(text: &str) -> String {
    local(text).map_or_else(|| text.to_owned(), |t| t.strftime("%a %-d %B, %H:%M").to_string())
}

/// `Mon 22 June 2026, 03:30`.
pub(crate) fn day_and_year(text: &str) -> String {
    local(text).map_or_else(|| text.to_owned(), |t| t.strftime("%a %-d %B %Y, %H:%M").to_string())
}

/// `03:30`.
pub(crate) fn time(text: &str) -> String {
    local(text).map_or_else(|| text.to_owned(), |t| t.strftime("%H:%M").to_string())
}

/// `Mon 22 June, 03:30–04:45`, the day repeated only if it changes.
pub(crate) fn span(start: &str, end: &str) -> String {
    match (local(start), local(end)) {
        (Some(a), Some(b)) if a.date() == b.date() => {
            format!("{}–{}", day_and_time(start), time(end))
        }
        _ => format!("{} – {}", day_and_time(start), day_and_time(end)),
    }
}

/// `35 min`, `2.5 h`.
pub(crate) fn minutes(m: f64) -> String {
    if m < 90.0 { format!("{m:.0} min") } else { format!("{} h", significant(m / 60.0, 2)) }
}

/// A conductivity, `0.62 mS/cm`.
pub(crate) fn ms_cm(us_cm: f64) -> String {
    format!("{:.2} mS/cm", us_cm / 1000.0)
}

/// A probability in words with its number: `unlikely (4 %)`.
pub(crate) fn chance(p: f64) -> String {
    let percent = p * 100.0;
    let number = if percent < 1.0 {
        "under 1 %".to_owned()
    } else if percent > 99.0 {
        "over 99 %".to_owned()
    } else {
        format!("{percent:.0} %")
    };
    let word = match percent {
        x if x < 5.0 => "very unlikely",
        x if x < 20.0 => "unlikely",
        x if x < 50.0 => "possible",
        x if x < 80.0 => "likely",
        _ => "very likely",
    };
    format!("{word} ({number})")
}

/// One millilitre figure.
pub(crate) fn ml(v: f64) -> String {
    format!("{v:.0} mL")
}

/// Eighths as a grower reads them off a mister: `3/8`, `6 ½/8`.
pub(crate) fn eighths(v: f64) -> String {
    let halves = (v * 2.0).round();
    let whole = (halves / 2.0).floor();
    let half = if halves % 2.0 == 1.0 { "½" } else { "" };
    match (whole as i64, half) {
        (0, "") => "below ¼/8".into(),
        (0, h) => format!("{h}/8"),
        (8, "") => "full".into(),
        (w, h) => format!("{w}{h}/8"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_well() {
        assert_eq!(significant(0.049_999_999_999_999_996, 6), "0.05");
        assert_eq!(significant(1234.5, 3), "1230");
        assert_eq!(significant(2.0, 3), "2");
        assert_eq!(significant(0.0, 3), "0");
        assert_eq!(eighths(3.02), "3/8");
        assert_eq!(eighths(7.96), "full");
        assert_eq!(eighths(6.4), "6½/8");
    }

    #[test]
    fn times_keep_their_own_offset() {
        assert_eq!(
            span("2026-06-22T03:30:00+01:00", "2026-06-22T04:45:00+01:00"),
            "Mon 22 June, 03:30–04:45"
        );
        assert_eq!(day_and_time("never"), "never");
    }

    #[test]
    fn long_lines_are_cut_after_a_word() {
        assert_eq!(clipped("short", 10), "short");
        assert_eq!(clipped("one two three four", 12), "one two …");
        assert!(clipped(&"x".repeat(90), 80).chars().count() <= 80);
        let names: Vec<String> = (1..=5).map(|i| format!("[ ] FH-{i} Vanda")).collect();
        let lines = columns("  ", &names, 80);
        assert_eq!(lines.len(), 3);
        assert!(lines[0].contains("FH-1 Vanda") && lines[0].contains("FH-4 Vanda"));
        assert_eq!(columns("  ", &names, 40).len(), 5);
    }

    #[test]
    fn wraps_at_spaces() {
        let lines = wrap(60, "- ", "  ", &"word ".repeat(40));
        assert!(lines.len() > 1);
        assert!(lines.iter().all(|l| l.chars().count() <= 60));
        assert!(lines[1].starts_with("  word"));
    }
}
