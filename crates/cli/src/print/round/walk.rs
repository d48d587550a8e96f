//! The plants of one strength in the order of the walk: place by place, two columns to tick off.

use crate::print::{Out, text};
use guardcell::advice::AdviceRequest;
use guardcell::advice::round::{RoundGroup, RoundStep, Sitting};

/// Plants that are beside each other and are done at the same hours.
struct Stop<'a> {
    first: &'a RoundGroup,
    /// The hours within the sitting, where they are not all of it.
    hours: Option<(&'a str, &'a str)>,
    residue: f64,
    plants: Vec<String>,
}

pub(super) fn print(step: &RoundStep, sitting: &Sitting, request: &AdviceRequest, out: &mut Out) {
    let mut stops: Vec<Stop<'_>> = Vec::new();
    for g in &step.groups {
        let plants = g.plants.iter().map(|p| format!("[ ] {} {}", p.id, p.name));
        let hours = within(g, sitting);
        let same = |s: &&mut Stop<'_>| {
            (&s.first.area, &s.first.bench, s.hours) == (&g.area, &g.bench, hours)
        };
        match stops.iter_mut().find(same) {
            Some(stop) => {
                stop.plants.extend(plants);
                stop.residue = stop.residue.max(g.residue_probability);
            }
            None => stops.push(Stop {
                first: g,
                hours,
                residue: g.residue_probability,
                plants: plants.collect(),
            }),
        }
    }
    for stop in &stops {
        let when = stop.hours.map_or(String::new(), |(start, end)| {
            format!(", {}–{}", text::time(start), text::time(end))
        });
        let white = text::chance(stop.residue);
        out.item("     * ", &format!("{}{when}; white {white}", place(stop.first, request)));
        for line in text::columns("       ", &stop.plants, out.width()) {
            out.line(line);
        }
    }
}

/// The hours of a group where they do not cover the sitting.
fn within<'a>(g: &'a RoundGroup, sitting: &'a Sitting) -> Option<(&'a str, &'a str)> {
    let time = |t: &str| t.parse::<jiff::Timestamp>().ok();
    let covers = time(&g.start) <= time(&sitting.start) && time(&g.end) >= time(&sitting.end);
    if covers { None } else { Some((&g.start, &g.end)) }
}

/// The area in words and the bench.
pub(super) fn place(g: &RoundGroup, request: &AdviceRequest) -> String {
    let area = request.site.areas.iter().find(|a| a.id == g.area);
    let area = area.map_or(g.area.as_str(), |a| a.name.as_str());
    match g.bench.as_ref().filter(|b| !b.is_empty()) {
        Some(bench) => format!("{area}, bench {bench}"),
        None => area.to_owned(),
    }
}
