//! Arguments of `init` and `check`.

use clap::Args;
use std::path::PathBuf;

/// Make your folder: asks a few things and says why, or takes everything by flags.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell init                         (asks)
  guardcell init orchids --place \"51.5 -0.1\" --areas \"windowsill, rack: shelf lamps 7-21\" \\
      --plants \"Phalaenopsis, Cattleya labiata (mounted) @rack\" --feed 20-20-20 \\
      --water rain --air \"22 60\" --tools \"mister 1 L, scale 0.1 g, 7-9, 18-22\" --yes
  guardcell init --demo fernhollow       (an invented cloud-forest house, with a year of air)

Only the first two questions need an answer. Nothing is ever overwritten, and every file is plain
text that you can edit.")]
pub(crate) struct Init {
    /// The folder to make; that of --dir, else this one, when not given.
    #[arg(value_name = "FOLDER")]
    pub(crate) folder: Option<PathBuf>,
    /// Write the folder of the invented Fernhollow Conservatory.
    #[arg(long, conflicts_with_all = ["name", "place", "areas", "plants", "feed", "water", "air", "tools"])]
    pub(crate) demo: bool,
    /// Ask nothing: what no flag gives is left out.
    #[arg(long)]
    pub(crate) yes: bool,
    /// The name of the site; that of the folder when not given.
    #[arg(long)]
    pub(crate) name: Option<String>,
    /// Where the plants are: coordinates or a time zone.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) place: Option<String>,
    /// The areas: room, windowsill, cabinet, glass, lean-to, shade house, covered patio, outdoors.
    #[arg(long)]
    pub(crate) areas: Option<String>,
    /// The plants by name, or a file with one a line, or a collection (CSV).
    #[arg(long, value_name = "NAMES|FILE")]
    pub(crate) plants: Option<String>,
    /// The feed: N-P-K figures, or the file of its label.
    #[arg(long, value_name = "N-P-K|FILE")]
    pub(crate) feed: Option<String>,
    /// The water: rain, an EC and a hardness, or the file of a report.
    #[arg(long, value_name = "WORDS|FILE")]
    pub(crate) water: Option<String>,
    /// The air as it is now ("22 60 fan"), or the table of a logger.
    #[arg(long, value_name = "WORDS|FILE", allow_hyphen_values = true)]
    pub(crate) air: Option<String>,
    /// Mister, scale and the hours when you can be there.
    #[arg(long)]
    pub(crate) tools: Option<String>,
}

/// Read the whole folder: what each name was taken for, labels, water, air, and what is missing.
/// Exit with 1 where something is missing or wrong.
#[derive(Debug, Args)]
pub(crate) struct Check {
    /// The moment that ages of readings are counted to; now when not given.
    #[arg(long, value_name = "WHEN")]
    pub(crate) at: Option<String>,
}
