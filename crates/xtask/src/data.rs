//! `cargo xtask data`: checks of the reference tables and the numbers quoted from them.

mod coverage;
mod dwca;
mod references;
mod schema;
mod stats;
mod table;
mod zip;

use clap::Subcommand;
use std::path::{Path, PathBuf};

/// Arguments of `cargo xtask data`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
    /// The directory of the tables, instead of `data/` of the repository.
    #[arg(long, global = true)]
    dir: Option<PathBuf>,
}

#[derive(Subcommand)]
enum What {
    /// Check schema, keys, duplicates, impossible combinations and sums; show the coverage.
    Check,
    /// Print the numbers quoted in the README.
    Stats,
    /// Write the Darwin Core Archive (a ZIP file) of the compiled tables.
    Dwca {
        /// The file to write.
        #[arg(long, default_value = "target/guardcell-dwca.zip")]
        out: PathBuf,
    },
}

/// What went wrong while reading a file.
#[derive(Debug, thiserror::Error)]
pub(crate) enum DataError {
    /// A file could not be read.
    #[error("{path}: {source}")]
    File { path: String, source: std::io::Error },
    /// A file holds something else than it should.
    #[error("{path}: {what}")]
    Content { path: String, what: String },
}

/// Prints what was asked for; says whether the tables are without fault.
pub(crate) fn run(args: &Args, root: &Path) -> Result<bool, DataError> {
    let dir = args.dir.clone().unwrap_or_else(|| root.join("data"));
    match &args.what {
        What::Dwca { out } => {
            let path = if out.is_absolute() { out.clone() } else { root.join(out) };
            std::fs::write(&path, dwca::archive())
                .map_err(|source| DataError::File { path: path.display().to_string(), source })?;
            println!("{}", path.display());
            Ok(true)
        }
        What::Stats => {
            print!("{}", stats::numbers());
            Ok(true)
        }
        What::Check => {
            let package = table::Package::read(&dir)?;
            let mut faults = package.faults();
            faults.extend(schema::faults(&package, &root.join("schemas"))?);
            faults.extend(references::faults(&package));
            print!("{}", coverage::by_subtribe());
            print!("{}", coverage::grown(&package));
            for fault in &faults {
                println!("{fault}");
            }
            println!("{} faults", faults.len());
            Ok(faults.is_empty())
        }
    }
}
