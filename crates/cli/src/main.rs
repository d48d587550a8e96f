//! The guardcell program: reads files and arguments, asks the library, prints the answer.

mod answers;
mod args;
mod error;
mod input;
mod print;
mod verbs;

use clap::Parser;

use std::io::Write as _;
use std::process::ExitCode;

fn main() -> ExitCode {
    let cli = args::Cli::parse();
    let mut out = print::Out::stdout(cli.json);
    let answered = verbs::run(&cli, &mut out).and_then(|negative| {
        out.finish()?;
        Ok(negative)
    });
    match answered {
        Ok(verbs::Outcome::Answer) => ExitCode::SUCCESS,
        Ok(verbs::Outcome::Negative) => ExitCode::from(1),
        Err(e) if e.is_closed_pipe() => ExitCode::SUCCESS,
        Err(e) => {
            // Nothing is left to do if standard error is closed as well.
            let _ = writeln!(anstream::stderr(), "guardcell: {e}");
            ExitCode::from(e.exit_code())
        }
    }
}
