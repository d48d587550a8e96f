//! The arguments of `conditions`.

use clap::{Args, Subcommand};
use std::path::PathBuf;

/// Read the air from a data logger's file, a JSON document or a SensorThings service, by a map.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell conditions check --map demo-data/logger/logger.toml --at 2026-10-26T09:00:00-01:00
  guardcell conditions read --map demo-data/logger/logger.toml --at 2026-10-26T09:00:00-01:00 \\
      --output conditions.csv

A map is TOML with `source = \"csv\"`, `\"json\"` or `\"sensorthings\"`; its keys are in
schemas/conditions-map.schema.json, examples in demo-data/logger/. Wherever --conditions takes a
table, it takes a map (.toml) as well.")]
pub(crate) struct Conditions {
    #[command(subcommand)]
    pub(crate) kind: ConditionsKind,
}

#[derive(Debug, Subcommand)]
pub(crate) enum ConditionsKind {
    Check(ConditionsCheck),
    Read(ConditionsRead),
}

/// The map and the moment.
#[derive(Debug, Args)]
pub(crate) struct MapArgs {
    /// The map (TOML); the one of the folder when not given.
    #[arg(long, value_name = "FILE")]
    pub(crate) map: Option<PathBuf>,
    /// The moment to count ages to: 18:00, a date (its end), or a time with offset; now when not
    /// given.
    #[arg(long, value_name = "TIME")]
    pub(crate) at: Option<String>,
    /// Take readings that are older than the map allows.
    #[arg(long)]
    pub(crate) allow_stale: bool,
}

/// Explain what a map reads: rows, gaps, faults, units, ages. Exit with 1 when it is stale.
#[derive(Debug, Args)]
pub(crate) struct ConditionsCheck {
    #[command(flatten)]
    pub(crate) map: MapArgs,
}

/// Write what a map reads as a table of conditions (CSV).
#[derive(Debug, Args)]
pub(crate) struct ConditionsRead {
    #[command(flatten)]
    pub(crate) map: MapArgs,
    /// The file to write; standard output when not given.
    #[arg(long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Write for a spreadsheet: the name of an area that it would run as a formula begins with an
    /// apostrophe.
    #[arg(long)]
    pub(crate) spreadsheet: bool,
}
