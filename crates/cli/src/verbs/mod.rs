//! One file a verb: from arguments to an answer.

mod acid;
mod advise;
mod air;
mod batch;
mod case;
mod chart;
mod check;
mod conditions;
mod convert;
mod day;
mod film;
mod genus;
#[cfg(feature = "tables")]
mod genus_parquet;
mod history;
mod init;
mod inputs;
mod journal;
mod log;
mod man;
#[cfg(feature = "mcp")]
mod mcp;
mod meter;
mod page;
mod pair;
mod recipe;
mod rescue;
mod round;
mod serve;
mod situation;
mod solution;
mod tank;
mod today;
mod typed_air;
mod water;

use crate::args::{Cli, Verb};
use crate::backend::Backend;
use crate::home::Home;
use crate::print::Out;
use clap::CommandFactory;
use guardcell::Error;

/// Whether an answer is negative, which matters to `--check` only.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Outcome {
    Answer,
    Negative,
}

/// Runs the verb that was asked for.
pub(crate) fn run(cli: &Cli, out: &mut Out) -> Result<Outcome, Error> {
    let home = &home(cli)?;
    let backend = &Backend::choose(cli)?;
    let Some(verb) = &cli.verb else {
        return today::run(&cli.situation, home, backend, out);
    };
    match verb {
        Verb::Init(args) => init::run(args, cli, out)?,
        Verb::Check(args) => return check::run(args, home, out),
        Verb::Convert(args) => convert::run(args, backend, out)?,
        Verb::Recipe(args) => recipe::run(args, home, backend, out)?,
        Verb::Water(args) => water::run(args, home, backend, out)?,
        Verb::Genus(args) => genus::run(args, backend, out)?,
        Verb::Advise(args) => return advise::run(args, home, backend, out),
        Verb::Round(args) => return round::run(args, home, backend, out),
        Verb::Rescue(args) => rescue::run(args, home, backend, out)?,
        Verb::Log(args) => log::run(args, home, out)?,
        Verb::History(args) => history::run(args, home, out)?,
        Verb::Case(args) => case::run(args, home, backend, out)?,
        Verb::Journal(args) => journal::run(args, home, out)?,
        Verb::Air(args) => air::run(args, backend, out)?,
        Verb::Film(args) => film::run(args, home, backend, out)?,
        Verb::Day(args) => day::run(args, home, backend, out)?,
        Verb::Solution(args) => solution::run(args, backend, out)?,
        Verb::Serve(args) => serve::run(args, home)?,
        Verb::Pair(args) => pair::run(args, home, out)?,
        Verb::Page(args) => page::run(args, out)?,
        #[cfg(feature = "mcp")]
        Verb::Mcp(args) => mcp::run(args, home)?,
        Verb::Meter(args) => meter::run(args, home, backend, out)?,
        Verb::Acid(args) => acid::run(args, home, backend, out)?,
        Verb::Tank(args) => tank::run(args, backend, out)?,
        Verb::Chart(args) => chart::run(args, home, backend, out)?,
        Verb::Conditions(args) => return conditions::run(args, home, out),
        Verb::Batch(args) => batch::run(args)?,
        Verb::Completions(args) => {
            let mut text = Vec::new();
            clap_complete::generate(args.shell, &mut Cli::command(), "guardcell", &mut text);
            out.raw(&String::from_utf8_lossy(&text));
        }
        Verb::Man(args) => out.raw(&man::page(args.page.as_deref())?),
    }
    Ok(Outcome::Answer)
}

/// The folder, for verbs that have a use for one.
fn home(cli: &Cli) -> Result<Home, Error> {
    match cli.verb {
        Some(
            Verb::Init(_)
            | Verb::Batch(_)
            | Verb::Completions(_)
            | Verb::Convert(_)
            | Verb::Genus(_)
            | Verb::Man(_)
            | Verb::Page(_)
            | Verb::Solution(_)
            | Verb::Tank(_)
            | Verb::Air(_),
        ) => Ok(Home::nowhere()),
        _ => Home::find(cli.dir.as_deref()),
    }
}
