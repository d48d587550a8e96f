//! `xtask data`: checks of the reference tables and the numbers quoted from them.

mod aggregates;
mod coverage;
mod schema;
mod stats;
mod table;

use crate::ChoreError;
use clap::Subcommand;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Arguments of `xtask data`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
    /// The directory of the tables.
    #[arg(long, global = true)]
    dir: Option<PathBuf>,
}

#[derive(Subcommand)]
enum What {
    /// Check schema, keys, duplicates, impossible combinations and aggregates; show coverage.
    Check,
    /// Print the numbers quoted in the README.
    Stats,
}

pub(crate) fn run(args: &Args) -> Result<ExitCode, ChoreError> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let dir = args.dir.clone().unwrap_or_else(|| root.join("data"));
    match args.what {
        What::Stats => {
            print(&stats::numbers());
            Ok(ExitCode::SUCCESS)
        }
        What::Check => {
            let package = table::Package::read(&dir)?;
            let mut faults = package.faults();
            faults.extend(schema::faults(&package, &root.join("schemas"))?);
            faults.extend(aggregates::faults(&package));
            print(&coverage::by_subtribe());
            print(&format!("{} faults\n", faults.len()));
            for fault in &faults {
                print(&format!("{fault}\n"));
            }
            Ok(if faults.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
        }
    }
}

/// Prints to standard output; a closed pipe is no fault of the data.
fn print(text: &str) {
    let _ = std::io::stdout().lock().write_all(text.as_bytes());
}
