//! `guardcell` without a verb: what to do today, in short.

use crate::args::{self, Cli};
use crate::backend::Backend;
use crate::error::exit_code;
use crate::home::Home;
use crate::print::{self, Out, short, text};
use crate::verbs::situation::{self, Situation};
use crate::verbs::{Outcome, check};
use clap::CommandFactory as _;
use guardcell::Error;
use guardcell::advice::round::RoundResponse;
use guardcell::calls::Round;
use guardcell_folder::{TaskNow, TurnNow, tasks};
use serde::Serialize;

/// Today for programs.
#[derive(Serialize)]
struct Today<'a> {
    plan: &'a RoundResponse,
    #[serde(skip_serializing_if = "Option::is_none")]
    turn: Option<TurnNow>,
    due: Vec<TaskNow>,
}

pub(crate) fn run(
    args: &args::Situation,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<Outcome, Error> {
    if home.root().is_none() && args.inputs.site.is_none() {
        out.raw(&greeting());
        return Ok(Outcome::Answer);
    }
    let (Situation { read, learned, turn }, plan) = match planned(args, home, backend) {
        Ok(planned) => planned,
        Err(e) => return unplanned(e, args, home, out),
    };
    let entries = learned.as_ref().map_or(&[][..], |l| l.entries.as_slice());
    let due = tasks(&read.request.plants, entries, &plan.from)?;
    if out.json() {
        let due = due.into_iter().map(TaskNow::from).collect();
        let turn = turn.as_ref().map(TurnNow::from);
        out.value(&Today { plan: &plan, turn, due })?;
        return Ok(Outcome::Answer);
    }
    let lost = learned.as_ref().and_then(|l| l.known.as_ref()).map(|k| k.lost.join(", "));
    let notes = lost
        .filter(|ids| !ids.is_empty())
        .map(|ids| format!("logged as lost and still in the collection: {ids}"));
    let beside = print::today::Beside {
        due: due.iter().map(short::task).collect(),
        notes: notes.into_iter().collect(),
        turn: turn.as_ref().map(short::turn),
    };
    print::today::print(&plan, beside, out);
    Ok(Outcome::Answer)
}

/// The request, what the journal knows, and the plan.
fn planned(
    args: &args::Situation,
    home: &Home,
    backend: &Backend,
) -> Result<(Situation, RoundResponse), Error> {
    let situation = situation::read(args, home)?;
    let read = &situation.read;
    let plan = backend.ask::<Round>(&read.request).map_err(|e| read.locate(e))?;
    Ok((situation, plan))
}

/// Where a plan cannot be made because the folder is half written, what is missing is said instead
/// of the one fault that was met first.
fn unplanned(
    error: Error,
    args: &args::Situation,
    home: &Home,
    out: &mut Out,
) -> Result<Outcome, Error> {
    let of_flag = error.place().is_some_and(|p| p.argument.as_deref().is_some_and(is_flag));
    if out.json() || of_flag || exit_code(&error) != 2 {
        return Err(error);
    }
    let report = check::report(home, args.inputs.at.as_deref());
    if report.to_do.is_empty() {
        return Err(error);
    }
    print::today::unplanned(error.detail(), &report.to_do, out);
    Ok(Outcome::Negative)
}

/// Whether an argument was typed wrong, and not what is missing without it.
fn is_flag(argument: &str) -> bool {
    argument.starts_with("--")
        && !matches!(argument, "--site" | "--collection" | "--label" | "--water")
}

/// What a newcomer reads outside any folder.
fn greeting() -> String {
    let mut text = String::from(
        "guardcell works out how to feed plants through the leaf: when and how strong.\n\n\
         No folder of yours is here or above. To begin:\n\n\
         \x20 guardcell init          asks a few things and writes files to edit\n\
         \x20 guardcell init --demo   writes that of an invented cloud-forest house\n\
         \x20 guardcell               then says what to do today\n\n\
         From elsewhere, name the folder with --dir or GUARDCELL_DIR.\n\n\
         Verbs:\n",
    );
    let command = Cli::command();
    let names: Vec<&str> = command.get_subcommands().map(clap::Command::get_name).collect();
    for line in text::wrap(76, "  ", "  ", &names.join(" ")) {
        text.push_str(&line);
        text.push('\n');
    }
    text.push_str("`guardcell help VERB` explains one.\n");
    text
}
