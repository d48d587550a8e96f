//! From the plan of a round, with edits, to what was done.

use super::place::Context;
use super::{amount, draft};
use crate::args::{LogArgs, LogRound};
use crate::error::{Located, argument, bad_file};
use crate::input::text;
use crate::quantity;
use guardcell::Error;
use guardcell::advice::round::RoundResponse;
use guardcell::ledger::{Draft, Event, rounds_of_plan};
use std::path::Path;

pub(crate) fn drafts(
    args: &LogRound,
    log: &LogArgs,
    context: &Context,
) -> Result<Vec<Draft>, Error> {
    let Some(path) = args.plan.as_deref() else { return Ok(Vec::new()) };
    let plan = read(path)?;
    let sitting = sitting(args, &plan, path)?;
    let mut drafts = rounds_of_plan(&plan, sitting).map_err(|e| {
        bad_file(
            path.display(),
            e.to_string(),
            "write the plan again with `guardcell round --json`",
        )
    })?;
    let steps = plan.sittings.get(sitting).map_or(&[][..], |s| &s.steps);
    if let Some(n) = args.step {
        let Some(step) = n.checked_sub(1).and_then(|i| steps.get(i)) else {
            return Err(argument(
                "--step",
                format!("the sitting has no step {n}"),
                format!("it has {}, counted from 1", steps.len()),
            ));
        };
        // A step is one strength in the mister; areas with an air of their own are apart.
        drafts.retain(|d| {
            matches!(&d.event, Event::Round(r)
                if r.feed_strength_mg_l == step.feed_strength_mg_l && r.passes == step.passes.max(1))
        });
    }
    skip(&mut drafts, &args.skip, path)?;
    only(&mut drafts, args, path)?;
    let several_steps = args.step.is_none() && steps.len() > 1;
    let edited = [
        ("--strength", args.strength.is_some(), several_steps),
        ("--n", args.n.is_some(), several_steps),
        ("--passes", args.passes.is_some(), several_steps),
        ("--volume", args.volume.is_some(), several_steps),
    ];
    if let Some((flag, _, _)) = edited.iter().find(|(_, given, several)| *given && *several) {
        return Err(argument(
            *flag,
            format!("the sitting has {} steps, each with its own", steps.len()),
            "say which with --step, and log the others apart",
        ));
    }
    // Areas with an air of their own are entries of their own: a volume is shared as planned.
    let planned: f64 = drafts
        .iter()
        .filter_map(|d| if let Event::Round(r) = &d.event { r.volume_ml } else { None })
        .sum();
    let given = draft::volume("--volume", args.volume.as_ref(), context)?;
    let share = given.filter(|_| planned > 0.0).map(|v| v / planned);
    let time = log.at.as_deref().map(|at| context.moment(Some(at))).transpose()?;
    for draft in &mut drafts {
        if let Some((at, zone)) = &time {
            (draft.at, draft.zone) = (at.clone(), zone.clone());
        } else if let Some(zone) = &context.zone {
            // The plan is in the time of its site; the zone is only claimed where it fits.
            draft.zone = Some(zone.clone());
            if draft.clone().checked("zone", "2026-01-01T00:00:00Z").is_err() {
                draft.zone = None;
            }
        }
        draft.note = log.note.clone().unwrap_or_default();
        if let Event::Round(r) = &mut draft.event {
            if let Some(text) = &args.strength {
                r.set_strength(quantity::strength_mg_l("--strength", text)?);
            }
            if let Some(text) = &args.n {
                r.n_mg_l = Some(quantity::nitrogen("--n", text)?);
            }
            r.passes = args.passes.unwrap_or(r.passes);
            if let Some(share) = share {
                r.scale_volumes(share);
            }
            if let Some(product) = &args.product {
                r.product = context.product(Some(product), &draft.at);
            }
            r.water = args.with.water.clone();
            r.wetting_agent = args.with.wetting_agent.clone();
            r.sprayer = args.with.sprayer.clone();
            if let Some(said) = amount::conditions(&args.conditions)? {
                let planned = r.conditions.take().unwrap_or_default();
                r.conditions = Some(super::correct::over(planned, said));
            }
        }
    }
    Ok(drafts)
}

fn read(path: &Path) -> Result<RoundResponse, Error> {
    let text = text::read_lines_of_any_length(path)?;
    guardcell::read_request(text.as_bytes()).map_err(|e| {
        e.in_path(path).with_hint("give the plan of a round as `guardcell round --json` writes it")
    })
}

/// The sitting, counted from 0.
fn sitting(args: &LogRound, plan: &RoundResponse, path: &Path) -> Result<usize, Error> {
    let list = || {
        let lines: Vec<String> = plan
            .sittings
            .iter()
            .enumerate()
            .map(|(i, s)| format!("{} is {}", i + 1, crate::print::text::span(&s.start, &s.end)))
            .collect();
        if lines.is_empty() { "it has none".to_owned() } else { lines.join(", ") }
    };
    match (args.sitting, plan.sittings.len()) {
        (None, 1) => Ok(0),
        (Some(n), have) if (1..=have).contains(&n) => Ok(n - 1),
        (Some(n), _) => {
            Err(argument("--sitting", format!("{} has no sitting {n}", path.display()), list()))
        }
        (None, have) => Err(argument(
            "--sitting",
            format!("{} has {have} sittings", path.display()),
            format!("say which was done: {}", list()),
        )),
    }
}

/// Takes plants out, and their volume with them.
fn skip(drafts: &mut Vec<Draft>, ids: &[String], path: &Path) -> Result<(), Error> {
    for id in ids {
        let mut found = false;
        for draft in drafts.iter_mut() {
            if let Event::Round(r) = &mut draft.event {
                let before = r.plants.len();
                let own = r.plants.iter().find(|p| p.plant == *id).and_then(|p| p.volume_ml);
                r.plants.retain(|p| p.plant != *id);
                if r.plants.len() < before {
                    found = true;
                    r.volume_ml = r.volume_ml.map(|v| v - own.unwrap_or(v / before as f64));
                    r.sum_volumes();
                }
            }
        }
        if !found {
            return Err(argument(
                "--skip",
                format!("{id:?} is not in that sitting of {}", path.display()),
                "name a plant that the plan feeds there",
            ));
        }
    }
    drafts.retain(|d| !d.event.plants().is_empty());
    nothing_left(drafts)
}

/// Keeps only the plants that are named beside the plan, if any are.
fn only(drafts: &mut Vec<Draft>, args: &LogRound, path: &Path) -> Result<(), Error> {
    if args.who.area.is_some() || args.who.setting.is_some() || args.who.standing.is_some() {
        return Err(argument(
            "--plan",
            "plants of a plan are not chosen by area, setting or standing",
            "name those that were done by id, or those that were not with --skip",
        ));
    }
    if args.who.plants.is_empty() {
        return Ok(());
    }
    let planned: Vec<String> =
        drafts.iter().flat_map(|d| d.event.plants()).map(str::to_owned).collect();
    if let Some(id) = args.who.plants.iter().find(|id| !planned.contains(id)) {
        return Err(argument(
            "the plants",
            format!("{id:?} is not in that sitting of {}", path.display()),
            "log it by hand, with its own strength",
        ));
    }
    let left_out: Vec<String> =
        planned.into_iter().filter(|id| !args.who.plants.contains(id)).collect();
    skip(drafts, &left_out, path)
}

fn nothing_left(drafts: &[Draft]) -> Result<(), Error> {
    if drafts.is_empty() {
        return Err(argument("--skip", "no plant is left", "then there is nothing to log"));
    }
    Ok(())
}
