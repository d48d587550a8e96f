//! `history growth`: what was counted and measured, by month.

use super::Past;
use crate::args::History;
use crate::print::{Out, file, growth};
use guardcell::Error;
use guardcell::ledger::GrowthMonth;
use serde::Serialize;

/// The growth of one plant, for programs.
#[derive(Serialize)]
struct Grown<'a> {
    id: &'a str,
    growth: &'a [GrowthMonth],
}

pub(super) fn run(args: &History, past: &Past, out: &mut Out) -> Result<(), Error> {
    let only = super::wanted(args, past)?;
    let books = super::books(past, &only)?;
    if let Some(path) = &args.svg {
        file::write(path, &books.growth_svg())?;
    }
    if out.json() {
        let counted = books.plants.iter().filter(|p| !p.growth.is_empty());
        let all: Vec<Grown<'_>> = counted.map(|p| Grown { id: &p.id, growth: &p.growth }).collect();
        return out.value(&all);
    }
    let mut any = false;
    for plant in &books.plants {
        let lines = growth::lines(plant);
        if lines.is_empty() {
            continue;
        }
        if any {
            out.line("");
        }
        any = true;
        out.line(plant.title());
        for line in lines {
            out.item("  ", &line);
        }
    }
    if !any {
        out.line(
            "No growth is on record. Count it once a month: guardcell log growth ID new-root 2",
        );
    }
    Ok(())
}
