//! `history growth`: what was counted and measured, by month.

use super::Past;
use crate::args::History;
use crate::print::{Out, file, growth};
use guardcell::Error;
use guardcell::ledger::{GrowthMonth, PlantLedger};
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
    let lines = |p: &PlantLedger| growth::lines(p);
    let grown: Vec<&PlantLedger> = books.plants.iter().filter(|p| !lines(p).is_empty()).collect();
    if out.json() {
        let months = |p: &&'_ PlantLedger| !p.growth.is_empty();
        let all: Vec<Grown<'_>> = grown
            .iter()
            .copied()
            .filter(months)
            .map(|p| Grown { id: &p.id, growth: &p.growth })
            .collect();
        return out.value(&all);
    }
    if grown.is_empty() {
        out.line(
            "No growth is on record. Count it once a month: guardcell log growth ID new-root 2",
        );
    }
    for (i, plant) in grown.iter().enumerate() {
        if i > 0 {
            out.line("");
        }
        let name = plant.name.as_ref().map_or(String::new(), |name| format!(" {name}"));
        out.line(format!("{}{name}", plant.id));
        for line in lines(plant) {
            out.item("  ", &line);
        }
    }
    Ok(())
}
