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
mod journal;
mod log;
mod meter;
mod recipe;
mod rescue;
mod round;
mod serve;
mod situation;
mod solution;
mod tank;
mod water;

pub(crate) use advise::window;

use crate::answers::Answers;
use crate::args::{Cli, Verb};
use crate::error::CliError;
use crate::print::Out;
use clap::CommandFactory;

/// Whether an answer is negative, which matters to `--check` only.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Outcome {
    Answer,
    Negative,
}

/// Runs the verb that was asked for.
pub(crate) fn run(cli: &Cli, out: &mut Out) -> Result<Outcome, CliError> {
    let answers = &Answers::of(cli)?;
    match &cli.verb {
        Verb::Convert(args) => convert::run(args, answers, out)?,
        Verb::Recipe(args) => recipe::run(args, answers, out)?,
        Verb::Water(args) => water::run(args, answers, out)?,
        Verb::Genus(args) => genus::run(args, answers, out)?,
        Verb::Advise(args) => return advise::run(args, answers, out),
        Verb::Round(args) => return round::run(args, answers, out),
        Verb::Rescue(args) => rescue::run(args, answers, out)?,
        Verb::Log(args) => log::run(args, out)?,
        Verb::History(args) => history::run(args, out)?,
        Verb::Journal(args) => journal::run(args, out)?,
        Verb::Air(args) => air::run(args, answers, out)?,
        Verb::Film(args) => film::run(args, answers, out)?,
        Verb::Day(args) => day::run(args, answers, out)?,
        Verb::Solution(args) => solution::run(args, answers, out)?,
        Verb::Serve(args) => serve::run(args)?,
        Verb::Meter(args) => meter::run(args, answers, out)?,
        Verb::Acid(args) => acid::run(args, answers, out)?,
        Verb::Tank(args) => tank::run(args, answers, out)?,
        Verb::Chart(args) => chart::run(args, answers, out)?,
        Verb::Conditions(args) => return conditions::run(args, out),
        Verb::Batch(args) => batch::run(args)?,
        Verb::Completions(args) => {
            let mut text = Vec::new();
            clap_complete::generate(args.shell, &mut Cli::command(), "guardcell", &mut text);
            out.raw(&String::from_utf8_lossy(&text));
        }
        Verb::Man => {
            let mut text = Vec::new();
            clap_mangen::Man::new(Cli::command()).render(&mut text).map_err(CliError::Output)?;
            out.raw(&String::from_utf8_lossy(&text));
        }
    }
    Ok(Outcome::Answer)
}
