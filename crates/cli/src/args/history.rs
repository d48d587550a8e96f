//! Arguments of `history`.

use super::{JournalFile, Place};
use clap::{Args, Subcommand};
use std::path::PathBuf;

/// What plants got, whether the strength is right, what to change this week.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell history                    (in your folder)
  guardcell history FH-011 --weeks 12
  guardcell history threshold --svg threshold.svg
  guardcell history growth --plant FH-015 --svg growth.svg
  guardcell history entries --plant FH-011")]
#[command(args_conflicts_with_subcommands = false)]
pub(crate) struct History {
    #[command(flatten)]
    pub(crate) file: JournalFile,
    #[command(flatten)]
    pub(crate) place: Place,
    /// The moment to look back from: a date (its end) or a time; now when not given.
    #[arg(long, global = true, value_name = "WHEN")]
    pub(crate) at: Option<String>,
    /// How many weeks to look back.
    #[arg(long, global = true, default_value_t = 8, value_parser = clap::value_parser!(u16).range(1..=520))]
    pub(crate) weeks: u16,
    /// The chance of visible residue that is accepted, such as "10 %"; that of the site, else of
    /// practice, when not given.
    #[arg(long, global = true)]
    pub(crate) tolerance: Option<String>,
    /// Write the picture to this file as SVG.
    #[arg(long, global = true, value_name = "FILE")]
    pub(crate) svg: Option<PathBuf>,
    /// Only these plants, by id.
    #[arg(long, global = true, value_name = "ID")]
    pub(crate) plant: Vec<String>,
    /// What to show instead of the feeds.
    #[command(subcommand)]
    pub(crate) what: Option<HistoryKind>,
    /// Only these plants: the same as --plant.
    #[arg(value_name = "PLANT")]
    pub(crate) plants: Vec<String>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum HistoryKind {
    Threshold(HistoryThreshold),
    /// What was counted and measured on each plant, by month, and what that tells.
    Growth,
    Entries(HistoryEntries),
}

/// The residue threshold that was learned: before, evidence, now, and the next strength.
#[derive(Debug, Args)]
pub(crate) struct HistoryThreshold {
    /// The threshold of this group instead of that of the site.
    #[arg(long)]
    pub(crate) group: Option<String>,
    /// The probability that the interval holds, such as "90 %".
    #[arg(long)]
    pub(crate) interval: Option<String>,
}

/// The entries, newest last, corrections below what they correct.
#[derive(Debug, Args)]
pub(crate) struct HistoryEntries {
    /// Also entries that were corrected or retracted.
    #[arg(long)]
    pub(crate) all: bool,
    /// Only this kind: round, root-feed, residue, flush, soak, response or note.
    #[arg(long)]
    pub(crate) kind: Option<String>,
}
