//! Checks `data/` and compiles it to static tables: nothing is parsed when a program starts.
#![allow(missing_docs, clippy::print_stdout)] // cargo reads the standard output

mod parameters;
mod salts;
mod sources;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            println!("cargo::error={}", message.replace('\n', " "));
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), String> {
    let manifest = PathBuf::from(env("CARGO_MANIFEST_DIR")?);
    let data = manifest.join("../../data");
    let out = PathBuf::from(env("OUT_DIR")?);
    println!("cargo::rerun-if-changed={}", data.display());
    println!("cargo::rerun-if-changed=build");
    let keys = sources::compile(&data, &out)?;
    parameters::compile(&data, &out, &keys)?;
    salts::compile(&data, &out, &keys)?;
    Ok(())
}

fn env(name: &str) -> Result<String, String> {
    std::env::var(name).map_err(|e| format!("{name}: {e}"))
}

/// Writes one generated file.
pub(crate) fn write(out: &Path, name: &str, text: &str) -> Result<(), String> {
    std::fs::write(out.join(name), text).map_err(|e| format!("{name}: {e}"))
}

/// Reads a table of `data/` as rows keyed by position, with the line number for messages.
pub(crate) fn read(path: &Path, columns: &[&str]) -> Result<Vec<(u64, Vec<String>)>, String> {
    let mut reader =
        csv::Reader::from_path(path).map_err(|e| format!("{}: {e}", path.display()))?;
    let header = reader.headers().map_err(|e| format!("{}: {e}", path.display()))?;
    if header.iter().ne(columns.iter().copied()) {
        return Err(format!(
            "{}:1: the columns are {:?}; they should be {columns:?}",
            path.display(),
            header.iter().collect::<Vec<_>>()
        ));
    }
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|e| format!("{}: {e}", path.display()))?;
        let line = record.position().map_or(0, csv::Position::line);
        rows.push((line, record.iter().map(|f| f.trim().to_owned()).collect()));
    }
    Ok(rows)
}
