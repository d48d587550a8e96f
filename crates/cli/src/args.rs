//! The command line: one definition of each flag, which help, completions and man pages share.

mod batch;
mod case;
pub(crate) mod conditions;
mod convert;
mod history;
mod init;
mod journal;
mod pair;

pub(crate) use batch::{Batch, BatchFormat};
pub(crate) use case::Case;
pub(crate) use convert::Convert;
pub(crate) use history::{History, HistoryEntries, HistoryKind, HistoryThreshold};
pub(crate) use init::{Check, Init};
pub(crate) use journal::{
    Air as JournalAir, Drain, Form, FromJournal, JournalArgs, JournalFile, JournalKind, LogArgs,
    LogCorrect, LogGrowth, LogKind, LogRetract, LogRound, Place, Plants,
};
pub(crate) use pair::Pair;

use clap::builder::RangedI64ValueParser;
use clap::{Args, Parser, Subcommand};
use guardcell::advice::{AdviceRequest, RescueRequest};
use guardcell::solution::MeterRequest;
use guardcell::{Bound, Bounded};
use std::path::PathBuf;

/// Feed plants through the leaf: when, how strong, and why.
#[derive(Debug, Parser)]
#[command(name = "guardcell", version)]
#[command(after_help = "Exit codes: 0 an answer, 1 a negative verdict with --check, 2 bad input, \
3 reading or writing failed.\nThe product's own label, local rules and licensed practice come \
before any answer of this program.")]
pub(crate) struct Cli {
    /// Print JSON instead of text.
    #[arg(long, global = true)]
    pub(crate) json: bool,
    /// Send calculations and look-ups to this guardcell server instead of doing them here; files are
    /// still read here. GUARDCELL_SERVER sets it for all commands.
    #[arg(long, global = true, value_name = "URL", display_order = 900)]
    pub(crate) server: Option<String>,
    /// Your folder: site.toml, collection.csv, labels/, waters/, conditions/, journal.db. Without it
    /// $GUARDCELL_DIR, else the nearest parent folder with a site.toml.
    #[arg(long, global = true, value_name = "FOLDER", display_order = 899)]
    pub(crate) dir: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) situation: Situation,
    /// What to answer; today, in short, when not given.
    #[command(subcommand)]
    pub(crate) verb: Option<Verb>,
}

pub(crate) use guardcell_table::{DAYS, HOURS};

/// A whole number in the range that a request declares for a field.
fn within<T: Bounded>(field: &str) -> RangedI64ValueParser<u16> {
    let (low, high) = range_of::<T>(field);
    RangedI64ValueParser::new().range(low as i64..=high as i64)
}

/// The range that a request declares for a field.
fn range_of<T: Bounded>(field: &str) -> (f64, f64) {
    let bound = T::BOUNDS.iter().find(|(name, _)| *name == field).map(|(_, bound)| bound);
    match bound {
        Some(Bound::Number { min, max, .. }) => (*min, *max),
        _ => (0.0, f64::from(u16::MAX)),
    }
}

/// A situation to judge: files, typed air, what the journal knows, a part of the collection.
#[derive(Debug, Args)]
pub(crate) struct Situation {
    #[command(flatten)]
    pub(crate) inputs: Inputs,
    #[command(flatten)]
    pub(crate) learned: FromJournal,
    #[command(flatten)]
    pub(crate) only: Only,
}

/// A part of the collection.
#[derive(Debug, Clone, Default, Args)]
pub(crate) struct Only {
    /// Only the plants of this area, by its id.
    #[arg(long, value_name = "ID")]
    pub(crate) area: Vec<String>,
    /// Only the plants of this bench.
    #[arg(long, value_name = "NAME")]
    pub(crate) bench: Vec<String>,
    /// Only these plants, by id.
    #[arg(long, value_name = "ID")]
    pub(crate) plant: Vec<String>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    Init(Init),
    Check(Check),
    Convert(Convert),
    Recipe(Recipe),
    Water(Water),
    Genus(Genus),
    Advise(Advise),
    Round(Round),
    Rescue(Rescue),
    Log(Box<LogArgs>),
    History(History),
    Case(Box<Case>),
    Journal(JournalArgs),
    Air(Air),
    Film(Film),
    Day(Day),
    Solution(Solution),
    Serve(Serve),
    Pair(Pair),
    Page(Page),
    #[cfg(feature = "mcp")]
    Mcp(Mcp),
    Meter(Meter),
    Acid(Acid),
    Tank(Tank),
    Chart(Chart),
    Conditions(conditions::Conditions),
    Batch(Box<Batch>),
    Completions(Completions),
    Man(Man),
}

/// Work out what to weigh for a target, in this water.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell recipe --label demo-data/labels/ --product \"Mist\" --target \"60 ppm N\" --volume \"4 L\"
  guardcell recipe --label label.toml --water demo-data/water.toml \\
      --target \"300 mg/L feed\" --volume \"2 L\"")]
pub(crate) struct Recipe {
    #[command(flatten)]
    pub(crate) feed: FeedArgs,
    /// The water report (TOML), a water of the folder by its name, or `pure`; that of the folder when
    /// not given, and pure water outside of one.
    #[arg(long, value_name = "FILE|NAME")]
    pub(crate) water: Option<PathBuf>,
    /// What to reach, such as "60 ppm N", "300 mg/L feed" or "0.6 mS/cm"; several for several
    /// products.
    #[arg(long, required = true)]
    pub(crate) target: Vec<String>,
    /// The volume to mix.
    #[arg(long)]
    pub(crate) volume: String,
    /// The target is a total: what the water holds is subtracted. Otherwise it is added feed.
    #[arg(long)]
    pub(crate) total: bool,
    /// The smallest mass the scale shows, such as "0.1 g".
    #[arg(long)]
    pub(crate) scale: Option<String>,
}

/// The product or products, by label.
#[derive(Debug, Args)]
pub(crate) struct FeedArgs {
    /// A label (TOML, JSON, CSV or the text of a guaranteed analysis), or a folder of labels; those
    /// of your folder when not given.
    #[arg(long, value_name = "FILE|FOLDER")]
    pub(crate) label: Option<PathBuf>,
    /// Which product, where there are several: its name or a part of it.
    #[arg(long, value_name = "NAME")]
    pub(crate) product: Vec<String>,
}

/// Read a water report: what it holds, what is missing, what it leaves when it dries.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  guardcell water demo-data/water.toml")]
pub(crate) struct Water {
    /// The water report (TOML), or a water of the folder by its name; that of the folder when not
    /// given.
    pub(crate) file: Option<PathBuf>,
    /// A ceiling to find the headroom under, such as "0.8 mS/cm".
    #[arg(long)]
    pub(crate) ceiling: Option<String>,
    /// A second water (rain, RO) to blend with for --blend-to.
    #[arg(long, value_name = "FILE")]
    pub(crate) blend_with: Option<PathBuf>,
    /// What the blend should be, such as "60 mg/L CaCO3 alkalinity" or "0.2 mS/cm".
    #[arg(long, value_name = "TARGET")]
    pub(crate) blend_to: Option<String>,
}

/// Look up when a genus, species or hybrid opens its stomata, and who measured it.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell genus Phalaenopsis
  guardcell genus \"Dendrobium kingianum\"
  guardcell genus Catleya --json
  guardcell genus Somethingia --leaf thick")]
pub(crate) struct Genus {
    /// The name: genus, species, hybrid genus, old name, trade abbreviation, or a near miss.
    #[arg(required_unless_present_any = ["all", "list"])]
    pub(crate) name: Option<String>,
    /// A file of names instead, one a line: says for each what it is taken for.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["name", "all"])]
    pub(crate) list: Option<PathBuf>,
    /// What the leaf is like, for a name without a record: thin, intermediate, thick, terete,
    /// leafless.
    #[arg(long)]
    pub(crate) leaf: Option<String>,
    /// Every record instead of one name.
    #[arg(long, conflicts_with = "name", requires = "format")]
    pub(crate) all: bool,
    /// With --all: the format, `csv` (a taxon a row), `json` and `parquet` (the same) or `dwc`
    /// (Darwin Core measurements as CSV).
    #[arg(long)]
    pub(crate) format: Option<String>,
}

/// The files that advice needs, each from the folder where no flag names it, and the moment.
#[derive(Debug, Args)]
pub(crate) struct Inputs {
    /// The collection (CSV, one plant a row).
    #[arg(long, value_name = "FILE")]
    pub(crate) collection: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) feed: FeedArgs,
    /// The water report (TOML), a water of the folder by its name, or `pure`.
    #[arg(long, value_name = "FILE|NAME")]
    pub(crate) water: Option<PathBuf>,
    /// The site (TOML).
    #[arg(long, value_name = "FILE")]
    pub(crate) site: Option<PathBuf>,
    /// The readings or forecast of the air (CSV), or a map of where they are (TOML; see
    /// `guardcell conditions`), or a folder of both.
    #[arg(long, value_name = "FILE|FOLDER")]
    pub(crate) conditions: Option<PathBuf>,
    /// Take readings that are older than the map allows.
    #[arg(long)]
    pub(crate) allow_stale: bool,
    #[command(flatten)]
    pub(crate) typed: TypedAir,
    /// From when to look ahead: now (when not given), 18:00, "tomorrow 06:00", a date, or a time with
    /// offset. A date starts at local noon.
    #[arg(long, value_name = "WHEN")]
    pub(crate) at: Option<String>,
    /// How many hours to look ahead.
    #[arg(long, default_value_t = HOURS, value_parser = within::<AdviceRequest>("hours"))]
    pub(crate) hours: u16,
}

/// The air as it is now, typed instead of read from files.
#[derive(Debug, Clone, Default, Args)]
pub(crate) struct TypedAir {
    /// Air temperature now, instead of readings: 24 is °C, 75F or "75 °F" is °F.
    #[arg(long, allow_hyphen_values = true, requires = "humidity")]
    pub(crate) temp: Option<String>,
    /// Relative humidity now, in percent: 60.
    #[arg(long, requires = "temp")]
    pub(crate) humidity: Option<String>,
    /// Air movement now: still, light, fan, breezy, windy, or m/s.
    #[arg(long, requires = "temp")]
    pub(crate) air: Option<String>,
}

/// Advise on each plant: feed, wait, water only, or leave alone; when, how strong, and why.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell advise --plant FH-007                          (in your folder)
  guardcell advise --dir demo-data --at 2026-06-21 --plant FH-007")]
pub(crate) struct Advise {
    #[command(flatten)]
    pub(crate) situation: Situation,
    /// Exit with 1 when no plant may be fed.
    #[arg(long)]
    pub(crate) check: bool,
}

/// Plan a round: one bucket, the order of the plants, every mister fill.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell round                                          (in your folder)
  guardcell round --temp 24 --humidity 60 --air fan --area shelf
  guardcell round --dir demo-data --at 2026-06-21 --why
  guardcell round --ics round.ics --alarm \"30 min\"
  guardcell round --collection plants.csv --label label.toml --site site.toml \\
      --conditions air.csv                                 (file by file)")]
pub(crate) struct Round {
    #[command(flatten)]
    pub(crate) situation: Situation,
    /// Also say why: the reasons of each group, the second-best hour, what is not known.
    #[arg(long)]
    pub(crate) why: bool,
    /// Also list the works that the reasons rest on.
    #[arg(long)]
    pub(crate) sources: bool,
    /// Exit with 1 when no plant may be fed.
    #[arg(long)]
    pub(crate) check: bool,
    #[command(flatten)]
    pub(crate) calendar: CalendarFile,
}

/// A calendar of what is planned.
#[derive(Debug, Args)]
pub(crate) struct CalendarFile {
    /// Write what is planned to this calendar file (iCalendar, RFC 5545). The same plan gives the
    /// same file, so that importing it again makes no duplicates.
    #[arg(long, value_name = "FILE")]
    pub(crate) ics: Option<PathBuf>,
    /// How long before each the calendar rings, at most a day; 0 for no alarm.
    #[arg(
        long,
        value_name = "TIME",
        default_value = "15 min",
        requires = "ics",
        allow_hyphen_values = true
    )]
    pub(crate) alarm: String,
}

/// Plan the soaks of a rootless plant, and see how it goes.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell rescue \"Cattleya labiata\" --area house        (in your folder, from today)
  guardcell rescue Phalaenopsis --dir demo-data --area shelf --from 2026-06-21 \\
      --days 28 --ics soaks.ics
  guardcell rescue Phalaenopsis --area shelf --days 180 --plant FH-015")]
pub(crate) struct Rescue {
    /// The name of the plant.
    pub(crate) name: String,
    /// What the leaf is like, for a name without a record.
    #[arg(long)]
    pub(crate) leaf: Option<String>,
    /// The site (TOML); that of the folder when not given.
    #[arg(long, value_name = "FILE")]
    pub(crate) site: Option<PathBuf>,
    /// The area of the site where the plant is; the first when not given.
    #[arg(long)]
    pub(crate) area: Option<String>,
    /// The first day; today when not given.
    #[arg(long, value_name = "DATE")]
    pub(crate) from: Option<String>,
    /// How many days to plan.
    #[arg(long, default_value_t = DAYS, value_parser = within::<RescueRequest>("days"))]
    pub(crate) days: u16,
    /// How long one soak lasts, at most 30 min.
    #[arg(long)]
    pub(crate) soak: Option<String>,
    /// Feed and plain water in turn, feed first.
    #[arg(long)]
    pub(crate) alternate: bool,
    #[command(flatten)]
    pub(crate) calendar: CalendarFile,
    /// Say which soaks this journal has, which were missed, and what was seen; that of the folder
    /// where --plant is given.
    #[arg(long, value_name = "FILE", requires = "plant")]
    pub(crate) journal: Option<PathBuf>,
    /// The id of the plant in the journal; also put into the calendar.
    #[arg(long, value_name = "ID")]
    pub(crate) plant: Option<String>,
    /// With a journal: the moment up to which soaks should have been done; a date is its end, now
    /// when not given.
    #[arg(long, value_name = "WHEN", requires = "plant")]
    pub(crate) at: Option<String>,
}

/// Moist air: dew point, wet bulb, vapour pressure deficit.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  guardcell air --temp 25 --humidity 50")]
pub(crate) struct Air {
    /// Air temperature: 24 is °C, 75F or "75 °F" is °F.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) temp: String,
    /// Relative humidity: 60 is %.
    #[arg(long)]
    pub(crate) humidity: String,
    /// Air pressure, a plain number in kPa; standard at sea level when not given.
    #[arg(long)]
    pub(crate) pressure: Option<String>,
}

/// One drying film: how long it stays wet, what it leaves.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  guardcell film --temp 20 --humidity 70 --air 0.5 --leaf \"5 cm\" --load \"100 g/m2\"")]
pub(crate) struct Film {
    /// Air temperature: 24 is °C, 75F or "75 °F" is °F.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) temp: String,
    /// Relative humidity: 60 is %.
    #[arg(long)]
    pub(crate) humidity: String,
    /// Air speed (0.5 is m/s) or a word: still, light, fan, breezy, windy.
    #[arg(long)]
    pub(crate) air: String,
    /// Width of the leaf in the direction of the air.
    #[arg(long, default_value = "5 cm")]
    pub(crate) leaf: String,
    /// Mass of solution on a unit of leaf.
    #[arg(long, default_value = "100 g/m2")]
    pub(crate) load: String,
    #[command(flatten)]
    pub(crate) feed: FeedArgs,
    /// The water report (TOML), a water of the folder by its name, or `pure`.
    #[arg(long, value_name = "FILE|NAME")]
    pub(crate) water: Option<PathBuf>,
    /// Feed strength, such as "300 mg/L feed".
    #[arg(long)]
    pub(crate) strength: Option<String>,
}

/// Sun, lamps and openings of one date.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  guardcell day --site demo-data/site.toml --date 2026-06-21")]
pub(crate) struct Day {
    /// The site (TOML); that of the folder when not given.
    #[arg(long, value_name = "FILE")]
    pub(crate) site: Option<PathBuf>,
    /// The area; the first when not given.
    #[arg(long)]
    pub(crate) area: Option<String>,
    /// The date; today when not given.
    #[arg(long)]
    pub(crate) date: Option<String>,
}

/// One analysed composition: pH, conductivity, species, saturation.
#[derive(Debug, Args)]
#[command(after_help = "The file holds one JSON object, or one a line (NDJSON):
  {\"ions_mmol_l\": {\"ca\": 1.5, \"dic\": 3, \"k\": 1, \"no3\": 1}, \"temp_c\": 20}")]
pub(crate) struct Solution {
    /// The file; `-` for standard input.
    pub(crate) file: PathBuf,
}

/// From a meter reading of a known product in a known water: feed strength and ppm N.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell meter \"0.45 mS/cm\" --label demo-data/labels/ --product Mist --water demo-data/water.toml
  guardcell meter \"225 ppm meter 500\" --label label.toml
  guardcell meter \"706 ppm\" --which-scale --reference \"1413 µS/cm\"
  guardcell meter \"225 ppm\" --which-scale --strength \"300 mg/L\" --label label.toml")]
pub(crate) struct Meter {
    /// What the meter shows: an EC, or ppm with its scale.
    pub(crate) reading: String,
    #[command(flatten)]
    pub(crate) feed: FeedArgs,
    /// The water report (TOML), a water of the folder by its name, or `pure`; that of the folder when
    /// not given, and pure water outside of one.
    #[arg(long, value_name = "FILE|NAME")]
    pub(crate) water: Option<PathBuf>,
    /// How far the meter may be off, in percent.
    #[arg(long, value_parser = percent_of_meter)]
    pub(crate) accuracy_percent: Option<f64>,
    /// Find out on which ppm scale the meter shows (500, 640 or 700): the reading is then the ppm it
    /// shows in a solution whose EC is known, by --reference or by --strength.
    #[arg(long)]
    pub(crate) which_scale: bool,
    /// With --which-scale: the EC of the solution at 25 °C, by a calibration solution or another
    /// meter; a plain number is mS/cm.
    #[arg(long, value_name = "EC", requires = "which_scale")]
    pub(crate) reference: Option<String>,
    /// With --which-scale: the feed strength that was weighed into the solution; its EC follows from
    /// label and water.
    #[arg(long, requires = "which_scale", conflicts_with = "reference")]
    pub(crate) strength: Option<String>,
}

/// How far a meter may be off, in the range that a reading declares.
fn percent_of_meter(text: &str) -> Result<f64, String> {
    let (low, high) = range_of::<MeterRequest>("accuracy_percent");
    match text.parse::<f64>() {
        Ok(v) if (low..=high).contains(&v) => Ok(v),
        _ => Err(format!("{text} is not in {low} to {high}")),
    }
}

/// How much acid brings a water to a pH or to an alkalinity, with the cautions.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  guardcell acid --water demo-data/tap.toml --acid phosphoric --strength-percent 75 \\
      --density-kg-l 1.58 --to \"60 mg/L CaCO3 alkalinity\" --volume \"20 L\"")]
pub(crate) struct Acid {
    /// The water report (TOML), or a water of the folder by its name; that of the folder when not
    /// given.
    #[arg(long, value_name = "FILE|NAME")]
    pub(crate) water: Option<PathBuf>,
    /// The acid: phosphoric, sulfuric, nitric or citric.
    #[arg(long)]
    pub(crate) acid: String,
    /// Its strength, percent by mass, as its label states it.
    #[arg(long)]
    pub(crate) strength_percent: f64,
    /// Its density in kg/L, for a liquid.
    #[arg(long)]
    pub(crate) density_kg_l: Option<f64>,
    /// What to reach: "pH 6.0", or an alkalinity left, such as "60 mg/L CaCO3 alkalinity".
    #[arg(long)]
    pub(crate) to: String,
    /// How much water.
    #[arg(long)]
    pub(crate) volume: String,
}

/// Which products may share a stock tank, how much goes in, and whether it stays dissolved.
#[derive(Debug, Args)]
#[command(after_help = "The file holds the labels with their amounts as JSON:
  {\"products\": [{\"label\": {…}, \"per_litre\": 0.4}], \"injector_n\": 100,
   \"convention\": \"one_to_n\", \"stock_l\": 10, \"coldest_c\": 8}")]
pub(crate) struct Tank {
    /// The request (JSON).
    pub(crate) file: PathBuf,
}

/// Draw the safe-strength chart of a mix, or the 24-hour ribbon of an area.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell chart strength --label demo-data/labels/ --product Mist --water demo-data/water.toml \\
      --temp \"22 °C\" --svg strength.svg
  guardcell chart day --dir demo-data --at 2026-06-21")]
pub(crate) struct Chart {
    #[command(subcommand)]
    pub(crate) kind: ChartKind,
}

#[derive(Debug, Subcommand)]
pub(crate) enum ChartKind {
    Strength(ChartStrength),
    Day(ChartDay),
}

/// The highest feed strength that leaves acceptable residue, by humidity and air movement.
#[derive(Debug, Args)]
pub(crate) struct ChartStrength {
    #[command(flatten)]
    pub(crate) feed: FeedArgs,
    /// The water report (TOML), a water of the folder by its name, or `pure`; that of the folder when
    /// not given, and pure water outside of one.
    #[arg(long, value_name = "FILE|NAME")]
    pub(crate) water: Option<PathBuf>,
    /// Air temperature.
    #[arg(long, default_value = "22 °C")]
    pub(crate) temp: String,
    /// The probability of visible residue that is accepted, 0.01 to 0.5.
    #[arg(long)]
    pub(crate) tolerance: Option<f64>,
    /// Write the picture to this file as SVG.
    #[arg(long, value_name = "FILE")]
    pub(crate) svg: Option<PathBuf>,
}

/// Light, humidity, openings and best windows of an area, 24 hours from --at.
#[derive(Debug, Args)]
pub(crate) struct ChartDay {
    #[command(flatten)]
    pub(crate) inputs: Inputs,
    /// The area; the first of the site when not given.
    #[arg(long)]
    pub(crate) area: Option<String>,
    /// Write the picture to this file as SVG.
    #[arg(long, value_name = "FILE")]
    pub(crate) svg: Option<PathBuf>,
}

/// Write a man page to standard output: of the program, or of one verb.
#[derive(Debug, Args)]
pub(crate) struct Man {
    /// The verb; the program as a whole when not given.
    pub(crate) page: Option<String>,
}

/// Write shell completions to standard output.
#[derive(Debug, Args)]
pub(crate) struct Completions {
    /// The shell.
    pub(crate) shell: clap_complete::Shell,
}

/// Answer over HTTP and serve the page, on this machine only unless --public is given.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell serve
  guardcell serve --bind 127.0.0.1:9000 --log json
  guardcell serve --bind 0.0.0.0:8427 --public --tls-cert house.pem --tls-key house.key

In a folder with a site.toml it offers that folder and its journal to paired devices (`guardcell
pair`); without one nothing is stored. Calculations need no password. Without --tls-cert there is no
encryption: give a certificate, or put a proxy with TLS in front of a public server. GUARDCELL_LOG
sets the level of the log (error, warn, info, debug).")]
pub(crate) struct Serve {
    /// The address and port; port 0 takes a free one.
    #[arg(long, default_value = "127.0.0.1:8427", value_name = "ADDRESS:PORT")]
    pub(crate) bind: std::net::SocketAddr,
    /// Allow an address that other machines reach.
    #[arg(long)]
    pub(crate) public: bool,
    /// A host name to answer for beside localhost, such as the one a proxy passes on.
    #[arg(long, value_name = "NAME")]
    pub(crate) host: Vec<String>,
    /// The certificate of the server and those it is signed with (PEM): https instead of http.
    #[arg(long, value_name = "FILE", requires = "tls_key")]
    pub(crate) tls_cert: Option<PathBuf>,
    /// The private key of the certificate (PEM).
    #[arg(long, value_name = "FILE", requires = "tls_cert")]
    pub(crate) tls_key: Option<PathBuf>,
    /// An address whose pages may ask for the folder and its journal beside those of this server, such
    /// as https://house.example.org; it may be given several times.
    #[arg(long, value_name = "URL")]
    pub(crate) origin: Vec<String>,
    /// An address whose pages may ask for calculations, and never for the folder, its journal or
    /// pairing; it may be given several times.
    #[arg(long, value_name = "URL")]
    pub(crate) allow_origin: Vec<String>,
    /// The form of the log on standard error.
    #[arg(long, value_enum, default_value_t = Log::Text)]
    pub(crate) log: Log,
    /// The largest body of a request, MiB.
    #[arg(long, value_parser = clap::value_parser!(u8).range(1..))]
    pub(crate) body_mib: Option<u8>,
    /// Requests in work at once; more are refused with `busy`.
    #[arg(long, value_parser = clap::value_parser!(u16).range(1..))]
    pub(crate) in_flight: Option<u16>,
    /// Connections at once.
    #[arg(long, value_parser = clap::value_parser!(u16).range(1..))]
    pub(crate) connections: Option<u16>,
    /// How long requests in work may take to finish when the server stops, in seconds.
    #[arg(long)]
    pub(crate) grace_s: Option<u16>,
    /// The engine with which the page calculates on the device: the folder that
    /// `cargo xtask wasm --output DIR` wrote; the one that was compiled in when not given.
    #[arg(long, value_name = "DIR")]
    pub(crate) engine: Option<PathBuf>,
}

/// Write the page as a static site: any server of files can send it, and it needs no other.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  guardcell page --output site

The page calculates on the device, can be installed, and works without a connection after the first
visit (over https, or from this machine). A folder is replaced only if it holds
nothing but an earlier page.")]
pub(crate) struct Page {
    /// The folder to write.
    #[arg(long, value_name = "DIR")]
    pub(crate) output: PathBuf,
    /// The engine: the folder that `cargo xtask wasm --output DIR` wrote; the one that was compiled in
    /// when not given.
    #[arg(long, value_name = "DIR")]
    pub(crate) engine: Option<PathBuf>,
}

/// Serve assistants: every call is a tool of the Model Context Protocol, on standard input and output.
#[cfg(feature = "mcp")]
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell mcp                                            (in your folder)
  guardcell mcp --dir demo-data
  guardcell mcp --journal journal.db

A client starts the command and asks it. The files of your folder and the last entries of its
journal can be read; nothing is written unless --journal is given.")]
pub(crate) struct Mcp {
    /// Let the client record entries in this journal, which is started if it is missing.
    #[arg(long, value_name = "FILE")]
    pub(crate) journal: Option<PathBuf>,
}

/// The form of the log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Log {
    /// No log.
    None,
    /// For people.
    Text,
    /// One JSON object a line.
    Json,
}
