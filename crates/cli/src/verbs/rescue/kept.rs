//! A plan held against the journal.

use crate::args::Rescue;
use crate::home::Home;
use crate::moment::{Clock, rfc3339, time_zone};
use crate::print::{Out, text};
use crate::verbs::journal::open;
use guardcell::Error;
use guardcell::advice::{RescueResponse, SiteDescription};
use guardcell::ledger::{Adherence, AdherenceRequest, adherence};
use guardcell_journal::Selection;
use jiff::Timestamp;

/// What became of the plan; none where no journal is named.
pub(crate) fn kept(
    args: &Rescue,
    home: &Home,
    plan: &RescueResponse,
    site: &SiteDescription,
) -> Result<Option<Adherence>, Error> {
    let Some(plant) = &args.plant else { return Ok(None) };
    let Some(path) = open::existing(args.journal.as_deref(), home) else { return Ok(None) };
    let journal = open::read(&path)?;
    let clock = Clock { zone: Some(time_zone(&site.time_zone)?), now: Timestamp::now() };
    let at = rfc3339(&clock.looking_back(args.at.as_deref())?);
    let selection = Selection {
        site: Some(site.name.clone()),
        plant: Some(plant.clone()),
        ..Selection::default()
    };
    let entries = journal.entries(&selection).map_err(open::fault)?;
    let request = AdherenceRequest::new(entries, plant.clone(), plan.soaks.clone(), at);
    adherence(&request).map(Some).map_err(open::fault)
}

pub(crate) fn print(kept: &Adherence, out: &mut Out) {
    out.line(format!(
        "HOW IT GOES  {} by the journal, {}",
        kept.plant,
        text::day_and_year(&kept.at)
    ));
    for r in &kept.says {
        out.item("  - ", &r.message);
    }
    if !kept.missed.is_empty() {
        let last: Vec<String> =
            kept.missed.iter().rev().take(6).rev().map(|s| text::day_and_time(&s.start)).collect();
        let which = if kept.missed.len() > 6 { "the last missed" } else { "missed" };
        out.item(&format!("  - {which}: "), &last.join("; "));
    }
    if kept.beside_the_plan > 0 {
        let n = text::count(kept.beside_the_plan, "soak was", "soaks were");
        out.item("  - ", &format!("{n} logged at other times than those of the plan."));
    }
    out.line("");
}
