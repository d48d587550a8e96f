//! One file a verb: from arguments to an answer.

mod acid;
mod advise;
mod air;
mod batch;
mod chart;
mod conditions;
mod convert;
mod day;
mod film;
mod genus;
mod history;
mod inputs;
mod journal;
mod log;
mod man;
mod meter;
mod recipe;
mod rescue;
mod round;
mod serve;
mod solution;
mod tank;
mod water;

use crate::args::{Cli, Verb};
use crate::backend::Backend;
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
    let backend = &Backend::choose(cli)?;
    match &cli.verb {
        Verb::Convert(args) => convert::run(args, backend, out)?,
        Verb::Recipe(args) => recipe::run(args, backend, out)?,
        Verb::Water(args) => water::run(args, backend, out)?,
        Verb::Genus(args) => genus::run(args, backend, out)?,
        Verb::Advise(args) => return advise::run(args, backend, out),
        Verb::Round(args) => return round::run(args, backend, out),
        Verb::Rescue(args) => rescue::run(args, backend, out)?,
        Verb::Log(args) => log::run(args, out)?,
        Verb::History(args) => history::run(args, out)?,
        Verb::Journal(args) => journal::run(args, out)?,
        Verb::Air(args) => air::run(args, backend, out)?,
        Verb::Film(args) => film::run(args, backend, out)?,
        Verb::Day(args) => day::run(args, backend, out)?,
        Verb::Solution(args) => solution::run(args, backend, out)?,
        Verb::Serve(args) => serve::run(args)?,
        Verb::Meter(args) => meter::run(args, backend, out)?,
        Verb::Acid(args) => acid::run(args, backend, out)?,
        Verb::Tank(args) => tank::run(args, backend, out)?,
        Verb::Chart(args) => chart::run(args, backend, out)?,
        Verb::Conditions(args) => return conditions::run(args, out),
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
