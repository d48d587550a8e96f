//! From the plan of a round, with edits, to what was done.

use super::place::Context;
use super::{draft, quantity};
use crate::args::{LogArgs, LogRound};
use crate::error::CliError;
use crate::input::text;
use guardcell::advice::round::RoundPlan;
use guardcell_journal::{Draft, Event, rounds_of_plan};
use std::path::Path;

pub(crate) fn drafts(args: &LogRound, log: &LogArgs, context: &Context) -> Result<Vec<Draft>, CliError> {
    let Some(path) = args.plan.as_deref() else { return Ok(Vec::new()) };
    let plan = read(path)?;
    let drafts = rounds_of_plan(&plan, sitting(args, &plan, path)?)
        .map_err(|e| CliError::Refused(format!("{}: {e}", path.display())))?;
    let all = drafts.len();
    let mut drafts: Vec<Draft> = match args.step {
        None => drafts,
        Some(n) => match n.checked_sub(1).and_then(|i| drafts.into_iter().nth(i)) {
            Some(one) => vec![one],
            None => {
                return Err(CliError::input(
                    "--step",
                    format!("the sitting has no step {n}"),
                    format!("it has {all}, counted from 1"),
                ));
            }
        },
    };
    skip(&mut drafts, &args.skip, path)?;
    only(&mut drafts, args, path)?;
    let one = drafts.len() == 1;
    let edited = [
        ("--strength", args.strength.is_some()),
        ("--n", args.n.is_some()),
        ("--passes", args.passes.is_some()),
        ("--volume", args.volume.is_some()),
    ];
    if let Some((flag, _)) = edited.iter().find(|(_, given)| *given && !one) {
        return Err(CliError::input(
            *flag,
            format!("the sitting has {} steps, each with its own", drafts.len()),
            "say which with --step, and log the others apart",
        ));
    }
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
                let strength = quantity::strength("--strength", text)?;
                // The film model answers in proportion as far as a round was made weaker or
                // stronger than planned.
                let ratio = strength / r.feed_strength_mg_l;
                r.n_mg_l = r.n_mg_l.filter(|_| ratio.is_finite()).map(|n| n * ratio);
                if let Some(c) = &mut r.conditions {
                    c.residue_g_m2 = c.residue_g_m2.filter(|_| ratio.is_finite()).map(|v| v * ratio);
                }
                r.feed_strength_mg_l = strength;
            }
            if let Some(text) = &args.n {
                r.n_mg_l = Some(quantity::nitrogen(text)?);
            }
            r.passes = args.passes.unwrap_or(r.passes);
            if let Some(v) = draft::volume("--volume", args.volume.as_ref(), context)? {
                r.volume_ml = Some(v);
            }
            if let Some(product) = &args.product {
                r.product = Some(product.clone());
            }
            if let Some(said) = quantity::conditions(&args.conditions)? {
                let planned = r.conditions.take().unwrap_or_default();
                r.conditions = Some(super::correct::over(planned, said));
            }
        }
    }
    Ok(drafts)
}

fn read(path: &Path) -> Result<RoundPlan, CliError> {
    let text = text::read_lines_of_any_length(path)?;
    serde_json::from_str(&text).map_err(|e| {
        CliError::input(
            format!("{}:{}:{}", path.display(), e.line(), e.column()),
            e.to_string().split(" at line ").next().unwrap_or_default().to_owned(),
            "give the plan of a round as `guardcell round --json` writes it",
        )
    })
}

/// The sitting, counted from 0.
fn sitting(args: &LogRound, plan: &RoundPlan, path: &Path) -> Result<usize, CliError> {
    let list = || {
        let lines: Vec<String> = plan
            .sittings
            .iter()
            .enumerate()
            .map(|(i, s)| {
                format!("{} is {}", i + 1, crate::print::text::span(&s.start, &s.end))
            })
            .collect();
        if lines.is_empty() { "it has none".to_owned() } else { lines.join(", ") }
    };
    match (args.sitting, plan.sittings.len()) {
        (None, 1) => Ok(0),
        (Some(n), have) if (1..=have).contains(&n) => Ok(n - 1),
        (Some(n), _) => Err(CliError::input(
            "--sitting",
            format!("{} has no sitting {n}", path.display()),
            list(),
        )),
        (None, have) => Err(CliError::input(
            "--sitting",
            format!("{} has {have} sittings", path.display()),
            format!("say which was done: {}", list()),
        )),
    }
}

/// Takes plants out, and their even share of the volume with them.
fn skip(drafts: &mut Vec<Draft>, ids: &[String], path: &Path) -> Result<(), CliError> {
    for id in ids {
        let mut found = false;
        for draft in drafts.iter_mut() {
            if let Event::Round(r) = &mut draft.event {
                let before = r.plants.len();
                r.plants.retain(|p| p.plant != *id);
                if r.plants.len() < before {
                    found = true;
                    let left = r.plants.len() as f64 / before as f64;
                    r.volume_ml = r.volume_ml.map(|v| (v * left * 10.0).round() / 10.0);
                }
            }
        }
        if !found {
            return Err(CliError::input(
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
fn only(drafts: &mut Vec<Draft>, args: &LogRound, path: &Path) -> Result<(), CliError> {
    if args.who.area.is_some() || args.who.setting.is_some() || args.who.standing.is_some() {
        return Err(CliError::input(
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
        return Err(CliError::input(
            "the plants",
            format!("{id:?} is not in that sitting of {}", path.display()),
            "log it by hand, with its own strength",
        ));
    }
    let left_out: Vec<String> =
        planned.into_iter().filter(|id| !args.who.plants.contains(id)).collect();
    skip(drafts, &left_out, path)
}

fn nothing_left(drafts: &[Draft]) -> Result<(), CliError> {
    if drafts.is_empty() {
        return Err(CliError::input("--skip", "no plant is left", "then there is nothing to log"));
    }
    Ok(())
}
