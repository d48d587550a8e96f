//! Arguments of `log` and `journal`.

use clap::{Args, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Which journal.
#[derive(Debug, Clone, Args)]
pub(crate) struct JournalFile {
    /// The journal. Without it $GUARDCELL_JOURNAL, else `journal.db` of the folder. `log` and `journal
    /// import` create it if missing.
    #[arg(long, global = true, value_name = "FILE")]
    pub(crate) journal: Option<PathBuf>,
}

/// Where the grower is, and which plants there are.
#[derive(Debug, Clone, Args)]
pub(crate) struct Place {
    /// The site (TOML): its name, time zone and mister; else that of the folder. Without either,
    /// name and zone are those of the entry that was recorded last.
    #[arg(long, global = true, value_name = "FILE")]
    pub(crate) site: Option<PathBuf>,
    /// The name of the site, instead of a site file.
    #[arg(long, global = true, value_name = "NAME")]
    pub(crate) site_name: Option<String>,
    /// IANA time zone of the times, such as Europe/London; that of the site when not given.
    #[arg(long, global = true)]
    pub(crate) zone: Option<String>,
    /// The collection (CSV), to check ids and to choose by area, setting or standing; else that of
    /// the folder.
    #[arg(long, global = true, value_name = "FILE")]
    pub(crate) collection: Option<PathBuf>,
}

/// Record what was done and seen.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell log round --plan plan.json --sitting 1 --skip FH-014
  guardcell log round FH-001 FH-003 --strength \"300 mg/L\" --volume \"1/2 mister\" --passes 2
  guardcell log residue faint FH-001 --at 18:30
  guardcell log flush --area house --setting potted --volume \"6 L\"
  guardcell log note \"Shutters down at ten.\"
  guardcell log correct 3f9c2a… --strength \"150 mg/L\"
  guardcell log --csv entries.csv
  guardcell log                      (asks, line by line, on a terminal)

Nothing is ever overwritten: a correction is a new entry, and the old one is kept. When an id is
printed, its entry is on the disk. Site, plants and journal are those of the folder (see
`guardcell --help`) where no flag names them.")]
#[command(args_conflicts_with_subcommands = false)]
pub(crate) struct LogArgs {
    #[command(flatten)]
    pub(crate) file: JournalFile,
    #[command(flatten)]
    pub(crate) place: Place,
    /// When it happened: 2026-06-21T05:30+01:00, 2026-06-21 05:30 (local), 05:30 (today) or
    /// "yesterday 05:30"; now when not given.
    #[arg(long, global = true, value_name = "WHEN")]
    pub(crate) at: Option<String>,
    /// A remark that goes with the entry.
    #[arg(long, global = true, value_name = "TEXT")]
    pub(crate) note: Option<String>,
    /// Record every row of this CSV file, or none. The columns are those of `journal export
    /// --format csv`, in any order; `at`, `site` and `kind` are needed.
    #[arg(long, value_name = "FILE")]
    pub(crate) csv: Option<PathBuf>,
    /// Ask line by line even where standard input is not a terminal.
    #[arg(long)]
    pub(crate) ask: bool,
    /// What to record; asked for where it is not given.
    #[command(subcommand)]
    pub(crate) kind: Option<LogKind>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum LogKind {
    Round(LogRound),
    Residue(LogResidue),
    Flush(LogFlush),
    Soak(LogSoak),
    RootFeed(LogRootFeed),
    Response(LogResponse),
    Growth(LogGrowth),
    Wipe(LogWipe),
    Task(LogTask),
    Done(LogDone),
    Note(LogNote),
    Correct(LogCorrect),
    Retract(LogRetract),
}

/// Which plants.
#[derive(Debug, Clone, Args)]
pub(crate) struct Plants {
    /// Ids of plants; `*` and `?` stand for any letters of ids in the collection or the journal.
    #[arg(value_name = "PLANT")]
    pub(crate) plants: Vec<String>,
    /// The plants of this area of the collection.
    #[arg(long)]
    pub(crate) area: Option<String>,
    /// The plants of this setting: mounted, basket, potted or landscape.
    #[arg(long)]
    pub(crate) setting: Option<String>,
    /// The plants of this standing: established, ordinary, seedling, weak or rootless.
    #[arg(long)]
    pub(crate) standing: Option<String>,
}

/// The air of that day, and the residue that the film model gives for it.
#[derive(Debug, Clone, Default, Args)]
pub(crate) struct Air {
    /// Air temperature: 21 is °C.
    #[arg(long)]
    pub(crate) temp: Option<String>,
    /// Relative humidity: 70 is %.
    #[arg(long)]
    pub(crate) humidity: Option<String>,
    /// Air movement at the leaves: still, light, fan, breezy, windy, or 0.3 (m/s).
    #[arg(long)]
    pub(crate) air: Option<String>,
    /// Modelled residue of feed salts, such as "0.02 g/m2", where `advise`, `round` or `film`
    /// told it.
    #[arg(long)]
    pub(crate) modelled: Option<String>,
    /// Modelled carbonate scale, such as "0.005 g/m2".
    #[arg(long)]
    pub(crate) modelled_scale: Option<String>,
}

/// A round through the leaf: from a plan with edits, or by hand.
#[derive(Debug, Args)]
pub(crate) struct LogRound {
    #[command(flatten)]
    pub(crate) who: Plants,
    /// The plan, as `guardcell round --json` wrote it: plants, strengths, volumes, air and
    /// modelled residue come from it, and the time is the start of its sitting unless --at says
    /// otherwise.
    #[arg(long, value_name = "FILE")]
    pub(crate) plan: Option<PathBuf>,
    /// Which sitting of the plan, from 1; not needed where there is only one.
    #[arg(long, requires = "plan")]
    pub(crate) sitting: Option<usize>,
    /// Only this step of the sitting, from 1; every step when not given.
    #[arg(long, requires = "plan")]
    pub(crate) step: Option<usize>,
    /// A plant of the plan that was left out, by id; its volume goes with it.
    #[arg(long, value_name = "ID")]
    pub(crate) skip: Vec<String>,
    /// Feed strength, such as "300 mg/L"; 0 mg/L for plain water.
    #[arg(long)]
    pub(crate) strength: Option<String>,
    /// Nitrogen in it, such as "45 mg/L N".
    #[arg(long)]
    pub(crate) n: Option<String>,
    /// The product.
    #[arg(long)]
    pub(crate) product: Option<String>,
    /// Passes over each plant.
    #[arg(long)]
    pub(crate) passes: Option<u8>,
    /// Volume over all plants and passes, such as "700 mL", or "1/2 mister" with --site.
    #[arg(long)]
    pub(crate) volume: Option<String>,
    #[command(flatten)]
    pub(crate) with: With,
    #[command(flatten)]
    pub(crate) conditions: Air,
}

/// What it was dissolved in and sprayed with, by your own names. A name that is new, or was not
/// used for long, is a change: what was seen before counts less.
#[derive(Debug, Clone, Default, Args)]
pub(crate) struct With {
    /// The water, such as "rain" or "half tap".
    #[arg(long)]
    pub(crate) water: Option<String>,
    /// The wetting agent; "none" where you gave one up.
    #[arg(long)]
    pub(crate) wetting_agent: Option<String>,
    /// The sprayer.
    #[arg(long)]
    pub(crate) sprayer: Option<String>,
}

/// A look for residue once dry. `none` is worth as much as `heavy`: log both.
#[derive(Debug, Args)]
pub(crate) struct LogResidue {
    /// none, faint (only in slanting light), clear (seen at once) or heavy (a crust).
    pub(crate) level: String,
    #[command(flatten)]
    pub(crate) who: Plants,
    /// A name for plants that look alike, such as "dark leaves": it can learn a threshold of its
    /// own.
    #[arg(long)]
    pub(crate) group: Option<String>,
    /// leaf, root-tip or pot-surface.
    #[arg(long, default_value = "leaf")]
    pub(crate) place: String,
    /// feed (wiped off with plain water), scale (stays) or unknown.
    #[arg(long, default_value = "unknown")]
    pub(crate) nature: String,
    /// Whether the leaves had been wiped before that round, yes or no; taken as yes when not
    /// given. White on leaves that were not is white since the last wipe.
    #[arg(long, value_name = "YES|NO")]
    pub(crate) wiped: Option<String>,
    /// The entry of the round it followed; the last round on these plants when not given.
    #[arg(long, value_name = "ID")]
    pub(crate) round: Option<String>,
    #[command(flatten)]
    pub(crate) conditions: Air,
}

/// A flush of pots with plain water.
#[derive(Debug, Args)]
pub(crate) struct LogFlush {
    #[command(flatten)]
    pub(crate) who: Plants,
    /// Water poured through, over all plants.
    #[arg(long)]
    pub(crate) volume: Option<String>,
    #[command(flatten)]
    pub(crate) drain: Drain,
}

/// What ran out below.
#[derive(Debug, Clone, Args)]
pub(crate) struct Drain {
    /// How much ran out below, over all plants.
    #[arg(long)]
    pub(crate) drain: Option<String>,
    /// What was dissolved in that, such as "400 mg/L".
    #[arg(long)]
    pub(crate) drain_strength: Option<String>,
}

/// A soak of rootless plants.
#[derive(Debug, Args)]
pub(crate) struct LogSoak {
    #[command(flatten)]
    pub(crate) who: Plants,
    /// Feed strength; that of practice for a rootless plant when not given.
    #[arg(long)]
    pub(crate) strength: Option<String>,
    /// How long, such as "30 min"; that of practice when not given.
    #[arg(long, value_name = "TIME")]
    pub(crate) lasted: Option<String>,
}

/// A feed at the root.
#[derive(Debug, Args)]
pub(crate) struct LogRootFeed {
    #[command(flatten)]
    pub(crate) who: Plants,
    /// Feed strength, such as "300 mg/L".
    #[arg(long)]
    pub(crate) strength: String,
    /// Nitrogen in it, such as "45 mg/L N".
    #[arg(long)]
    pub(crate) n: Option<String>,
    /// The product.
    #[arg(long)]
    pub(crate) product: Option<String>,
    /// Volume over all plants.
    #[arg(long)]
    pub(crate) volume: Option<String>,
    #[command(flatten)]
    pub(crate) drain: Drain,
}

/// What plants did.
#[derive(Debug, Args)]
pub(crate) struct LogResponse {
    /// root-tip, new-growth, bud or loss.
    pub(crate) sign: String,
    #[command(flatten)]
    pub(crate) who: Plants,
}

/// What was counted or measured on a plant, or the file name of a photo.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell log growth FH-001 new-root 2
  guardcell log growth FH-001 leaf-length \"18 cm\" --photo FH-001-june.jpg
  guardcell log growth FH-001 new-leaf 0                   (looked at, nothing new)")]
pub(crate) struct LogGrowth {
    /// The plant, by id; `*` and `?` stand for any letters.
    pub(crate) plant: String,
    /// What: new-root, new-leaf, new-pseudobulb, flower, lost-leaf (each new since the look before),
    /// leaf-length or weight.
    #[arg(required_unless_present = "photo", requires = "value")]
    pub(crate) measure: Option<String>,
    /// How many, or how much: 2, "18 cm" (a bare length is in mm), "120 g" (a bare weight is in g).
    pub(crate) value: Option<String>,
    /// The file name of a photo.
    #[arg(long, value_name = "NAME")]
    pub(crate) photo: Option<String>,
}

/// Leaves that were wiped clean: the next look tells about the rounds after it.
#[derive(Debug, Args)]
pub(crate) struct LogWipe {
    #[command(flatten)]
    pub(crate) who: Plants,
}

/// Something to be done by a day; `guardcell` shows it when it is due.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell log task \"repot\" FH-003 --due 2027-03-01
  guardcell log task \"clean the mister\" --due 2026-07-01 --every 30
  guardcell log done \"clean the mister\"")]
pub(crate) struct LogTask {
    /// What is to be done.
    pub(crate) what: String,
    #[command(flatten)]
    pub(crate) who: Plants,
    /// The day it is due.
    #[arg(long, value_name = "DATE")]
    pub(crate) due: String,
    /// Days after which it is due again once it was done; once only when not given.
    #[arg(long, value_name = "DAYS", value_parser = clap::value_parser!(u32).range(1..=3660))]
    pub(crate) every: Option<u32>,
}

/// A task that was done.
#[derive(Debug, Args)]
pub(crate) struct LogDone {
    /// The task: its words, or its entry by the id or the first letters of it.
    pub(crate) task: String,
}

/// Only a note.
#[derive(Debug, Args)]
pub(crate) struct LogNote {
    /// The note.
    pub(crate) text: String,
    #[command(flatten)]
    pub(crate) who: Plants,
}

/// Correct an entry: what is not given stays as it was; the old entry is kept.
#[derive(Debug, Args)]
pub(crate) struct LogCorrect {
    /// The entry, by its id or the first letters of it.
    pub(crate) entry: String,
    /// The plants instead of those it had, by id.
    #[arg(long, value_name = "ID", num_args = 1..)]
    pub(crate) plants: Vec<String>,
    /// Feed strength.
    #[arg(long)]
    pub(crate) strength: Option<String>,
    /// Nitrogen in it.
    #[arg(long)]
    pub(crate) n: Option<String>,
    /// The product.
    #[arg(long)]
    pub(crate) product: Option<String>,
    #[command(flatten)]
    pub(crate) with: With,
    /// Passes over each plant.
    #[arg(long)]
    pub(crate) passes: Option<u8>,
    /// Volume over all plants.
    #[arg(long)]
    pub(crate) volume: Option<String>,
    /// Whether the leaves had been wiped before the round looked at, yes or no.
    #[arg(long, value_name = "YES|NO")]
    pub(crate) wiped: Option<String>,
    /// What was seen: none, faint, clear or heavy.
    #[arg(long)]
    pub(crate) level: Option<String>,
    /// Where: leaf, root-tip or pot-surface.
    #[arg(long, value_name = "PLACE")]
    pub(crate) on: Option<String>,
    /// What it was: feed, scale or unknown.
    #[arg(long)]
    pub(crate) nature: Option<String>,
    /// The group looked at.
    #[arg(long)]
    pub(crate) group: Option<String>,
    /// The sign: root-tip, new-growth, bud or loss.
    #[arg(long)]
    pub(crate) sign: Option<String>,
    /// How long the soak lasted.
    #[arg(long, value_name = "TIME")]
    pub(crate) lasted: Option<String>,
    #[command(flatten)]
    pub(crate) drain: Drain,
    #[command(flatten)]
    pub(crate) conditions: Air,
}

/// Say that an entry was a mistake: it no longer counts, and is kept.
#[derive(Debug, Args)]
pub(crate) struct LogRetract {
    /// The entry, by its id or the first letters of it.
    pub(crate) entry: String,
}

/// Look after the journal as a file.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell journal verify
  guardcell journal backup /media/stick/house.journal
  guardcell journal export --format csv --output entries.csv
  guardcell journal import entries.csv --journal house.journal")]
pub(crate) struct JournalArgs {
    #[command(flatten)]
    pub(crate) file: JournalFile,
    /// What to do.
    #[command(subcommand)]
    pub(crate) what: JournalKind,
}

#[derive(Debug, Subcommand)]
pub(crate) enum JournalKind {
    /// Check every page, reference and entry of the journal; exit code 3 where something is wrong.
    Verify,
    /// Write a checked copy that stands on its own, while others may go on writing.
    Backup {
        /// Where to.
        to: PathBuf,
        /// Replace a file that is there.
        #[arg(long)]
        replace: bool,
    },
    /// Put a backup in the place of the journal.
    Restore {
        /// The backup.
        from: PathBuf,
        /// Replace a journal that is there; it is kept under another name.
        #[arg(long)]
        replace: bool,
    },
    /// Write every entry, corrected ones too, in the order of recording.
    Export {
        /// The format.
        #[arg(long, value_enum, default_value_t = Form::Jsonl)]
        format: Form,
        /// The file; standard output when not given.
        #[arg(long, short, value_name = "FILE")]
        output: Option<PathBuf>,
    },
    /// Read entries, all or none; what is there already is passed over.
    Import {
        /// The file; `-` for standard input.
        input: PathBuf,
        /// The format; by the name of the file when not given.
        #[arg(long, value_enum)]
        format: Option<Form>,
    },
}

/// The format of an export.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Form {
    /// JSON Lines: one entry a line.
    Jsonl,
    /// CSV: one entry a row.
    Csv,
    /// CSV for a spreadsheet: a text that it would run as a formula begins with an apostrophe,
    /// which an import in this format takes away again.
    Spreadsheet,
}

/// The journal that advice learns from.
#[derive(Debug, Clone, Default, Args)]
pub(crate) struct FromJournal {
    /// Use what this journal knows: the learned residue threshold and the next strength, when each
    /// plant was last fed and flushed, what it got at the root. That of the folder when not given.
    #[arg(long, value_name = "FILE")]
    pub(crate) journal: Option<PathBuf>,
    /// Use no journal, not even that of the folder.
    #[arg(long, conflicts_with = "journal")]
    pub(crate) no_journal: bool,
    /// The threshold and the next strength of this group of residue reports for every plant.
    #[arg(long, value_name = "GROUP", conflicts_with = "no_journal")]
    pub(crate) residue_group: Option<String>,
}
