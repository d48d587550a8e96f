//! The arguments of `conditions`.

use clap::{Args, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Read the air from a data logger's file, a JSON document, a SensorThings service or a broker of
/// MQTT, by a map.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell conditions probe export.csv --output conditions/logger.toml
  guardcell conditions check --map demo-data/logger/logger.toml --at 2026-10-26T09:00:00-01:00
  guardcell conditions read --map demo-data/logger/logger.toml --at 2026-10-26T09:00:00-01:00 \\
      --output conditions.csv

A map is TOML with `source = \"csv\"`, `\"json\"`, `\"sensorthings\"` or `\"mqtt\"`; its keys are in
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
    Probe(ConditionsProbe),
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

/// Propose a map for an unknown logger's file, and show what it would read. Exit with 1 where
/// something is open.
#[derive(Debug, Args)]
#[command(
    after_help = "What two readings of the file would both fit is not guessed: it is said, and there is no map
until an option states it. What was assumed is said as well, here and in the map.

Examples:
  guardcell conditions probe export.csv
  guardcell conditions probe export.csv --zone -01:00 --output conditions/logger.toml
  unzip -p export.zip | guardcell conditions probe -"
)]
pub(crate) struct ConditionsProbe {
    /// The file: a table with any separator, or JSON; `-` is standard input.
    pub(crate) file: PathBuf,
    /// Write the map to this file; one that is there is never overwritten.
    #[arg(long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// The time zone of the logger's clock, where its times have no offset: a name such as
    /// Atlantic/Azores, or an offset such as -01:00. That of the site, else that of this machine,
    /// when not given.
    #[arg(long, value_name = "ZONE", allow_hyphen_values = true)]
    pub(crate) zone: Option<String>,
    /// The area of the readings, where the file holds those of one.
    #[arg(long, value_name = "AREA")]
    pub(crate) area: Option<String>,
    /// What is first in dates, where no time of the file tells.
    #[arg(long, value_name = "ORDER")]
    pub(crate) date_order: Option<Order>,
    /// The moment to count ages to, as in `conditions check`.
    #[arg(long, value_name = "TIME")]
    pub(crate) at: Option<String>,
}

/// What is first in a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Order {
    /// 21/06/2026.
    #[value(name = "day-first")]
    Day,
    /// 06/21/2026.
    #[value(name = "month-first")]
    Month,
    /// 26/06/21.
    #[value(name = "year-first")]
    Year,
}
