//! How the times of a file are written, decided by all of them.

use crate::map::{Ambiguous, Nonexistent};
use crate::moment::{Clock, Written};
use jiff::civil::DateTime;
use serde::{Deserialize, Serialize};

/// Which of day and month is first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum DateOrder {
    /// 21/06/2026.
    DayFirst,
    /// 06/21/2026.
    MonthFirst,
    /// 26-06-21.
    YearFirst,
}

/// What decided a form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Why {
    /// No other form fits.
    Only,
    /// This time fits no other order.
    Value(String),
    /// In any other order the times would leap by a month.
    Course,
    /// Dates with points have the day first.
    Points,
    /// It was stated.
    Stated,
}

/// The form of times.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Form {
    Known {
        /// As a map states it; none for RFC 3339.
        format: Option<String>,
        /// Whether the times have no offset.
        local: bool,
        why: Why,
    },
    /// Two orders fit every time.
    Undecided { example: String },
    /// It is not a form that is known.
    Unknown,
}

/// Seconds since 1970 of the years 2000 and 2100.
const SECONDS: std::ops::Range<i64> = 946_684_800..4_102_444_800;
/// What the other order makes of a midnight: the shortest month, less the day that the clock shows.
const MONTH_D: i32 = 27;

/// Reads times by a format; none where it is no format.
fn read(format: Option<&str>, times: &[&str]) -> Option<Vec<Option<Written>>> {
    let clock = Clock::new(format, Some("UTC"), Ambiguous::ByOrder, Nonexistent::Shift).ok()?;
    Some(times.iter().map(|t| clock.read(t).ok()).collect())
}

fn count(read: &[Option<Written>]) -> usize {
    read.iter().flatten().count()
}

/// The form of times, in the order of the file.
pub(super) fn form(times: &[&str], stated: Option<DateOrder>) -> Form {
    let times: Vec<&str> =
        times.iter().copied().filter(|t| t.contains(|c: char| c.is_ascii_digit())).collect();
    // Some rows may be broken, but not most.
    let enough = |n: usize| n > 0 && n * 2 > times.len();
    let whole = |range: std::ops::Range<i64>| {
        times.iter().filter(|t| t.parse::<f64>().is_ok_and(|v| range.contains(&(v as i64)))).count()
    };
    for (format, range) in
        [("unix_s", SECONDS), ("unix_ms", SECONDS.start * 1000..SECONDS.end * 1000)]
    {
        if enough(whole(range)) {
            return Form::Known { format: Some(format.into()), local: false, why: Why::Only };
        }
    }
    if let Some(found) = read(None, &times)
        && enough(count(&found))
    {
        let local = found.iter().flatten().any(|w| matches!(w, Written::Local(_)));
        return Form::Known { format: None, local, why: Why::Only };
    }
    let mut fits: Vec<(String, DateOrder, Vec<Option<Written>>)> = Vec::new();
    for (pattern, order) in times.first().map(|t| patterns(t)).unwrap_or_default() {
        if let Some(found) = read(Some(&pattern), &times)
            && enough(count(&found))
        {
            fits.push((pattern, order, found));
        }
    }
    decided(&times, fits, stated)
}

fn decided(
    times: &[&str],
    mut fits: Vec<(String, DateOrder, Vec<Option<Written>>)>,
    stated: Option<DateOrder>,
) -> Form {
    let most = fits.iter().map(|(_, _, found)| count(found)).max().unwrap_or(0);
    let fewer = fits.iter().find(|(_, _, found)| count(found) < most).cloned();
    fits.retain(|(_, _, found)| count(found) == most);
    let known = |(pattern, _, found): &(String, DateOrder, Vec<Option<Written>>), why| {
        let local = found.iter().flatten().any(|w| matches!(w, Written::Local(_)));
        Form::Known { format: Some(pattern.clone()), local, why }
    };
    match fits.as_slice() {
        [] => return Form::Unknown,
        [one] => {
            // The first time that this order reads and the next best does not.
            let telling = fewer.and_then(|(_, _, other)| {
                times.iter().zip(one.2.iter().zip(&other)).find_map(|(t, (a, b))| {
                    (a.is_some() && b.is_none()).then(|| Why::Value((*t).to_owned()))
                })
            });
            return known(one, telling.unwrap_or(Why::Only));
        }
        _ => {}
    }
    let even: Vec<&(String, DateOrder, Vec<Option<Written>>)> =
        fits.iter().filter(|(_, _, found)| longest_step_d(found) < 1).collect();
    let leaps = fits.iter().filter(|(_, _, found)| longest_step_d(found) >= MONTH_D).count();
    if let [one] = even.as_slice()
        && leaps + 1 == fits.len()
    {
        return known(one, Why::Course);
    }
    if let Some(order) = stated
        && let Some(one) = fits.iter().find(|(_, o, _)| *o == order)
    {
        return known(one, Why::Stated);
    }
    let example = times.first().copied().unwrap_or_default();
    if let Some(one) =
        fits.iter().find(|(pattern, o, _)| *o == DateOrder::DayFirst && pattern.contains("%d.%m."))
    {
        return known(one, Why::Points);
    }
    Form::Undecided { example: example.to_owned() }
}

/// The longest step between neighbours, in whole days.
fn longest_step_d(found: &[Option<Written>]) -> i32 {
    let local = |w: &Written| match w {
        Written::Local(l) => *l,
        Written::Moment(t) => jiff::tz::TimeZone::UTC.to_datetime(*t),
    };
    let locals: Vec<DateTime> = found.iter().flatten().map(local).collect();
    locals
        .windows(2)
        .filter_map(|w| match w {
            [a, b] => Some(b.duration_since(*a).abs().as_hours() / 24),
            _ => None,
        })
        .max()
        .map_or(0, |d| i32::try_from(d).unwrap_or(i32::MAX))
}

/// The patterns of strftime that a time may be written by.
fn patterns(example: &str) -> Vec<(String, DateOrder)> {
    let Some((first, rest)) = split(example) else { return Vec::new() };
    let (date, between, clock, date_first) = if first.contains(':') {
        let date = rest.trim_start_matches([' ', ',']);
        (date, &rest[..rest.len() - date.len()], first, false)
    } else {
        let clock = rest.trim_start_matches([' ', ',', 'T', '-', ';']);
        (first, &rest[..rest.len() - clock.len()], clock, true)
    };
    let Some(clock) = clock_pattern(clock) else { return Vec::new() };
    date_patterns(date)
        .into_iter()
        .map(|(date, order)| {
            let pattern = if date_first {
                format!("{date}{between}{clock}")
            } else {
                format!("{clock}{between}{date}")
            };
            (pattern, order)
        })
        .collect()
}

/// The first part of a time, up to the space or letter before the other part.
fn split(text: &str) -> Option<(&str, &str)> {
    let colon = text.find(':')?;
    let before = text.get(..colon)?;
    // The hour begins after the last character that is not a digit.
    let hour = before.rfind(|c: char| !c.is_ascii_digit()).map_or(0, |i| {
        i + before.get(i..).and_then(|s| s.chars().next()).map_or(1, char::len_utf8)
    });
    if hour > 0 {
        let cut = before.get(..hour)?.trim_end_matches([' ', ',', 'T', '-', ';']).len();
        return Some(text.split_at(cut));
    }
    let end = text.find(' ')?;
    Some(text.split_at(end))
}

/// The pattern of a date, in every order that its form allows.
fn date_patterns(date: &str) -> Vec<(String, DateOrder)> {
    let parts: Vec<&str> = date.split(['.', '/', '-', ' ']).filter(|p| !p.is_empty()).collect();
    let separators: Vec<char> =
        date.chars().filter(|c| matches!(c, '.' | '/' | '-' | ' ')).collect();
    let digits = |p: &str| p.bytes().all(|b| b.is_ascii_digit());
    if parts.len() == 1 && date.len() == 8 && digits(date) {
        return vec![("%Y%m%d".into(), DateOrder::YearFirst)];
    }
    let ([a, b, c], [x, y]) = (parts.as_slice(), separators.as_slice()) else { return Vec::new() };
    let year = |p: &str| if p.len() == 4 { "%Y" } else { "%y" };
    let join = |a: &str, b: &str, c: &str| format!("{a}{x}{b}{y}{c}");
    if !digits(b) {
        let month = if b.chars().count() > 3 { "%B" } else { "%b" };
        return vec![(join("%d", month, year(c)), DateOrder::DayFirst)];
    }
    if !digits(a) || !digits(c) {
        return Vec::new();
    }
    if a.len() == 4 {
        return vec![(join("%Y", "%m", "%d"), DateOrder::YearFirst)];
    }
    let mut all = vec![
        (join("%d", "%m", year(c)), DateOrder::DayFirst),
        (join("%m", "%d", year(c)), DateOrder::MonthFirst),
    ];
    if c.len() <= 2 && a.len() == 2 {
        all.push((join("%y", "%m", "%d"), DateOrder::YearFirst));
    }
    all
}

/// The pattern of a time of day.
fn clock_pattern(clock: &str) -> Option<String> {
    let lower = clock.to_lowercase();
    let half = lower.contains("am") || lower.contains("pm");
    let digits_end =
        clock.find(|c: char| !(c.is_ascii_digit() || c == ':' || c == '.')).unwrap_or(clock.len());
    let (time, after) = clock.split_at(digits_end);
    let seconds = match time.matches(':').count() {
        1 => "",
        2 if time.contains('.') => ":%S%.f",
        2 => ":%S",
        _ => return None,
    };
    let hour = if half { "%I" } else { "%H" };
    let tail = match after.trim() {
        "" => "",
        a if half && matches!(a.to_lowercase().as_str(), "am" | "pm") => "%p",
        a if a.starts_with(['+', '-']) && a.contains(':') => "%:z",
        a if a.starts_with(['+', '-']) => "%z",
        _ => return None,
    };
    let space = if after.starts_with(' ') { " " } else { "" };
    Some(format!("{hour}:%M{seconds}{space}{tail}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn known(times: &[&str]) -> (String, bool, Why) {
        match form(times, None) {
            Form::Known { format, local, why } => (format.unwrap_or_default(), local, why),
            other => panic!("{times:?}: {other:?}"),
        }
    }

    #[test]
    fn the_usual_forms_are_told_apart() {
        for (time, format, local) in [
            ("2026-06-21T05:00:00+01:00", "", false),
            ("2026-06-21T05:00:00Z", "", false),
            ("2026-06-21 05:00", "", true),
            ("1782014400", "unix_s", false),
            ("1782014400.5", "unix_s", false),
            ("1782014400000", "unix_ms", false),
            ("21.06.2026 05:00", "%d.%m.%Y %H:%M", true),
            ("06/21/26 05:00:30 PM", "%m/%d/%y %I:%M:%S %p", true),
            ("21-Jun-2026 05:00:00", "%d-%b-%Y %H:%M:%S", true),
            ("05:00 21/06/2026", "%H:%M %d/%m/%Y", true),
            ("2026/06/21 05:00", "%Y/%m/%d %H:%M", true),
            ("20260621 05:00", "", true),
            ("21/06/2026 05:00 +0100", "%d/%m/%Y %H:%M %z", false),
        ] {
            let (found, without, _) = known(&[time]);
            assert_eq!((found.as_str(), without), (format, local), "{time}");
        }
        for text in ["yesterday 5", "45000.25", "noon", "05:00"] {
            assert_eq!(form(&[text], None), Form::Unknown, "{text}");
        }
    }

    #[test]
    fn one_value_or_one_midnight_decides_the_order_and_nothing_else_does() {
        let (format, _, why) = known(&["05/06/2026 05:00", "05/06/2026 06:00", "13/06/2026 05:00"]);
        assert_eq!(format, "%d/%m/%Y %H:%M");
        assert_eq!(why, Why::Value("13/06/2026 05:00".into()));
        let (format, _, why) = known(&["05/06/2026 23:50", "05/07/2026 00:00"]);
        assert_eq!((format.as_str(), why), ("%m/%d/%Y %H:%M", Why::Course));
        // From 2 to 3 March; with the day first a February less a day would be between.
        let (format, ..) = known(&["03/02/2026 23:50", "03/03/2026 00:00"]);
        assert_eq!(format, "%m/%d/%Y %H:%M");
        let one_day = ["05/06/2026 05:00", "05/06/2026 06:00"];
        assert!(matches!(form(&one_day, None), Form::Undecided { .. }));
        let stated = form(&one_day, Some(DateOrder::MonthFirst));
        assert!(matches!(stated, Form::Known { why: Why::Stated, .. }), "{stated:?}");
        // What is stated does not overrule the values.
        let (format, ..) = match form(&["13/06/2026 05:00"], Some(DateOrder::MonthFirst)) {
            Form::Known { format, local, why } => (format.unwrap_or_default(), local, why),
            other => panic!("{other:?}"),
        };
        assert_eq!(format, "%d/%m/%Y %H:%M");
    }
}
