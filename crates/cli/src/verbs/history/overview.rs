//! Every plant in one line, and what is due.

use super::{Past, threshold};
use crate::print::{Out, text};
use guardcell::Error;
use guardcell::ledger::{Ledger, Level, PlantLedger, PlantWeek};

pub(crate) fn print(books: &Ledger, past: &Past, out: &mut Out) -> Result<(), Error> {
    let weeks = books.plants.first().map_or(0, |p| p.weeks.len());
    out.line(format!(
        "{} to {}, {}",
        books.from,
        text::day_and_year(&books.at),
        text::count(weeks, "week", "weeks")
    ));
    out.line("");
    if books.plants.is_empty() {
        out.line("The journal names no plant yet.");
        return Ok(());
    }
    out.line("                                              mg of feed a week           worst");
    out.line("plant                           last fed      leaf    root  ceiling  residue  next");
    let first = first_week(books);
    for p in &books.plants {
        out.line(line(p, first));
    }
    out.line("");
    let today = books.at.get(..10).unwrap_or(&books.at);
    due(books, today, out);
    threshold::brief(past, out)
}

fn line(p: &PlantLedger, first: usize) -> String {
    let title: String = p.title().chars().take(30).collect();
    let last = match p.days_since_fed {
        None => "never".to_owned(),
        Some(0) => "today".to_owned(),
        Some(n) => format!("{} ago", text::count(n.unsigned_abs() as usize, "day", "days")),
    };
    let ceiling = p
        .weeks
        .iter()
        .find_map(|w| w.ceiling_mg)
        .map_or_else(|| "-".to_owned(), |c| text::significant(c, 3));
    let worst = p.weeks.iter().filter_map(|w| w.residue).max().map_or("-", Level::word);
    let next = match (&p.lost, &p.next_due) {
        (Some(lost), _) => format!("lost {}", lost.get(..10).unwrap_or(lost)),
        (None, Some(due)) => due.clone(),
        (None, None) => "-".to_owned(),
    };
    format!(
        "{title:<30}  {last:<12}{:>7} {:>7} {ceiling:>8}  {worst:<7}  {next}",
        mean(p, first, |w| w.leaf_mg),
        mean(p, first, |w| w.root_mg),
    )
}

/// The first week in which any plant got something: weeks before the records began are no weeks
/// without feed.
fn first_week(books: &Ledger) -> usize {
    let got = |w: &PlantWeek| w.rounds + w.root_feeds + w.soaks + w.flushes > 0;
    books.plants.iter().filter_map(|p| p.weeks.iter().position(got)).min().unwrap_or(0)
}

/// The mean over the weeks on record that are over, or over the one there is.
fn mean(p: &PlantLedger, first: usize, f: fn(&PlantWeek) -> f64) -> String {
    let weeks = p.weeks.get(first..).unwrap_or_default();
    let over = if weeks.len() > 1 { weeks.len() - 1 } else { weeks.len() };
    let sum: f64 = weeks.iter().take(over).map(f).sum();
    text::significant(sum / over.max(1) as f64, 2)
}

fn due(books: &Ledger, today: &str, out: &mut Out) {
    let mut lines: Vec<(&str, Vec<&str>)> = Vec::new();
    let living = || books.plants.iter().filter(|p| p.lost.is_none());
    let flush: Vec<&str> = living()
        .filter(|p| p.flush_due.as_deref().is_some_and(|d| d <= today))
        .map(|p| p.id.as_str())
        .collect();
    let over: Vec<&str> = living()
        .filter(|p| p.weeks.last().is_some_and(|w| w.ceiling_mg.is_some_and(|c| w.total_mg() > c)))
        .map(|p| p.id.as_str())
        .collect();
    let often: Vec<&str> = living()
        .filter(|p| p.warnings.iter().any(|w| w.code == "fed-recently"))
        .map(|p| p.id.as_str())
        .collect();
    lines.push(("Flush with plain water, due now", flush));
    lines.push(("No more feed this week, the pot is over its ceiling", over));
    lines.push(("Fed more often than practice has it", often));
    let mut any = false;
    for (what, ids) in lines.iter().filter(|(_, ids)| !ids.is_empty()) {
        any = true;
        out.item(&format!("{what}: "), &ids.join(", "));
    }
    if !any {
        out.line("No flush is due, no pot is over its ceiling, no plant was fed too often.");
    }
}
