//! `rescue`: the soaks of a rootless plant.

mod calendar;
mod kept;

use crate::args;
use crate::backend::Backend;
use crate::home::Home;
use crate::moment;
use crate::print::calendar::minutes_before;
use crate::print::{Out, file, text};
use crate::quantity;
use crate::verbs::genus;
use guardcell::Error;
use guardcell::advice::{RescueRequest, RescueResponse};
use guardcell::calls::Rescue;
use guardcell::ledger::Adherence;
use serde::Serialize;

pub(crate) fn run(
    args: &args::Rescue,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    let soak_min = args.soak.as_deref().map(|t| quantity::minutes("--soak", t)).transpose()?;
    let site = home.site(args.site.as_deref())?;
    let from = moment::date(args.from.as_deref(), &site.time_zone);
    let request = RescueRequest::new(args.name.clone(), site, from, args.days)
        .with_leaf(args.leaf.as_deref().map(genus::leaf).transpose()?)
        .with_area(args.area.clone())
        .with_soak_min(soak_min)
        .with_alternate(args.alternate);
    let plan = backend.ask::<Rescue>(&request)?;
    if let Some(path) = &args.calendar.ics {
        file::write(
            path,
            &calendar::text(
                &plan,
                &request,
                args.plant.as_deref(),
                minutes_before(&args.calendar.alarm)?,
            )?,
        )?;
    }
    let kept = kept::kept(args, home, &plan, &request.site)?;
    if out.json() {
        return match &kept {
            None => out.value(&plan),
            Some(adherence) => out.value(&Both { plan: &plan, adherence }),
        };
    }
    if let Some(kept) = &kept {
        kept::print(kept, out);
    }
    print(&plan, kept.as_ref().map(|k| k.at.as_str()), out);
    Ok(())
}

/// A plan and what became of it.
#[derive(Serialize)]
struct Both<'a> {
    plan: &'a RescueResponse,
    adherence: &'a Adherence,
}

/// Soaks that are shown beside a journal: those of the coming week.
const SHOWN: usize = 14;

/// The plan; beside a journal only the soaks that are still to come, and not all of them.
fn print(plan: &RescueResponse, after: Option<&str>, out: &mut Out) {
    let now = after.and_then(|t| t.parse::<jiff::Timestamp>().ok());
    let ahead = |s: &&guardcell::advice::Soak| match (s.end.parse::<jiff::Timestamp>(), now) {
        (Ok(end), Some(now)) => end > now,
        _ => true,
    };
    let most = if now.is_some() { SHOWN } else { plan.soaks.len() };
    out.line(format!("Soaks for {} (taken for {})", plan.name, plan.taken_for));
    out.line("");
    for s in &plan.steps {
        out.item("  - ", s);
    }
    out.line("");
    let mut day = String::new();
    for s in plan.soaks.iter().filter(ahead).take(most) {
        let date =
            text::local(&s.start).map_or_else(String::new, |t| t.strftime("%a %-d %B").to_string());
        let head = if date == day { " ".repeat(date.chars().count()) } else { date.clone() };
        let water = if s.plain_water { "  plain water" } else { "" };
        out.line(format!("  {head}  {}–{}{water}", text::time(&s.start), text::time(&s.end)));
        day = date;
    }
    let left = plan.soaks.iter().filter(ahead).count().saturating_sub(most);
    if left > 0 {
        out.line(format!("  and {left} more"));
    }
    out.line("");
    out.line("STOP OR CHANGE WHEN");
    for s in &plan.stop_when {
        out.item("  - ", s);
    }
    out.line("");
    out.line("WHY");
    for r in &plan.reasons {
        let sources = if r.sources.is_empty() {
            String::new()
        } else {
            format!(" [{}]", r.sources.join("; "))
        };
        out.item("  - ", &format!("{}{sources}", r.message));
    }
    for u in &plan.unknowns {
        out.item(
            "  - unknown: ",
            &format!("{}; taken as {}. To know: {}.", u.what, u.assumed, u.measure),
        );
    }
}
