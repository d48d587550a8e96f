//! What a map read, in lines.

use crate::print::{Out, text};
use guardcell_conditions::Report;
use guardcell_conditions::report::{AreaReport, Effect, Issue};

/// How much there is, and how much is not.
pub(crate) fn kept(r: &Report) -> String {
    let readings = text::count(r.readings_kept, "reading", "readings");
    if r.readings_dropped == 0 {
        return readings;
    }
    format!("{readings}, {} dropped", r.readings_dropped)
}

pub(crate) fn section<T>(
    title: &str,
    out: &mut Out,
    items: &[T],
    says: impl Fn(&T) -> Option<String>,
) {
    let lines: Vec<String> = items.iter().filter_map(says).collect();
    if lines.is_empty() {
        return;
    }
    out.line("");
    out.line(title);
    for line in lines {
        out.item("  - ", &line);
    }
}

pub(crate) fn area(a: &AreaReport, out: &mut Out) {
    let name = a.area.as_deref().unwrap_or("every area");
    let step = a.step_min.map_or(String::new(), |m| format!(", every {}", text::minutes(m)));
    out.line(format!("{name}: {}{step}", text::count(a.readings, "reading", "readings")));
    if a.readings > 1 {
        out.line(format!("  from    {}", text::span(&a.from, &a.to)));
    }
    if let (Some(newest), Some(age)) = (&a.newest, a.newest_age_h) {
        let stale = if a.stale { ": stale" } else { "" };
        out.line(format!(
            "  newest  {}, {} old{stale}",
            text::day_and_time(newest),
            text::minutes(age * 60.0)
        ));
    } else if a.stale {
        out.line("  newest  none: the forecast has run out");
    }
    if a.forecast > 0 {
        out.line(format!("  of which a forecast: {}", a.forecast));
    }
    for g in &a.gaps {
        let effect = if g.bridged { "bridged" } else { "not bridged: no advice for that time" };
        let long = text::minutes(g.hours * 60.0);
        out.line(format!("  gap     {} ({long}, {effect})", text::span(&g.from, &g.to)));
    }
    for q in &a.quantities {
        let n = |v: f64| text::significant(v, 3);
        let some = if q.count < a.readings {
            format!(" (in {} of {} readings)", q.count, a.readings)
        } else {
            String::new()
        };
        let values = if q.count > 1 {
            format!("{} to {} {}, median {}", n(q.lowest), n(q.highest), q.unit, n(q.median))
        } else {
            format!("{} {}", n(q.median), q.unit)
        };
        out.line(format!("  {:<18} {values}{some}", q.quantity.words()));
    }
}

pub(crate) fn issue(i: &Issue) -> String {
    let effect = match i.effect {
        Effect::Dropped => " Dropped.",
        Effect::LeftOut => " Left out.",
        // The words say how it was taken.
        Effect::Adjusted | Effect::Noted => "",
    };
    /// More places are for --json.
    const MOST: usize = 12;
    let mut places: Vec<&str> = i.places.iter().take(MOST).map(String::as_str).collect();
    if i.places.len() > MOST {
        places.push("… (all with --json)");
    }
    let number =
        if i.count > 1 { format!("{} in all; the first: ", i.count) } else { String::new() };
    format!("{}: {number}{}.{effect}", places.join(", "), i.message)
}
