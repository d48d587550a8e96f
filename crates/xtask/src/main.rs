//! Data checks, accuracy tables and release chores.
#![allow(clippy::print_stdout, clippy::print_stderr)] // a program for the terminal

mod accuracy_clock;
mod accuracy_film;
mod accuracy_openings;
mod accuracy_solution;
mod accuracy_traits;
mod calibrate;
mod calibrate_mixing;
mod calibrate_pathway;
mod data;
mod demo_conditions;
mod demo_journal;
mod demo_year;
mod fit_relatives;
mod study_random;
mod study_round;
mod study_threshold;
mod supply;
mod wasm;

use clap::{Parser, Subcommand};
use std::error::Error;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Parser)]
#[command(name = "cargo xtask", about = "Data checks, accuracy tables and release chores")]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Print how far the models are from their outside references; fails where a bound is broken.
    Accuracy {
        /// Which ones, such as `clock`; all where none is named.
        names: Vec<String>,
    },
    /// Fit what has no source to common practice or to the values, and print the fit; fails where
    /// the table differs from it (not for `mixing`).
    Calibrate {
        /// What to fit: `residue`, `mixing` or `pathway`.
        what: calibrate::What,
        /// Put the numbers into the data table.
        #[arg(long)]
        write: bool,
    },
    /// Check the reference tables, or print their numbers.
    Data(data::Args),
    /// Hold what is learned against invented growers, or the rounds of a year against their bars,
    /// and print the table; fails where a bar is missed.
    Study {
        /// Which study: `threshold` or `round`.
        what: Study,
        /// Growers in each world; with fewer than 200 the bars are wider.
        #[arg(long, default_value_t = 200)]
        growers: usize,
        /// Days of the year that rounds are planned on.
        #[arg(long, default_value_t = 36)]
        days: usize,
        /// The seed of the generator.
        #[arg(long, default_value_t = 1)]
        seed: u64,
    },
    /// Write the schemas of requests and responses and `schemas/openapi.json`.
    Schemas,
    /// Print faulty requests for every call with what they must be refused with, one JSON a line.
    Faults,
    /// Write the header of the C library.
    Header,
    /// Write the typed part of the Python package.
    Python,
    /// Write the types of the package for npm; with an engine also the package.
    Npm {
        /// The folder with `engine.js` and `engine_bg.wasm`.
        #[arg(long, value_name = "DIR", requires = "output")]
        engine: Option<PathBuf>,
        /// The folder for the package, ready for `npm pack`.
        #[arg(long, value_name = "DIR", requires = "engine")]
        output: Option<PathBuf>,
    },
    /// Print the software bill of materials of the program (CycloneDX, JSON).
    Sbom,
    /// Print the licences of everything in the program that others wrote.
    Licences,
    /// Build the engine of the page (WebAssembly) and print its size; fails where it is too large.
    Wasm {
        /// The folder for `engine.js` and `engine_bg.wasm`; `target/engine` where not given.
        #[arg(long, value_name = "DIR")]
        output: Option<PathBuf>,
    },
    /// Write one of the generated files of `demo-data/`.
    Demo {
        /// Which one, such as `conditions`.
        name: String,
        /// Write nothing; fail where the files are not what would be written.
        #[arg(long)]
        check: bool,
    },
}

/// A study by simulation.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
enum Study {
    /// The learned residue threshold.
    Threshold,
    /// What the round wastes and how long it takes.
    Round,
}

/// A table of accuracy: prints itself, says whether its bounds hold.
type Accuracy = fn(&Path) -> Result<bool, Box<dyn Error>>;
/// A file to be written: its path from the root of the repository, and what it holds.
pub(crate) type Generated = (&'static str, Vec<u8>);
/// A generator of demo data: takes the root of the repository.
type Demo = fn(&Path) -> Result<Vec<Generated>, Box<dyn Error>>;

const ACCURACY: &[(&str, Accuracy)] = &[
    ("clock", accuracy_clock::print),
    ("film", accuracy_film::print),
    ("openings", accuracy_openings::print),
    ("solution", accuracy_solution::print),
    ("traits", accuracy_traits::print),
];
const DEMO: &[(&str, Demo)] = &[
    ("conditions", demo_conditions::made),
    ("journal", demo_journal::made),
    ("year", demo_year::made),
];

fn main() -> ExitCode {
    match run(Cli::parse().command) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(e) => {
            eprintln!("error: {e}");
            ExitCode::FAILURE
        }
    }
}

fn run(command: Command) -> Result<bool, Box<dyn Error>> {
    let root: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    match command {
        Command::Accuracy { names } => {
            let mut holds = true;
            for name in &names {
                if !ACCURACY.iter().any(|(n, _)| n == name) {
                    return Err(unknown(name, ACCURACY.iter().map(|(n, _)| *n)));
                }
            }
            for (name, print) in ACCURACY {
                if names.is_empty() || names.iter().any(|n| n == name) {
                    holds &= print(&root)?;
                }
            }
            Ok(holds)
        }
        Command::Calibrate { what, write } => calibrate::run(what, write, &root),
        Command::Data(args) => Ok(data::run(&args, &root)?),
        Command::Study { what: Study::Threshold, growers, seed, .. } => {
            study_threshold::print(growers, seed)
        }
        Command::Study { what: Study::Round, days, seed, .. } => {
            study_round::print(days, seed, &root)
        }
        Command::Schemas => {
            guardcell_xtask::schemas::write(&root)?;
            Ok(true)
        }
        Command::Faults => {
            for fault in guardcell_xtask::faults::all(&root)? {
                println!("{}", serde_json::to_string(&fault)?);
            }
            Ok(true)
        }
        Command::Header => {
            use guardcell_xtask::header;
            std::fs::write(root.join(header::PATH), header::text(&root)?)?;
            Ok(true)
        }
        Command::Python => {
            guardcell_xtask::python::write(&root)?;
            Ok(true)
        }
        Command::Npm { engine, output } => {
            guardcell_xtask::npm::write(&root, engine.as_deref().zip(output.as_deref()))?;
            Ok(true)
        }
        Command::Sbom => {
            print!("{}", supply::sbom(&root)?);
            Ok(true)
        }
        Command::Licences => {
            print!("{}", supply::licences(&root)?);
            Ok(true)
        }
        Command::Wasm { output } => wasm::build(&root, output),
        Command::Demo { name, check } => {
            let (_, made) = DEMO
                .iter()
                .find(|(n, _)| *n == name)
                .ok_or_else(|| unknown(&name, DEMO.iter().map(|(n, _)| *n)))?;
            for (path, bytes) in made(&root)? {
                if !check {
                    std::fs::write(root.join(path), bytes)?;
                } else if bytes != std::fs::read(root.join(path))? {
                    return Err(format!("{path} is stale: run `cargo xtask demo {name}`").into());
                }
            }
            Ok(true)
        }
    }
}

fn unknown(name: &str, known: impl Iterator<Item = &'static str>) -> Box<dyn Error> {
    format!("{name:?} is not known; it should be one of {:?}", known.collect::<Vec<_>>()).into()
}
