//! One file a verb: from arguments to an answer.

mod acid;
mod advise;
mod air;
mod chart;
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
    match &cli.verb {
        Verb::Convert(args) => convert::run(args, out)?,
        Verb::Recipe(args) => recipe::run(args, out)?,
        Verb::Water(args) => water::run(args, out)?,
        Verb::Genus(args) => genus::run(args, out)?,
        Verb::Advise(args) => return advise::run(args, out),
        Verb::Round(args) => return round::run(args, out),
        Verb::Rescue(args) => rescue::run(args, out)?,
        Verb::Log(args) => log::run(args, out)?,
        Verb::History(args) => history::run(args, out)?,
        Verb::Journal(args) => journal::run(args, out)?,
        Verb::Air(args) => air::run(args, out)?,
        Verb::Film(args) => film::run(args, out)?,
        Verb::Day(args) => day::run(args, out)?,
        Verb::Solution(args) => solution::run(args, out)?,
        Verb::Serve(args) => serve::run(args)?,
        Verb::Meter(args) => meter::run(args, out)?,
        Verb::Acid(args) => acid::run(args, out)?,
        Verb::Tank(args) => tank::run(args, out)?,
        Verb::Chart(args) => chart::run(args, out)?,
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
