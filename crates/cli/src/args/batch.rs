//! The flags of `batch`.

use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, ValueEnum};
use guardcell::calls::{self, AnyCall};
use std::num::{NonZeroU16, NonZeroU64};
use std::path::PathBuf;

/// Answer every row of a file with one function, in order, on all cores.
///
/// NDJSON: each line is the request of the function as in `schemas/`, each line of the output its
/// answer. A row that cannot be answered is `null` there, so that line n answers row n.
///
/// CSV, Arrow and Parquet: the columns are named like the fields of the request, nested ones with points
/// (`composition.ca_mmol_l`); a list or an object is written as JSON. Other columns are passed
/// along. The output is the columns of the input and those of the answer. A row that cannot be
/// answered is omitted from CSV and has nulls in Arrow and Parquet; the file of errors has it with
/// row, line, what was wrong, what would be right, and the row itself. In Arrow and Parquet a column
/// `request` may hold whole requests as JSON instead.
///
/// The name of the input says how rows are written, that of the output how answers are: a table of
/// CSV may be answered in Parquet, or lines of NDJSON in columns. Answers in Arrow and Parquet have
/// the types of the schemas.
///
/// Rows are answered on this machine, whatever --server says.
#[derive(Debug, Args)]
#[command(after_help = "Columns that CSV needs, and those it may have:
  convert   quantity, to; bulk_density, ec_compensation, ec_percent_per_k, ppm_means
  air       temp_c, rh_percent; pressure_kpa
  film      temp_c, rh_percent; air_m_s or air_words, leaf_cm, load_g_m2, composition.ca_mmol_l, …
  genus     query; leaf
  solution  ions_mmol_l.ca, … or ions_mg_l.ca, …, temp_c; ph, co2
  day       date and the place (latitude_deg, longitude_deg, time_zone, outdoors); light, …
  water     water.name, water.ions_mg_l.ca, …
  meter     reading.ec_us_cm (or reading.ppm500, …); with --label, --water
  acid      acid, strength_percent, target.ph or target.alkalinity_mg_l_caco3, volume_l;
            with --water
  advise    at, plant.id, plant.name, plant.area, plant.setting, plant.standing, reading.temp_c,
            reading.rh_percent; hours, plant.…, reading.…; with --site, --label, --water
  rescue    name, from; area, days, leaf, soak_min; with --site
The other functions (recipe, tank, round, search, catalogue, strength_chart, day_ribbon, threshold,
review, ledger, adherence, entry) take NDJSON: their requests are no flat rows.


As columns in Arrow and Parquet they answer a column `request`.

Exit codes: 0 every row answered, 2 some rows could not be (the output is complete, the others
are in the file of errors) or bad input, 3 reading or writing failed.

Until the run is complete, its output is OUTPUT.part, with OUTPUT.state beside it. A run that was
broken off goes on with --resume, to the same bytes.

Examples:
  guardcell batch convert --input lab.csv --output lab-in-ppm.csv
  guardcell batch advise --input shelf.csv --output advice.csv --site demo-data/site.toml \\
      --label demo-data/labels/ --product Mist --water demo-data/water.toml
  guardcell batch film --input films.ndjson --output answers.ndjson --resume")]
pub(crate) struct Batch {
    /// The function that answers each row.
    #[arg(value_parser = functions(), hide_possible_values = true)]
    pub(crate) function: &'static AnyCall,
    /// The rows; `-` for standard input.
    #[arg(long, value_name = "FILE")]
    pub(crate) input: PathBuf,
    /// Where the answers go; it appears when the run is complete.
    #[arg(long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// Where the rows go that could not be answered; beside the output when not given.
    #[arg(long, value_name = "FILE")]
    pub(crate) errors: Option<PathBuf>,
    /// The format of rows, and of answers where the name of the output does not say theirs; by the
    /// name of the input when not given.
    #[arg(long, value_enum)]
    pub(crate) format: Option<BatchFormat>,
    /// For CSV, Arrow and Parquet: which columns of the answer to write, separated by commas, such
    /// as "value,unit,from.value"; "." is the whole as JSON in Arrow and Parquet.
    #[arg(long, value_name = "COLUMNS", value_delimiter = ',')]
    pub(crate) columns: Vec<String>,
    /// For CSV: write for a spreadsheet, with an apostrophe before every text that it would run as
    /// a formula; in the file of errors too.
    #[arg(long)]
    pub(crate) spreadsheet: bool,
    /// Go on with a run that was broken off.
    #[arg(long)]
    pub(crate) resume: bool,
    /// How many rows may be in work at once, as threads; all cores when not given.
    #[arg(long, value_name = "THREADS")]
    pub(crate) jobs: Option<NonZeroU16>,
    /// No bar and no summary.
    #[arg(long)]
    pub(crate) quiet: bool,
    /// After how many rows, at the latest, the place to resume from is kept on disk.
    #[arg(long, value_name = "ROWS", default_value = "1000000")]
    pub(crate) checkpoint: NonZeroU64,
    /// For rows of a table of meter, acid, advise: the label of the feed.
    #[arg(long, value_name = "FILE|FOLDER")]
    pub(crate) label: Option<PathBuf>,
    /// Which product, where there are several labels.
    #[arg(long, value_name = "NAME")]
    pub(crate) product: Vec<String>,
    /// For rows of a table of meter, acid, advise: the water report (TOML).
    #[arg(long, value_name = "FILE")]
    pub(crate) water: Option<PathBuf>,
    /// For rows of a table of advise, rescue: the site (TOML).
    #[arg(long, value_name = "FILE")]
    pub(crate) site: Option<PathBuf>,
}

/// Every call of the registry, by its name.
fn functions() -> impl TypedValueParser<Value = &'static AnyCall> {
    PossibleValuesParser::new(calls::ALL.iter().map(AnyCall::name))
        .try_map(|name| calls::find(&name).ok_or("unknown function"))
}

/// How rows and answers are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum BatchFormat {
    /// A table with a header.
    Csv,
    /// One JSON object a line.
    Ndjson,
    /// Arrow IPC: a file, or a stream where it is standard input or output.
    #[cfg(feature = "tables")]
    Arrow,
    /// Parquet.
    #[cfg(feature = "tables")]
    Parquet,
}

impl BatchFormat {
    /// Every format.
    pub(crate) const ALL: &[Self] = &[
        Self::Csv,
        Self::Ndjson,
        #[cfg(feature = "tables")]
        Self::Arrow,
        #[cfg(feature = "tables")]
        Self::Parquet,
    ];

    /// The usual ending of a file.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Csv => "csv",
            Self::Ndjson => "ndjson",
            #[cfg(feature = "tables")]
            Self::Arrow => "arrow",
            #[cfg(feature = "tables")]
            Self::Parquet => "parquet",
        }
    }

    /// Whether rows are lines of text.
    pub(crate) const fn is_text(self) -> bool {
        matches!(self, Self::Csv | Self::Ndjson)
    }

    /// Whether answers are gathered in one form and packed into another.
    pub(crate) const fn packs(self) -> bool {
        !self.is_text()
    }

    /// Whether the end of a file has to be known before its beginning can be read.
    pub(crate) const fn needs_a_file(self) -> bool {
        match self {
            #[cfg(feature = "tables")]
            Self::Parquet => true,
            _ => false,
        }
    }
}
