//! Today on one screen: at most 24 lines of 80 columns, however many plants there are.

use crate::print::{Out, bucket, short, text};
use guardcell::advice::ReasonCode;
use guardcell::advice::round::{Alone, Bucket, RoundResponse, RoundStep, Sitting};

/// Lines of the screen of a plain terminal.
const LINES: usize = 24;
/// Its columns.
const COLUMNS: usize = 80;
/// The heading of a part, and what is under it.
const INDENT: usize = 7;

/// A part of the screen: a heading, lines, and how many of them must stay.
struct Part {
    heading: &'static str,
    lines: Vec<String>,
    /// Lines that stay however full the screen is.
    least: usize,
    /// What follows where lines had to go, with their number; blank where that is not said.
    more: &'static str,
}

impl Part {
    fn new(heading: &'static str, lines: Vec<String>, least: usize, more: &'static str) -> Self {
        let lines = lines.iter().map(|line| text::clipped(line, COLUMNS - INDENT)).collect();
        Self { heading, lines, least, more }
    }

    fn height(&self, shown: usize) -> usize {
        shown + usize::from(!self.more.is_empty() && shown < self.lines.len())
    }
}

/// A line of the screen: a heading or room for one, and text; blank where both are.
#[derive(Debug, Clone, Default, PartialEq)]
struct Line {
    heading: &'static str,
    text: String,
}

/// Beside the plan, in lines.
#[derive(Debug, Default)]
pub(crate) struct Beside {
    /// Tasks that are due.
    pub(crate) due: Vec<String>,
    /// What is to be known besides.
    pub(crate) notes: Vec<String>,
    /// The turn of the rota, where the site has one.
    pub(crate) turn: Option<String>,
}

/// Prints the plan, and what else is due.
pub(crate) fn print(plan: &RoundResponse, beside: Beside, out: &mut Out) {
    let Beside { due, mut notes, turn } = beside;
    notes.extend(assumed(plan));
    let mut parts = Vec::new();
    let mut sittings = plan.sittings.iter();
    match sittings.next() {
        Some(first) => parts.push(Part::new("NEXT", next(first), 4, "more strengths")),
        None => {
            let nothing = vec!["nothing to spray in the time looked at".to_owned()];
            parts.push(Part::new("NEXT", nothing, 1, ""));
        }
    }
    parts.push(Part::new("FEED", turn.iter().flat_map(|t| two_lines("", t)).collect(), 2, ""));
    parts.push(Part::new("THEN", sittings.map(later).collect(), 1, "more sittings"));
    if let Some(bucket) = &plan.bucket {
        let lines = mix(bucket);
        let least = lines.len();
        parts.push(Part::new("MIX", lines, least, ""));
    }
    let left = short::groups(&plan.alone)
        .iter()
        .map(|g| format!("{} ({})", g.says(), g.ids.join(", ")))
        .collect();
    parts.push(Part::new("LEFT", left, 3, "more reasons"));
    parts.push(Part::new("COULD", possible(&plan.alone), 2, ""));
    parts.push(Part::new("DUE", due, 2, "more"));
    let least = notes.len().min(2);
    parts.push(Part::new("NOTE", notes, least, ""));
    let heading = format!("{}, {}", plan.site, text::day_and_time(&plan.from));
    let footer = "Sheet: guardcell round   Why: guardcell advise --plant ID   Done: guardcell log";
    out.headed(&text::clipped(&heading, COLUMNS), "");
    for line in fitted(&parts, LINES - 2) {
        let indent = if line.text.is_empty() { 0 } else { INDENT };
        out.headed(&format!("{:<indent$}", line.heading), &line.text);
    }
    out.line(text::clipped(footer, COLUMNS));
}

/// What stands in the way of a plan, and how to add what is missing: one or two lines each.
pub(crate) fn unplanned(detail: &str, to_do: &[String], out: &mut Out) {
    let mut lines = text::wrap(COLUMNS, "Nothing is planned yet: ", "  ", detail);
    lines.push(String::new());
    for item in to_do {
        lines.extend(text::wrap(COLUMNS, "  - ", "    ", item));
    }
    let all = lines.len();
    lines.truncate(LINES - 3);
    let cut = all - lines.len();
    for line in &lines {
        out.line(line);
    }
    if cut > 0 {
        out.line(format!("    and {cut} more lines"));
    }
    out.line("");
    out.line("guardcell check reads the whole folder.");
}

/// The lines of all parts, with as many of each as there is room for, parts apart where there is
/// room for that.
fn fitted(parts: &[Part], room: usize) -> Vec<Line> {
    let parts: Vec<&Part> = parts.iter().filter(|p| !p.lines.is_empty()).collect();
    let mut shown: Vec<usize> = parts.iter().map(|p| p.lines.len()).collect();
    let height =
        |shown: &[usize]| -> usize { parts.iter().zip(shown).map(|(p, n)| p.height(*n)).sum() };
    while height(&shown) > room {
        // The part with most lines above its least gives one up; the line that says how many are
        // left takes the place of one.
        let spare = shown.iter_mut().zip(&parts).map(|(n, p)| (n.saturating_sub(p.least), n));
        match spare.max_by_key(|(spare, _)| *spare) {
            Some((1.., n)) => *n -= 1,
            _ => break,
        }
    }
    let apart = height(&shown) + parts.len() < room;
    let mut out = Vec::new();
    for (part, n) in parts.iter().zip(&shown) {
        if apart {
            out.push(Line::default());
        }
        for (i, text) in part.lines.iter().take(*n).enumerate() {
            let heading = if i == 0 { part.heading } else { "" };
            out.push(Line { heading, text: text.clone() });
        }
        let left = part.lines.len() - n;
        if left > 0 && !part.more.is_empty() {
            out.push(Line { heading: "", text: format!("and {left} {}", part.more) });
        }
    }
    if apart {
        out.push(Line::default());
    }
    out.truncate(room);
    out
}

/// The next sitting: when, how long, and each strength with its plants.
fn next(s: &Sitting) -> Vec<String> {
    let part = s.part_of_day.replace('-', " ");
    let head = format!(
        "{part}, {}: {}, about {}",
        text::span(&s.start, &s.end),
        plants(s),
        text::minutes(s.minutes)
    );
    std::iter::once(head).chain(s.steps.iter().map(strength)).collect()
}

/// `9 plants`.
pub(crate) fn plants(s: &Sitting) -> String {
    let n = s.steps.iter().flat_map(|s| &s.groups).map(|g| g.plants.len()).sum();
    text::count(n, "plant", "plants")
}

/// `300 mg/L 2 times, 420 mL: FH-001, FH-002`.
pub(crate) fn strength(step: &RoundStep) -> String {
    let what = if step.feed_strength_mg_l > 0.0 {
        format!("{:.0} mg/L", step.feed_strength_mg_l)
    } else {
        "plain water".to_owned()
    };
    let passes = if step.passes > 1 { format!(" {} times", step.passes) } else { String::new() };
    let ids: Vec<&str> =
        step.groups.iter().flat_map(|g| &g.plants).map(|p| p.id.as_str()).collect();
    format!("{what}{passes}, {}: {}", text::ml(step.spray_ml), ids.join(", "))
}

fn later(s: &Sitting) -> String {
    let strengths: Vec<String> = s
        .steps
        .iter()
        .map(|s| match s.feed_strength_mg_l {
            v if v > 0.0 => format!("{v:.0}"),
            _ => "water".to_owned(),
        })
        .collect();
    let water_alone = s.steps.iter().all(|s| s.feed_strength_mg_l <= 0.0);
    let unit = if water_alone { "" } else { " mg/L" };
    format!(
        "{}: {} ({}{unit}), {}",
        text::span(&s.start, &s.end),
        plants(s),
        strengths.join(", "),
        text::minutes(s.minutes)
    )
}

/// What to weigh into how much water, and what a meter then reads.
pub(crate) fn mix(b: &Bucket) -> Vec<String> {
    let (error, water) = (bucket::error(b), bucket::water(b));
    let mut lines = match &b.stock {
        Some(s) => vec![
            format!("stock: {}", bucket::stock(s, &b.product)),
            format!("{} of it{error}, filled up to {water}", bucket::drawn(s)),
        ],
        None => {
            let amount = bucket::amount(b.mass_g, b.volume_ml, &b.product);
            vec![format!("{amount}{error} in {water} of water")]
        }
    };
    lines.extend(bucket::beside(b).map(|beside| text::clipped(&beside, COLUMNS - INDENT)));
    lines.push(format!(
        "{:.0} mg/L = {}, meter {}",
        b.feed_strength_mg_l,
        bucket::nitrogen(b),
        bucket::meter(&b.ec25_us_cm)
    ));
    lines
}

/// From when on the air is assumed, in the area where the readings end first.
fn assumed(plan: &RoundResponse) -> Option<String> {
    let last = plan
        .cautions
        .iter()
        .filter(|c| c.code == ReasonCode::AirAssumed.as_str())
        .filter_map(|c| c.inputs.get("last_reading")?.as_str())
        .min_by_key(|text| text::local(text).map(|t| t.timestamp()))?;
    Some(format!("air after {} is assumed: ask again before spraying", text::day_and_time(last)))
}

/// What would make feeding possible, for most plants first.
fn possible(alone: &[Alone]) -> Vec<String> {
    let mut found: Vec<(&str, usize)> = Vec::new();
    for a in alone {
        let Some(change) = a.changes.first() else { continue };
        match found.iter_mut().find(|(c, _)| c == change) {
            Some((_, n)) => *n += a.plants.len(),
            None => found.push((change, a.plants.len())),
        }
    }
    found.sort_by_key(|(_, n)| std::cmp::Reverse(*n));
    found
        .iter()
        .take(2)
        .flat_map(|(change, n)| {
            let first = format!("{}: ", text::count(*n, "plant", "plants"));
            two_lines(&first, change)
        })
        .collect()
}

/// A sentence on at most two lines.
fn two_lines(first: &str, sentence: &str) -> Vec<String> {
    let width = COLUMNS - INDENT;
    let lines = text::wrap(width, first, "  ", sentence);
    match lines.as_slice() {
        [a, b, rest @ ..] if !rest.is_empty() => {
            let rest = format!("{b} {}", rest.join(" "));
            vec![a.clone(), text::clipped(&rest, width)]
        }
        _ => lines,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(lines: usize, least: usize) -> Part {
        Part::new("PART", (0..lines).map(|i| i.to_string()).collect(), least, "more")
    }

    #[test]
    fn a_full_screen_says_how_much_is_left_out() {
        let lines = fitted(&[part(30, 3), part(3, 3), part(0, 0)], 20);
        assert_eq!(lines.len(), 20);
        assert!(lines.iter().any(|l| l.text == "and 14 more"), "{lines:?}");
        assert_eq!(lines.iter().filter(|l| l.heading == "PART").count(), 2);
    }

    #[test]
    fn a_short_screen_has_room_between_its_parts() {
        let lines = fitted(&[part(2, 1), part(1, 1)], 22);
        let lines: Vec<_> = lines.iter().map(|l| (l.heading, l.text.as_str())).collect();
        assert_eq!(lines, [("", ""), ("PART", "0"), ("", "1"), ("", ""), ("PART", "0"), ("", "")]);
    }
}
