//! An entry in one line.

use crate::print::{growth, text};
use guardcell::ledger::{Conditions, Entry, Event, Level, Measure, Nature, Place, Round};

/// `round, Mon 22 June 2026, 04:30: 300 mg/L feed in 2 passes, 420 mL over FH-001 and FH-002`.
pub(crate) fn entry(e: &Entry) -> String {
    let kind = e.event.kind().replace('_', " ");
    let corrects = match (&e.supersedes, &e.event) {
        (Some(old), Event::Retraction(_)) => format!(" of {old}"),
        (Some(old), _) => format!(" instead of {old}"),
        (None, _) => String::new(),
    };
    let what = event(&e.event);
    let note = match e.note.trim() {
        "" => String::new(),
        note => format!(" \u{201c}{}\u{201d}", note.replace('\n', " ")),
    };
    let colon = if what.is_empty() && note.is_empty() { "" } else { ":" };
    let space = if what.is_empty() { "" } else { " " };
    format!("{kind}{corrects}, {}{colon}{space}{what}{note}", text::day_and_year(&e.at))
}

fn event(e: &Event) -> String {
    match e {
        Event::Round(r) => format!(
            "{}{}{}{} over {}{}{}",
            strength(r.feed_strength_mg_l),
            nitrogen(r.n_mg_l),
            if r.passes > 1 { format!(" in {} passes", r.passes) } else { String::new() },
            r.volume_ml.map_or(String::new(), |v| format!(", {}", volume(v))),
            plants(r.plants.iter().map(|p| p.plant.as_str())),
            with(r),
            air(r.conditions.as_ref())
        ),
        Event::RootFeed(r) => format!(
            "{}{} at the root, {}{}{}{}",
            strength(r.feed_strength_mg_l),
            nitrogen(r.n_mg_l),
            r.volume_ml.map_or(String::new(), |v| format!("{} for ", volume(v))),
            plants(r.plants.iter().map(|p| p.plant.as_str())),
            r.product.as_ref().map_or(String::new(), |p| format!("; product {p}")),
            drain(r.drain_ml, r.drain_mg_l)
        ),
        Event::Residue(r) => {
            let what = match (r.level, r.nature) {
                (Level::None, _) | (_, Nature::Unknown) => String::new(),
                (_, Nature::Feed) => " feed salts".into(),
                (_, Nature::Scale) => " scale".into(),
            };
            let place = match r.place {
                Place::Leaf => "leaf",
                Place::RootTip => "root tip",
                Place::PotSurface => "pot surface",
            };
            let group = r.group.as_ref().map_or(String::new(), |g| format!(" ({g})"));
            let who = if r.plants.is_empty() {
                String::new()
            } else {
                format!(" of {}", plants(r.plants.iter().map(String::as_str)))
            };
            let wiped = match r.wiped {
                Some(false) => ", leaves not wiped before",
                _ => "",
            };
            format!(
                "{}{what} on the {place}{who}{group}{wiped}{}",
                r.level.word(),
                air(r.conditions.as_ref())
            )
        }
        Event::Flush(f) => format!(
            "{}{}{}",
            f.volume_ml.map_or(String::new(), |v| format!("{} through ", volume(v))),
            plants(f.plants.iter().map(String::as_str)),
            drain(f.drain_ml, f.drain_mg_l)
        ),
        Event::Soak(s) => format!(
            "{} for {}, {}",
            strength(s.feed_strength_mg_l),
            text::minutes(s.duration_min),
            plants(s.plants.iter().map(String::as_str))
        ),
        Event::Response(r) => {
            let sign = growth::sign(r.sign);
            format!("{sign}, {}", plants(r.plants.iter().map(String::as_str)))
        }
        Event::Growth(g) => {
            let who = plants(g.plants.iter().map(String::as_str));
            let what = g.measure.zip(g.value).map(|(m, v)| measured(m, v));
            let photo = g.photo.as_ref().map(|p| format!("photo {p}"));
            let parts: Vec<String> = what.into_iter().chain([who]).chain(photo).collect();
            parts.join(", ")
        }
        Event::Wipe(w) => format!("leaves of {}", plants(w.plants.iter().map(String::as_str))),
        Event::Task(t) => {
            let every = t.every_days.map_or(String::new(), |n| {
                format!(", then every {}", text::count(n as usize, "day", "days"))
            });
            let who = plants(t.plants.iter().map(String::as_str));
            let who = if who.is_empty() { who } else { format!(", {who}") };
            format!("due {}{every}{who}", t.due)
        }
        Event::Done(d) => format!("task {}", d.task),
        Event::Note(n) if n.plants.is_empty() => String::new(),
        Event::Note(n) => plants(n.plants.iter().map(String::as_str)),
        Event::Retraction(_) => String::new(),
    }
}

/// `2 new roots`, `longest leaf 180 mm`.
fn measured(measure: Measure, value: f64) -> String {
    let n = text::significant(value, 4);
    let count = |one: &str, many: &str| match value {
        0.0 => format!("no {one}"),
        1.0 => format!("1 {one}"),
        _ => format!("{n} {many}"),
    };
    match measure {
        Measure::NewRoot => count("new root", "new roots"),
        Measure::NewLeaf => count("new leaf", "new leaves"),
        Measure::NewPseudobulb => count("new pseudobulb", "new pseudobulbs"),
        Measure::Flower => count("flower open", "flowers open"),
        Measure::LostLeaf => count("leaf lost", "leaves lost"),
        Measure::LeafLengthMm => format!("longest leaf {n} mm"),
        Measure::WeightG => format!("weight {n} g"),
    }
}

/// What a round was dissolved in and sprayed with, where that is known.
fn with(r: &Round) -> String {
    [
        ("product", &r.product),
        ("water", &r.water),
        ("wetting agent", &r.wetting_agent),
        ("sprayer", &r.sprayer),
    ]
    .into_iter()
    .filter_map(|(what, name)| name.as_ref().map(|n| format!("; {what} {n}")))
    .collect()
}

fn strength(mg_l: f64) -> String {
    if mg_l > 0.0 {
        format!("{} mg/L feed", text::significant(mg_l, 4))
    } else {
        "plain water".into()
    }
}

fn nitrogen(n: Option<f64>) -> String {
    n.map_or(String::new(), |n| format!(" ({} ppm N)", text::significant(n, 2)))
}

fn volume(ml: f64) -> String {
    if ml < 1000.0 {
        format!("{} mL", text::significant(ml, 3))
    } else {
        format!("{} L", text::significant(ml / 1000.0, 3))
    }
}

fn drain(ml: Option<f64>, mg_l: Option<f64>) -> String {
    match (ml, mg_l) {
        (Some(ml), Some(c)) => {
            format!("; {} ran out with {} mg/L", volume(ml), text::significant(c, 3))
        }
        (Some(ml), None) => format!("; {} ran out", volume(ml)),
        (None, Some(c)) => format!("; what ran out held {} mg/L", text::significant(c, 3)),
        (None, None) => String::new(),
    }
}

fn air(c: Option<&Conditions>) -> String {
    let Some(c) = c else { return String::new() };
    let mut parts = Vec::new();
    parts.extend(c.temp_c.map(|v| format!("{} °C", text::significant(v, 3))));
    parts.extend(c.rh_percent.map(|v| format!("{v:.0} %")));
    parts.extend(c.air_m_s.map(|v| format!("{} m/s", text::significant(v, 2))));
    parts.extend(
        c.residue_g_m2.map(|v| format!("modelled residue {} g/m²", text::significant(v, 2))),
    );
    parts.extend(c.scale_g_m2.map(|v| format!("scale {} g/m²", text::significant(v, 2))));
    if parts.is_empty() { String::new() } else { format!("; {}", parts.join(", ")) }
}

/// Plants by name while they are few, else their number and the first of them.
fn plants<'a>(ids: impl Iterator<Item = &'a str>) -> String {
    let ids: Vec<&str> = ids.collect();
    match ids.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] if ids.len() <= 6 => format!("{} and {last}", rest.join(", ")),
        [a, b, c, ..] => format!("{} plants ({a}, {b}, {c} …)", ids.len()),
        _ => ids.join(", "),
    }
}
