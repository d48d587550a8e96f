//! `history threshold`: the residue threshold that was learned, and the next strength.

use super::{Past, share};
use crate::args::{History, HistoryThreshold};
use crate::error::argument;
use crate::print::{Out, file, text};
use crate::verbs::journal::open;
use guardcell::Error;
use guardcell::reference::parameters::practice;
use guardcell_journal::{
    Evidence, Level, NextStrengthRequest, ThresholdAnswer, ThresholdRequest, Usual,
    learn_threshold, observations, usual,
};

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
    let day = usual(&past.entries, None, &past.at).map_err(open::fault)?;
    let answer = learn(past, args.group.clone(), interval_share, day.as_ref())?;
    if let Some(group) = args.group.as_ref().filter(|_| answer.evidence.is_empty()) {
        let known: Vec<String> = groups(past);
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
    print(&answer, day.as_ref(), out);
    Ok(())
}

fn groups(past: &Past) -> Vec<String> {
    let Ok((seen, _)) = observations(&past.entries) else { return Vec::new() };
    let mut names: Vec<String> = seen.into_iter().filter_map(|o| o.group).collect();
    names.sort();
    names.dedup();
    names
}

fn learn(
    past: &Past,
    group: Option<String>,
    interval_share: Option<f64>,
    day: Option<&Usual>,
) -> Result<ThresholdAnswer, Error> {
    let (observations, not_used) = observations(&past.entries).map_err(open::fault)?;
    let next = day.map(|d| NextStrengthRequest {
        residue_g_m2_per_mg_l: d.residue_g_m2_per_mg_l,
        residue_without_feed_g_m2: d.residue_without_feed_g_m2,
        residue_log_sd: Some(d.residue_log_sd),
        tolerance: past.tolerance,
        cap_mg_l: Some(practice::STRENGTH_ESTABLISHED.value),
        present_mg_l: Some(d.feed_strength_mg_l),
        odd_days: Some(false),
    });
    learn_threshold(&ThresholdRequest {
        observations,
        not_used,
        group,
        interval_share,
        next,
        ..ThresholdRequest::default()
    })
    .map_err(open::fault)
}

fn print(a: &ThresholdAnswer, day: Option<&Usual>, out: &mut Out) {
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
    let (Some(next), Some(day)) = (&a.next, day) else {
        out.wrapped(
            "  ",
            "No recent round has a modelled residue, so there is no usual day to reckon with. \
             Rounds that are logged from a plan have one.",
        );
        return;
    };
    let chance = |p: f64| if p < 0.01 { "under 1 %".into() } else { format!("{:.0} %", p * 100.0) };
    out.wrapped(
        "  ",
        &match next.feed_strength_mg_l {
            Some(s) => format!(
                "On a day like the middle one of the last {}, if it turns out as modelled: {s:.0} \
                 mg/L of dissolved feed has a chance of visible residue of {}, {} is accepted{}.",
                text::count(day.rounds, "round", "rounds"),
                chance(next.probability),
                chance(next.tolerance),
                if next.capped {
                    "; practice gives established plants no more, the residue would allow it"
                } else {
                    ""
                }
            ),
            None => format!(
                "On a day like the middle one of the last {} no strength is within the accepted \
                 {}: even the least useful one has a chance of {}, water alone {}.",
                text::count(day.rounds, "round", "rounds"),
                chance(next.tolerance),
                chance(next.probability),
                chance(next.probability_without_feed)
            ),
        },
    );
    out.wrapped(
        "  ",
        "Weaker plants get less: `guardcell history PLANT` says how much. A dry day gets less \
         too: `guardcell advise --journal` reckons with the day itself.",
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
            .map(|e| e.observation.residue_g_m2)
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
    let told: Vec<&Evidence> =
        looks.iter().filter(|e| e.pull_percent.abs() >= TOLD || e.odd_day > 0.5).collect();
    if told.is_empty() {
        return;
    }
    let first = told.len().saturating_sub(TOLD_MOST);
    out.line(if first > 0 {
        "  those that counted, the last of them:"
    } else {
        "  those that counted:"
    });
    for e in told.into_iter().skip(first) {
        let o = &e.observation;
        let when = o.at.as_deref().map_or_else(String::new, text::day_and_year);
        let group = o.group.as_ref().map_or_else(String::new, |g| format!(", {g}"));
        let odd = if e.odd_day > 0.5 {
            format!("; the day was probably not as modelled ({:.0} %)", e.odd_day * 100.0)
        } else {
            String::new()
        };
        out.item(
            "  - ",
            &format!(
                "{when}{group}: {} at a modelled {} g/m², {}{odd}",
                o.level.word(),
                text::significant(o.residue_g_m2, 2),
                pull(e.pull_percent)
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
pub(crate) fn sentence(a: &ThresholdAnswer) -> String {
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
    let answer = learn(past, None, None, None)?;
    out.wrapped("", &sentence(&answer));
    Ok(())
}
