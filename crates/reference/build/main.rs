//! Checks the reference tables and compiles them to Rust: no table is parsed or checked by a program.
#![allow(missing_docs, clippy::print_stdout)] // cargo reads the standard output

mod acids;
mod aqueous;
#[path = "../src/fold.rs"]
mod fold;
mod formula;
mod genera;
mod keys;
mod leaf_rule;
mod materials;
mod names;
mod observations;
mod other_plants;
mod pack;
mod parameters;
#[allow(dead_code, unreachable_pub, reason = "a public module of the library")]
#[path = "../src/pathway_relatives.rs"]
mod pathway_relatives;
#[allow(dead_code, unreachable_pub, reason = "a public module of the library")]
#[path = "../src/pathway_rule.rs"]
mod pathway_rule;
mod pitzer;
mod salts;
#[path = "../src/share_grid.rs"]
mod share_grid;
mod solubility;
mod sources;
mod species;
mod species_names;
mod stomata;
mod table;
mod traits;
mod unit;

use guardcell_data::Table;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            for line in message.lines() {
                println!("cargo::error={line}");
            }
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), String> {
    let out = PathBuf::from(env("OUT_DIR")?);
    println!("cargo::rerun-if-changed=build");
    println!("cargo::rerun-if-changed=src/fold.rs");
    println!("cargo::rerun-if-changed=src/pathway_relatives.rs");
    println!("cargo::rerun-if-changed=src/pathway_rule.rs");
    println!("cargo::rerun-if-changed=src/share_grid.rs");
    println!("cargo::rustc-env=DATASET_VERSION={}", guardcell_data::VERSION);
    let keys = sources::compile(&out)?;
    parameters::compile(&out, &keys)?;
    materials::compile(&out, &keys)?;
    acids::compile(&out, &keys)?;
    solubility::compile(&out, &keys)?;
    aqueous::compile(&out, &keys)?;
    pitzer::compile(&out, &keys)?;
    salts::compile(&out, &keys)?;
    taxa(&out, &keys)
}

/// Genera, species and names refer to each other, so they are read together.
fn taxa(out: &Path, sources: &BTreeMap<String, usize>) -> Result<(), String> {
    let mut faults = table::Faults::default();
    let mut genera = genera::parse(sources, &mut faults)?;
    let rule = pathway_rule::Rule::of(parameters::numbers(guardcell_data::PATHWAY)?)
        .map_err(|key| format!("data/pathway.csv: {key} is missing"))?;
    let (records, statements) = observations::parse(&genera, sources, &mut faults)?;
    let mut species = species::gather(&records, &rule);
    genera::check(&genera, &species, &mut faults);
    let groups = species::groups(&genera, &species, &statements);
    let relatives = pathway_relatives::Relatives::new(rule, groups);
    genera::judge(&mut genera, &species, &statements, &relatives, &rule);
    species::judge(&mut species, &genera, &relatives, &rule);
    let names = names::parse(&genera, sources, &mut faults)?;
    let mut lists = pack::Lists::new(sources);
    let keys = keys::emit(&genera, &names, &mut faults);
    let species_names =
        species_names::compile(&genera, &records, sources, &mut lists, &mut faults)?;
    let is_orchid =
        |g: &str| genera.iter().any(|o| o.name == g) || names.iter().any(|n| n.name == g);
    let other_plants = other_plants::compile(is_orchid, &mut faults)?;
    let stomata = stomata::compile(&genera, sources, &mut faults)?;
    if !faults.errors.is_empty() {
        return Err(faults.errors.join("\n"));
    }
    let ranges = species::ranges(&species, &genera);
    write(out, "traits.rs", &traits::emit())?;
    write(out, "genera.rs", &genera::emit(&genera, &ranges, &mut lists))?;
    write(out, "species.rs", &species::emit(&records, &species, &rule, &mut lists))?;
    write(out, "names.rs", &names::emit(&names, &genera, &mut lists))?;
    write(out, "lists.rs", &lists.rust())?;
    write(out, "leaf_rule.rs", &leaf_rule::emit(&records, &genera, &rule))?;
    write(out, "species_names.rs", &species_names)?;
    write(out, "stomata.rs", &stomata)?;
    write(out, "other_plants.rs", &other_plants)?;
    write(out, "keys.rs", &keys)
}

fn env(name: &str) -> Result<String, String> {
    std::env::var(name).map_err(|e| format!("{name}: {e}"))
}

/// Writes one generated file.
pub(crate) fn write(out: &Path, name: &str, text: &str) -> Result<(), String> {
    std::fs::write(out.join(name), text).map_err(|e| format!("{name}: {e}"))
}

/// The rows of a table with the line number of each.
pub(crate) fn read(table: Table, columns: &[&str]) -> Result<Vec<(u64, Vec<String>)>, String> {
    let file = table.file;
    let mut reader = csv::Reader::from_reader(table.csv.as_bytes());
    let header = reader.headers().map_err(|e| format!("data/{file}: {e}"))?;
    if header.iter().ne(columns.iter().copied()) {
        return Err(format!(
            "data/{file}:1: the columns are {:?}; they should be {columns:?}",
            header.iter().collect::<Vec<_>>()
        ));
    }
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|e| format!("data/{file}: {e}"))?;
        let line = record.position().map_or(0, csv::Position::line);
        rows.push((line, record.iter().map(|f| f.trim().to_owned()).collect()));
    }
    Ok(rows)
}
