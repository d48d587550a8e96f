//! The plants of one strength in the order of the walk: place by place, two columns to tick off.

use crate::print::{Out, text};
use guardcell::advice::AdviceRequest;
use guardcell::advice::round::{RoundGroup, RoundStep, Sitting};

/// Plants that are beside each other and are done at the same hours.
struct Stop<'a> {
    first: &'a RoundGroup,
    residue: f64,
    plants: Vec<String>,
}

pub(super) fn print(step: &RoundStep, sitting: &Sitting, request: &AdviceRequest, out: &mut Out) {
    let mut stops: Vec<Stop<'_>> = Vec::new();
    for g in &step.groups {
        let plants = g.plants.iter().map(|p| format!("[ ] {} {}", p.id, p.name));
        let same = |s: &&mut Stop<'_>| {
            let f = s.first;
            (&f.area, &f.bench, &f.start, &f.end) == (&g.area, &g.bench, &g.start, &g.end)
        };
        match stops.iter_mut().find(same) {
            Some(stop) => {
                stop.plants.extend(plants);
                stop.residue = stop.residue.max(g.residue_probability);
            }
            None => stops.push(Stop {
                first: g,
                residue: g.residue_probability,
                plants: plants.collect(),
            }),
        }
    }
    for stop in &stops {
        let g = stop.first;
        let when = if g.start == sitting.start && g.end == sitting.end {
            String::new()
        } else {
            format!(", {}–{}", text::time(&g.start), text::time(&g.end))
        };
        let white = text::chance(stop.residue);
        out.item("     * ", &format!("{}{when}; white {white}", place(g, request)));
        for line in text::columns("       ", &stop.plants, out.width()) {
            out.line(line);
        }
    }
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
