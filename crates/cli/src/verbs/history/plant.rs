//! One plant: what it got, whether its strength is right, what to change this week.

use super::threshold;
use crate::print::{Out, growth, short, text};
use guardcell::ledger::threshold::words;
use guardcell::ledger::{
    Finding, Level, PlantLedger, PlantReview, PlantWeek, ProductGiven, ReviewResponse,
    ThresholdResponse,
};

pub(crate) fn print(r: &PlantReview, all: &ReviewResponse, out: &mut Out) {
    let p = &r.account;
    out.line(format!("{}, looked back from {}", p.title(), text::day_and_year(&all.at)));
    out.line("");
    out.line("WHAT IT GOT");
    got(p, out);
    out.line("");
    out.line("IS THE STRENGTH RIGHT");
    let word = match r.finding {
        Finding::Right => "Yes. ",
        Finding::TooStrong => "No, it is too strong. ",
        Finding::RoomForMore => "It is safe, and there is room. ",
        _ => "",
    };
    out.wrapped("  ", &format!("{word}{}", r.strength_says.join(" ")));
    let seen: Vec<String> = Level::ALL
        .iter()
        .zip(r.looks)
        .filter(|(_, n)| *n > 0)
        .map(|(level, n)| format!("{n} {}", level.word()))
        .collect();
    let looks = r.looks.iter().sum::<u32>() as usize;
    out.wrapped(
        "  ",
        &match &r.last_look {
            None => "Nobody has looked for residue on it yet.".to_owned(),
            Some(last) if looks == 0 => {
                format!("The last look for residue on it was {}.", text::day_and_year(last))
            }
            Some(last) => format!(
                "{} for residue on its leaves: {}; the last {}.",
                text::count(looks, "look", "looks"),
                seen.join(", "),
                text::day_and_time(last)
            ),
        },
    );
    let own = |t: &&ThresholdResponse| t.group == r.group;
    let learned = all.groups.iter().find(own).unwrap_or(&all.site);
    out.wrapped("  ", &threshold::sentence(learned));
    for remark in words::remarks(learned) {
        out.wrapped("  ", &remark);
    }
    if !p.growth.is_empty() || !p.signs.is_empty() || !p.photos.is_empty() {
        out.line("");
        out.line("HOW IT GROWS");
        for line in growth::lines(p) {
            out.wrapped("  ", &line);
        }
    }
    out.line("");
    out.line("WHAT TO CHANGE THIS WEEK");
    if r.change.is_empty() {
        out.line("  Nothing.");
    }
    for c in &r.change {
        out.item("  - ", c);
    }
}

fn got(p: &PlantLedger, out: &mut Out) {
    out.line("  week of         feeds  leaf mg  root mg   mg N  ceiling  residue");
    for w in &p.weeks {
        out.line(week(w));
    }
    let mut notes = Vec::new();
    if p.weeks.iter().any(|w| w.root_stated) {
        notes.push("* the weekly amount stated in the collection, for want of entries");
    }
    if p.weeks.iter().any(|w| w.without_volume > 0) {
        notes.push("+ a feed of unknown volume is in no sum");
    }
    for n in notes {
        out.line(format!("  {n}"));
    }
    let since = if p.last_flush.is_some() {
        format!(", {} mg since the last flush", text::significant(p.given_since_flush_mg, 3))
    } else {
        String::new()
    };
    let mut facts = vec![format!(
        "{} mg of feed in this time through leaf and root{since}.",
        text::significant(p.given_mg, 3)
    )];
    if let (Some(last), Some(days)) = (&p.last_fed, p.days_since_fed) {
        facts.push(format!("Last fed {}, {}.", moment(last), ago(days)));
    }
    if let (Some(last), Some(days)) = (&p.last_flush, p.days_since_flush) {
        facts.push(format!("Last flush {}, {}.", moment(last), ago(days)));
    }
    if let Some(due) = &p.flush_due {
        facts.push(format!("Flush due {due}."));
    }
    if p.drained_mg > 0.0 {
        facts
            .push(format!("{} mg were measured in the drain.", text::significant(p.drained_mg, 3)));
    }
    if p.flushes_not_measured > 0 {
        let n = p.flushes_not_measured as usize;
        facts
            .push(format!("Of {} the drain was not measured.", text::count(n, "flush", "flushes")));
    }
    out.wrapped("  ", &facts.join(" "));
    let products: Vec<String> = p.products.iter().map(product).collect();
    if !products.is_empty() {
        out.wrapped("  ", &format!("Given: {}.", products.join("; ")));
    }
    for w in p.warnings.iter().filter(|w| w.code != "flush-due") {
        out.caution("  ! ", &w.message);
    }
}

/// `Fernhollow Mist in 5 rounds, the last Sun 21 June, 05:30`.
fn product(p: &ProductGiven) -> String {
    let times = text::counts([
        (p.rounds, "round", "rounds"),
        (p.root_feeds, "feed at the root", "feeds at the root"),
    ]);
    let name = short::given(p);
    format!("{name} in {}, the last {}", times.join(" and "), text::day_and_time(&p.last))
}

fn ago(days: i32) -> String {
    match days {
        0 => "today".into(),
        1 => "yesterday".into(),
        n => format!("{n} days ago"),
    }
}

/// A time or a date as given.
fn moment(text: &str) -> String {
    text::day_and_time(text)
}

fn week(w: &PlantWeek) -> String {
    let number = |v: f64| if v == 0.0 { "-".to_owned() } else { text::significant(v, 3) };
    let mut extra = Vec::new();
    if w.soaks > 0 {
        extra.push(text::count(w.soaks as usize, "soak", "soaks"));
    }
    if w.flushes > 0 {
        extra.push("flushed".into());
    }
    format!(
        "  {}{:>11}{:>9}{}{:>8}{}{:>6}{:>9}  {:<7}{}",
        w.starts,
        w.rounds + w.root_feeds,
        number(w.leaf_mg),
        if w.without_volume > 0 { "+" } else { " " },
        number(w.root_mg),
        if w.root_stated { "*" } else { " " },
        number(w.n_mg),
        w.ceiling_mg.map_or_else(|| "-".into(), |c| text::significant(c, 3)),
        w.residue.map_or("-", Level::word),
        extra.join(", ")
    )
}
