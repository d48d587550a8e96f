//! The command line of `case`.

use super::{FromJournal, Inputs};
use clap::Args;
use std::path::PathBuf;

/// Everything that the folder and the journal know of one plant, on one screen or as a sheet to print
/// or to send to somebody who is asked for advice.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell case FH-015
  guardcell case FH-015 --output FH-015.md
  guardcell case FH-015 --weeks 26 --output FH-015.html")]
pub(crate) struct Case {
    /// The plant, by id.
    #[arg(value_name = "PLANT")]
    pub(crate) id: String,
    /// Write the whole sheet to this file: Markdown, or HTML where its name ends in .html. The screen
    /// shows the last of each part.
    #[arg(long, short, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// How many weeks to look back.
    #[arg(long, default_value_t = 12, value_parser = clap::value_parser!(u16).range(1..=520))]
    pub(crate) weeks: u16,
    #[command(flatten)]
    pub(crate) inputs: Inputs,
    #[command(flatten)]
    pub(crate) learned: FromJournal,
}
