//! `history threshold`: the residue threshold that was learned, and the next strength.

use super::{Past, share};
use crate::args::{History, HistoryThreshold};
use crate::error::argument;
use crate::print::{Out, file, text};
use crate::verbs::journal::open;
use guardcell::Error;
use guardcell::ledger::threshold::words;
use guardcell::ledger::{Evidence, Influence, Level, ThresholdResponse, threshold_of_entries};
use guardcell::reference::parameters::journal;

pub(crate) fn run(
    args: &HistoryThreshold,
    history: &History,
    past: &Past,
    out: &mut Out,
) -> Result<(), Error> {
    if let Some(id) = history.plant.iter().chain(&history.plants).next() {
        return Err(argument(
            "--plant",
            format!("{id:?} has no threshold of its own"),
            "ask for that of the site, or of a --group of plants",
        ));
    }
    let interval_share = args.interval.as_deref().map(|t| share("--interval", t)).transpose()?;
    let answer = threshold_of_entries(&past.request, args.group.as_deref(), interval_share, true)
        .map_err(open::fault)?;
    if let Some(group) = args.group.as_ref().filter(|_| answer.evidence.is_empty()) {
        let known = groups(past)?;
        return Err(argument(
            "--group",
            format!("no usable look names the group {group:?}"),
            if known.is_empty() {
                "looks name one with `log residue --group`".to_owned()
            } else {
                format!("groups with looks are {}", known.join(", "))
            },
        ));
    }
    if let Some(path) = &history.svg {
        file::write(path, &answer.to_svg())?;
    }
    if out.json() {
        return out.value(&answer);
    }
    print(&answer, out);
    Ok(())
}

fn groups(past: &Past) -> Result<Vec<String>, Error> {
    let site = threshold_of_entries(&past.request, None, None, false).map_err(open::fault)?;
    let mut names: Vec<String> =
        site.evidence.into_iter().filter_map(|e| e.observation.group).collect();
    names.sort();
    names.dedup();
    Ok(names)
}

fn print(a: &ThresholdResponse, out: &mut Out) {
    let of = a.group.as_ref().map_or_else(|| "the site".to_owned(), |g| format!("the group {g}"));
    out.line(format!("The residue threshold of {of}: the residue at which you begin to see white"));
    out.line("");
    let percent = a.interval_share * 100.0;
    for (word, e) in [("before", a.prior), ("now", a.posterior)] {
        out.line(format!(
            "  {word:<7} {} g/m², {percent:.0} % between {} and {} g/m²",
            text::significant(e.median_g_m2, 2),
            text::significant(e.low_g_m2, 2),
            text::significant(e.high_g_m2, 2)
        ));
    }
    if a.at_least {
        out.wrapped("  ", "No white was seen lately: it is at least the lower end.");
    }
    out.line("");
    evidence(&a.evidence, out);
    if !a.not_used.is_empty() {
        out.line(format!("NOT USED  {}", text::count(a.not_used.len(), "look", "looks")));
        for n in &a.not_used {
            out.item("  - ", &format!("{}: {}", n.entry, n.why));
        }
    }
    out.line("");
    out.line("NEXT STRENGTH");
    next(a, out);
}

const NOTHING_LEARNED: &str = "Nobody has looked for white yet, so nothing is learned: the advice \
    for the day decides the strength.";

fn next(a: &ThresholdResponse, out: &mut Out) {
    match &a.next {
        Some(next) => out.wrapped("  ", &words::proposal(next)),
        None => out.wrapped("  ", NOTHING_LEARNED),
    }
    for remark in words::remarks(a) {
        out.wrapped("  ", &remark);
    }
    let least = journal::GROUP_REPORTS_LEAST.number();
    if a.group.is_some() && (a.evidence.len() as f64) < least {
        let few = format!(
            "The group has fewer than {least:.0} looks: advice and `guardcell history PLANT` use \
             the strength of the site until then."
        );
        out.wrapped("  ", &few);
    }
    out.wrapped(
        "  ",
        "Weaker plants get less: `guardcell history PLANT` says how much. On a dry day `guardcell \
         advise --journal` may go below this strength, never above it.",
    );
}

/// Looks that moved the median by at least this much, in %, are listed one by one.
const TOLD: f64 = 2.0;
/// And no more of them than this; all are in the JSON and in the picture.
const TOLD_MOST: usize = 12;

/// The looks: how many of which kind, then those that counted.
fn evidence(looks: &[Evidence], out: &mut Out) {
    out.line(format!("EVIDENCE  {}", text::count(looks.len(), "look", "looks")));
    for level in Level::ALL {
        let residues: Vec<f64> = looks
            .iter()
            .filter(|e| e.observation.level == *level)
            .filter_map(|e| e.observation.whiteness_g_m2())
            .collect();
        let low = residues.iter().copied().fold(f64::INFINITY, f64::min);
        let high = residues.iter().copied().fold(0.0, f64::max);
        if !residues.is_empty() {
            let (low, high) = (text::significant(low, 2), text::significant(high, 2));
            let span = if low == high { low } else { format!("{low} to {high}") };
            out.line(format!(
                "  {:>4} {:<6} at a modelled {span} g/m²",
                residues.len(),
                level.word(),
            ));
        }
    }
    let told: Vec<(&Evidence, Influence)> = looks
        .iter()
        .filter_map(|e| e.influence.map(|i| (e, i)))
        .filter(|(_, i)| i.pull_percent.abs() >= TOLD || i.odd_day > 0.5)
        .collect();
    if told.is_empty() {
        return;
    }
    let first = told.len().saturating_sub(TOLD_MOST);
    out.line(if first > 0 {
        "  those that counted, the last of them:"
    } else {
        "  those that counted:"
    });
    for (e, influence) in told.into_iter().skip(first) {
        let o = &e.observation;
        let when = o.at.as_deref().map_or_else(String::new, text::day_and_year);
        let group = o.group.as_ref().map_or_else(String::new, |g| format!(", {g}"));
        let odd = if influence.odd_day > 0.5 {
            format!("; the day was probably not as modelled ({:.0} %)", influence.odd_day * 100.0)
        } else {
            String::new()
        };
        out.item(
            "  - ",
            &format!(
                "{when}{group}: {} at a modelled {} g/m², {}{odd}",
                o.level.word(),
                text::significant(o.whiteness_g_m2().unwrap_or(0.0), 2),
                pull(influence.pull_percent)
            ),
        );
    }
}

fn pull(percent: f64) -> String {
    if percent.abs() < 0.5 {
        "hardly moved it".into()
    } else if percent > 0.0 {
        format!("moved it up by {percent:.0} %")
    } else {
        format!("moved it down by {:.0} %", -percent)
    }
}

/// The threshold in one sentence.
pub(crate) fn sentence(a: &ThresholdResponse) -> String {
    let of = a.group.as_ref().map_or_else(|| "this site".to_owned(), |g| format!("the group {g}"));
    let n = |v: f64| text::significant(v, 2);
    if a.evidence.is_empty() {
        return format!(
            "No look tells about the residue threshold of {of} yet: the shipped {} g/m² is used.",
            n(a.prior.median_g_m2)
        );
    }
    format!(
        "The residue threshold of {of} is {} g/m² ({:.0} % between {} and {}), learned from {}; \
         {} it was {}.",
        n(a.posterior.median_g_m2),
        a.interval_share * 100.0,
        n(a.posterior.low_g_m2),
        n(a.posterior.high_g_m2),
        text::count(a.evidence.len(), "look", "looks"),
        if a.group.is_some() { "before those" } else { "as shipped" },
        n(a.prior.median_g_m2)
    )
}

/// The threshold below the overview.
pub(crate) fn brief(past: &Past, out: &mut Out) -> Result<(), Error> {
    let answer = threshold_of_entries(&past.request, None, None, false).map_err(open::fault)?;
    out.wrapped("", &sentence(&answer));
    if let Some(next) = &answer.next {
        out.wrapped("", &words::proposal(next));
    }
    for remark in words::remarks(&answer) {
        out.wrapped("", &remark);
    }
    Ok(())
}
