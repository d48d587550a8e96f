//! The guardcell program: reads files and arguments, asks the library, prints the answer.

mod args;
mod backend;
mod error;
mod home;
mod input;
mod moment;
mod print;
mod quantity;
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
        Err(e) if error::is_closed_pipe(&e) => ExitCode::SUCCESS,
        Err(e) => {
            let text = if cli.json {
                serde_json::to_string(&e).unwrap_or_else(|_| error::for_terminal(&e))
            } else {
                error::for_terminal(&e)
            };
            // Nothing more can be done if standard error is closed as well.
            let _ = writeln!(anstream::stderr(), "{text}");
            ExitCode::from(error::exit_code(&e))
        }
    }
}
